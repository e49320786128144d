"""The workshop: every tool reached from the list of teardowns, with nothing in hand, and kept over a kill."""

from pathlib import Path
from typing import Any

import pytest
from screens import touch
from screens.phones import on_phones
from screens.shop_hand import AtTheBench

from mobileapp.screens.workshop import TOOLS

PHONES = {
    "large": {"density": 1.0, "font_scale": 1.0},
    "large letters": {"density": 1.0, "font_scale": 1.5},
    "small": {"density": 1.0, "font_scale": 1.0, "wide_mm": 57, "high_mm": 114},
}


def test_every_tool_is_reached_without_a_teardown(kivy_window: Any, tmp_path: Path) -> None:
    work = AtTheBench(tmp_path)
    work.put_down()
    work.tap(text="Workshop")
    assert work.name == "workshop"
    assert work.says("No teardown in hand")
    for words, _, _, screen in TOOLS:
        work.tap(text=words)
        work.waits()
        assert work.name == screen
        assert work.desk.service is None
        work.back()
    assert work.name == "workshop"


def test_a_killed_app_comes_back_to_the_tool_with_its_answer(kivy_window: Any, tmp_path: Path) -> None:
    work = AtTheBench(tmp_path)
    work.put_down()
    work.opens("torque")
    work.fills(Fastener="M8x25 8.8")
    work.types("Maker's figure, with its unit", "24 N.m")
    work.act()
    assert work.says("Plausible")
    work.kill_and_start()
    touch.settle()
    assert work.name == "torque"
    assert work.says("Plausible")


@pytest.mark.parametrize("kind", on_phones("large letters", PHONES))
def test_every_tool_fits_its_phone(kivy_window: Any, tmp_path: Path, kind: str) -> None:
    touch.phone(**PHONES[kind])
    work = AtTheBench(tmp_path)
    shown = [("workshop", {}), *((screen, {}) for _, _, _, screen in TOOLS), ("pieces", {"form": "alone"}),
             ("order", {"closure": "inlet-manifold"}), ("whereabouts", {"form": "alone"})]  # fmt: skip
    faults = []
    for screen, args in shown:
        work.opens(screen, **args)
        faults += [f"{screen}: {fault}" for fault in touch.faults(work.shell)]
    assert faults == []
