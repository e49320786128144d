"""A hand that counts blind: from place to place, touching only what it sees lie there."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from screens import touch

from checklists.times import seconds_after
from checklists.words import sentence
from mobileapp.widgets.count_pad import TapArea


def walks(phone: Any, lies: Mapping[tuple[str, str], int], until: int = 99) -> int:
    """Count what lies where, by (line, place), up to so many places; each is ended by its statement. How many taps."""
    taps, left, screen = 0, dict(lies), phone.screen
    while phone.desk.draft.get("step") == "count" and phone.desk.draft["stop"] < until:
        stop = screen.stops()[phone.desk.draft["stop"]]
        for spot in stop.spots:
            here = {line: number for (line, place), number in left.items() if place == spot and number}
            if here and len(stop.spots) > 1:
                taps += _touches(phone, sentence(phone.desk.state.say_place(spot)))
            for line, number in here.items():
                taps += _touches(phone, phone.desk.state.lines[line].name)
                for _ in range(number):
                    touch.tap(touch.find(screen, cls=TapArea), frames=2)
                assert screen.act_text == f"{number} here"
                taps += number + _key(phone)
                left.pop((line, spot))
            if here and len(stop.spots) > 1:
                taps += _key(phone)
        taps += _key(phone)
    assert until < 99 or not any(left.values()), f"never came to {left}"
    return taps


def _touches(phone: Any, words: str) -> int:
    """Touch a row, after those that show more of the list; how many taps."""
    taps = 1
    while not touch.find_all(phone.screen, words):
        more = next(text for text in phone.texts() if text.endswith(" more"))
        phone.tap(more)
        taps += 1
    phone.tap(words)
    return taps


def _key(phone: Any) -> int:
    phone.now = seconds_after(phone.now, 1)
    phone.act()
    return 1
