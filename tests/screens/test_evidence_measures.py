"""Gloves and eyes on the screens of evidence: sizes, distances, nothing clipped or broken, at two sizes of letters."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from photos.photo_maker import jpeg, scene
from screens import touch
from screens.at_the_desk import ADA, JONAS
from screens.at_work import NUT
from screens.phones import on_phones
from screens.photo_work import PhotoWork
from searched_twice import searched_twice

from checklists import builders, places
from checklists.facts import FindLogged, HandedOver

SCREENS: list[tuple[str, dict[str, Any]]] = [
    ("board", {}), ("handover", {}), ("leaving", {}), ("people", {}), ("find", {"find": "f1"}),
    ("match_find", {"find": "f1"}), ("baseline", {}), ("photo_view", {}), ("closing_sheet", {}),
    ("closing_sheet", {"section": 3}), ("sheet_preview", {}), ("packs", {}), ("unclaimed", {}),
]  # fmt: skip


@pytest.fixture
def work(tmp_path: Path) -> PhotoWork:
    """A job with something of everything. It is shown by the tests, once the phone has its size."""
    work = PhotoWork(tmp_path)
    work.opens_the_ports()
    work.does(builders.drop(work.state, NUT, 2, "over the ports", places.TRAY))
    work.does(FindLogged("f1", "A nut, by its shine", "port-2", work.keeps("find:f1", "before", "lies.png")))
    work.keeps("opening:inlet-1", "closeout", "port.png")
    torn = jpeg(scene(640, 480))
    torn = torn[: len(torn) // 2] + bytes(600) + torn[len(torn) // 2 + 600 :]
    work.store.keep(torn, "2026-03-02T07:45:00.000+01:00")
    return work


PHONES = {"small phone": (2.0, 1.0, 57.2, 114.3), "large letters": (2.0, 1.5, 65, 131)}


@pytest.mark.parametrize("kind", on_phones("large letters", PHONES))
def test_every_part_suits_a_glove_and_every_text_its_place(kivy_window: Any, work: PhotoWork, kind: str) -> None:
    """20 mm at least, 6 mm apart, 13 mm round what takes back; text wraps between words and fits."""
    touch.phone(*PHONES[kind])
    faults: list[Any] = []
    for name, args in SCREENS:
        work.shows(name, **args)
        work.wait()
        faults += found(f"{name} {args}", work)
    for fact, who in searched_twice(work.state, ADA.name, JONAS.name):
        work.does(fact, who)
    work.shows("sign_off", what="release", draft={"step": 2})
    work.wait()
    faults += found("released", work)
    work.shows("photo_view", sha=next(iter(work.state.photos)))
    work.wait()
    faults += found("one photo", work)
    (orphan,) = work.store.orphans(set(work.state.photos))
    work.shows("unclaimed", path=str(orphan.path))
    work.wait()
    faults += found("a photo of nothing yet", work)
    work.covers_all()
    work.does(HandedOver(JONAS.name, "half cleaned", ()))
    work.shows("handover")
    faults += found("handing over", work)
    work.let_go()
    assert faults == []


def found(where: str, work: PhotoWork) -> list[Any]:
    """What is wrong on the screen."""
    assert touch.measure_targets(work.screen), where
    return [(where, fault) for fault in touch.faults(work.screen)]
