"""Every screen of counting, measured on the rendered window: glove-sized, apart, nothing clipped, contrast 7:1."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from screens import touch
from screens.blind_hand import walks
from screens.counting_phone import CountingPhone
from screens.phones import on_phones

from checklists import places

MANIFOLD, BOLTS = "inlet-manifold", "inlet-manifold.bolt-m8"


def change_line(phone: CountingPhone) -> None:
    phone.until("count out", BOLTS)
    phone.go("change_line", line=BOLTS, source=places.fitted(MANIFOLD), target=places.TRAY)


def short(phone: CountingPhone) -> None:
    phone.until("count out", BOLTS)
    phone.go("short", line=BOLTS)


def lift(phone: CountingPhone) -> None:
    phone.until("count out", "inlet-manifold.nut")
    phone.go("lift", closure=MANIFOLD)


def photos(phone: CountingPhone) -> None:
    phone.take_photo("a-rather-long-name-of-a-photo-20260302-081530.jpg")
    lift(phone)
    phone.tap(has="Photo")


def openings(phone: CountingPhone) -> None:
    phone.hands.do(phone.until("lift", closure=MANIFOLD))
    phone.go("openings", opening=phone.until("cover").opening)


def covered(phone: CountingPhone) -> None:
    openings(phone)
    phone.act()


def look(phone: CountingPhone) -> None:
    phone.go("look", opening=phone.until("look").opening)


def second_count(phone: CountingPhone) -> None:
    phone.go("second_count", closure=phone.until("second count", closure=MANIFOLD).closure)


def blind_pad(phone: CountingPhone) -> None:
    blind_spots(phone)
    walks(phone, {}, until=1)
    phone.tap("M8 x 45 flange bolt")
    phone.tap_pad(3)


def blind_spots(phone: CountingPhone) -> None:
    second_count(phone)
    phone.act()
    phone.act()


def blind_lines(phone: CountingPhone) -> None:
    blind_pad(phone)
    phone.act()


def differs(phone: CountingPhone) -> None:
    blind_lines(phone)
    phone.act()
    walks(phone, {(BOLTS, places.FLOOR): 1})
    assert phone.desk.draft["step"] == "result"


def recount(phone: CountingPhone) -> None:
    phone.until("work done")
    phone.go("recount", line=BOLTS, place=places.TRAY)
    phone.tap_pad(1)
    phone.act()


SCREENS = [
    change_line,
    short,
    lift,
    photos,
    openings,
    covered,
    look,
    second_count,
    blind_spots,
    blind_lines,
    blind_pad,
    differs,
    recount,
]
PHONES = {"large letters": (2.0, 1.5, 65, 131), "small phone": (1.6, 1.0, 57, 114)}


@pytest.mark.parametrize("size", on_phones("large letters", PHONES))
@pytest.mark.parametrize("go", SCREENS, ids=lambda go: go.__name__)
def test_it_fits(go: Callable[[CountingPhone], None], size: str, tmp_path: Path, kivy_window: Any) -> None:
    touch.phone(*PHONES[size])
    phone = CountingPhone(tmp_path)
    phone.begin("inlet-manifold-inline-four")
    go(phone)
    touch.settle()
    assert touch.faults(phone.shell) == []
