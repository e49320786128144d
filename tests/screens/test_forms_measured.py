"""Nothing is clipped, broken, too small or too close, whatever the phone and its font scale."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from screens import touch
from screens.at_the_desk import ADA, JONAS
from screens.at_work import BOLT, MANIFOLD, NUT, AtWork
from screens.phones import on_phones
from searched_twice import searched_twice

from checklists import builders, places
from checklists.facts import FindLogged

LAST_STEP = {"step": 2, "reason": "The lock shuts", "search": "Bilge, twice", "name": "Ada Berg"}
AT_TROUBLE: list[tuple[str, dict[str, Any]]] = [
    ("refusal", {"about": "closure", "closure": MANIFOLD}),
    ("refusal", {"about": "close"}),
    ("search", {"line": NUT, "where": "port-2", "draft": {"result": "found"}}),
    ("search", {"line": NUT, "draft": {"result": "not reached"}}),
    ("sign_off", {"what": "release"}),
    ("drop", {}),
    ("drop", {"line": BOLT, "source": places.TRAY}),
    ("drop", {"line": NUT, "source": places.TRAY, "logged": 1}),
    ("missing", {}),
    ("missing", {"form": "miss"}),
    ("missing", {"form": "found", "line": NUT}),
    ("find", {}),
    ("find", {"form": "log"}),
    ("find", {"find": "find-1"}),
    ("items", {}),
    ("items", {"group": "covers"}),
    ("items", {"line": "rag"}),
    ("items", {"line": "mirror", "do": "break"}),
    ("items", {"line": BOLT, "do": "renew"}),
    ("items", {"line": "rag", "do": "into"}),
    ("items", {"line": BOLT, "do": "add"}),
    ("grow", {"closure": MANIFOLD}),
    *[("grow", {"form": form}) for form in ("closure", "opening", "space", "passage", "line", "caution")],
]


PHONES = {"large": (1.0, 1.0, 65, 131), "large letters": (2.0, 1.5, 65, 131), "small": (2.0, 1.0, 57, 114)}


@pytest.mark.parametrize("kind", on_phones("large letters", PHONES))
def test_every_form_fits_its_phone(kivy_window, tmp_path: Path, kind: str):
    touch.phone(*PHONES[kind])
    work = AtWork(tmp_path)
    work.hands.do(work.works_until("lift", MANIFOLD))
    work.works_until("cover")
    work.does(builders.cover(work.state, "inlet-1", "port-cap"))
    work.does(FindLogged("find-1", "Old washer, rusty", "port-3", "photos/washer.jpg"))
    work.does(builders.drop(work.state, NUT, 1, "beside port 2", places.TRAY))
    work.shows("board")
    found = []
    for name, args in AT_TROUBLE:
        work.desk.trail[1:] = [("board", {}), (name, args)]
        work.desk.again()
        touch.settle(6)
        found += [f"{name} {args}: {fault}" for fault in touch.faults(work.screen)]
    for fact, who in searched_twice(work.state, ADA.name, JONAS.name):
        work.does(fact, who)
    for args in ({}, {"draft": LAST_STEP}):
        work.shows("sign_off", what="release", **args)
        touch.settle(6)
        found += [f"release {args}: {fault}" for fault in touch.faults(work.screen)]
    assert found == []
