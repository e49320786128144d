"""The key that says how many photos belong to nothing yet, and leads to them."""

from __future__ import annotations

from mobileapp.desk import Desk
from mobileapp.widgets.plate import QuietButton


def unclaimed_key(desk: Desk, number: int) -> QuietButton:
    """For the board and the list of teardowns, where there are any."""
    words = "1 photo belongs to nothing yet" if number == 1 else f"{number} photos belong to nothing yet"
    key = QuietButton(tone="yellow", text=words, note="say what they show" if number > 1 else "say what it shows",
                      shape="look")  # fmt: skip
    key.bind(on_tap=lambda _: desk.go("unclaimed"))
    return key
