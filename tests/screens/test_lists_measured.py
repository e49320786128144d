"""The list, the start, the cautions, the board, a closure and the people on three phones: nothing clipped, nothing
too small or too close for a glove, every text seven to one."""

from pathlib import Path
from typing import Any

import pytest
from screens import touch
from screens.at_the_desk import Hands, Phone
from screens.phones import on_phones

PHONES = {
    "large": {"density": 1.0, "font_scale": 1.0},
    "large letters": {"density": 2.0, "font_scale": 1.5},
    "small": {"density": 1.0, "font_scale": 1.0, "wide_mm": 57, "high_mm": 114},
}
SCREENS = {
    "board": {}, "closure": {"closure": "inlet-manifold"}, "people": {}, "cautions": {}, "teardowns": {},
    "start": {}, "trouble": {"words": "The storage is full, so nothing was recorded in journal.sqlite. Free space."},
}


@pytest.mark.parametrize("phone_kind", on_phones("large letters", PHONES))
def test_every_screen_fits_its_phone(kivy_window: Any, tmp_path: Path, phone_kind: str) -> None:
    touch.phone(**PHONES[phone_kind])
    phone = Phone(tmp_path)
    phone.begin("inlet-manifold-inline-four", "Harbour workboat, port engine")
    Hands(phone).until("cover", 3)
    faults = []
    for name, args in SCREENS.items():
        _show(phone, name, args)
        faults += [f"{name}: {fault}" for fault in touch.faults(phone.shell)]
    assert faults == []


def _show(phone: Phone, name: str, args: dict[str, Any]) -> None:
    if name == "teardowns":
        phone.desk.to_teardowns()
        touch.show(phone.shell)
    elif name == "start":
        phone.desk.go("start")
        touch.settle()
    else:
        phone.go(name, **args)
