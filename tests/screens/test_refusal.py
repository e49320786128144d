"""The refusal: an unmistakable NO, every reason with its mending, judged anew each time, and no way past it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from screens import touch
from screens.at_the_desk import ADA
from screens.at_work import BOLT, MANIFOLD, NUT, AtWork

from checklists import builders, places
from checklists.facts import FindLogged, FindRemoved
from checklists.times import seconds_after
from mobileapp.screens.refusal_view import Verdict
from mobileapp.widgets.row import ReasonRow
from mobileapp.widgets.tappable import Tappable


@pytest.fixture
def work(kivy_window: Any, tmp_path: Path) -> AtWork:
    return AtWork(tmp_path)


@pytest.fixture
def trouble(work: AtWork) -> AtWork:
    """The manifold is off; a nut is missing, a rag and a cap are in, a washer was found."""
    work.works_until("lift", MANIFOLD)
    work.hands.do(work.works_until("lift", MANIFOLD))
    work.works_until("cover")
    work.does(builders.cover(work.state, "inlet-1", "port-cap"))
    work.does(FindLogged("find-1", "Old washer", "port-3", "photos/washer.jpg"))
    work.does(builders.move("rag", 1, places.STORES, places.inside("port-2")))
    work.does(builders.drop(work.state, NUT, 1, "beside port 2", places.TRAY))
    return work


def rows(work: AtWork) -> list[ReasonRow]:
    return touch.find_all(work.screen, cls=ReasonRow)


def test_it_says_no_and_names_every_reason_the_most_critical_first(trouble):
    trouble.shows("refusal", about="closure", closure=MANIFOLD)
    plate = touch.find(trouble.screen, cls=Verdict)
    assert (plate.word, plate.shape, plate.tone) == ("NO", "refused", "yellow")
    assert plate.what == "Not cleared: Inlet manifold"
    assert trouble.says(f"{len(rows(trouble))} reasons")
    told = [row.what for row in rows(trouble)]
    assert told[0].startswith("1 M8 flange nut dropped, beside port 2; last in the tray.")
    assert "rag" in told[1]
    assert "port cap" in " ".join(told[2:5])
    assert "Old washer" in " ".join(told[3:6])
    assert [row.number for row in rows(trouble)] == [str(n) for n in range(1, len(told) + 1)]
    assert all(row.do_next for row in rows(trouble))
    assert sum("looked into" in words for words in told) == 4
    assert (rows(trouble)[0].where, rows(trouble)[0].who) == ("", ADA.name), "the reason says already where last"
    assert rows(trouble)[0].since.startswith("08:0")


def test_it_can_be_read_in_sunlight(trouble):
    touch.phone(density=2.625)
    trouble.shows("refusal", about="closure", closure=MANIFOLD)
    shown = [label for label in touch.labels(trouble.screen) if touch.in_view(label)]
    pixels = touch.shot()
    assert {"NO", "Not cleared: Inlet manifold"} <= {label.text for label in shown}
    assert [label.text for label in shown if touch.text_contrast(label, pixels) < 7] == []


def test_each_reason_leads_to_where_it_is_put_right(trouble):
    led = {}
    for has in ("flange nut dropped", "1 rag", "port cap", "Old washer", "second count"):
        trouble.shows("refusal", about="closure", closure=MANIFOLD)
        touch.tap(next(row for row in rows(trouble) if has in row.what))
        led[has] = trouble.name
    assert led == {
        "flange nut dropped": "whereabouts", "1 rag": "count_pad", "port cap": "openings", "Old washer": "find",
        "second count": "second_count",
    }  # fmt: skip


def test_there_is_nothing_to_press_but_reasons_the_first_ones_mending_the_way_back_and_the_drop_key(trouble):
    trouble.shows("refusal", about="closure", closure=MANIFOLD)
    keys = [w for w in touch.visible(trouble.screen) if isinstance(w, Tappable) and w.width and not w.disabled]
    others = [touch.words_of(key) for key in keys if not isinstance(key, ReasonRow)]
    assert others == ["", "Log a drop", "Put the first right"]
    before = len(trouble.entries)
    trouble.act()
    assert (trouble.name, trouble.desk.trail[-1][1]["line"]) == ("whereabouts", NUT)
    assert len(trouble.entries) == before


def test_what_was_only_asked_was_not_refused(trouble):
    trouble.shows("refusal", about="closure", closure=MANIFOLD)
    assert trouble.screen.title == "What stands against it"
    trouble.shows("board")
    assert not trouble.desk.record(builders.clear_to_refit(trouble.state, MANIFOLD, trouble.desk.work.head))
    touch.settle()
    assert trouble.screen.title == "Refused"


def test_with_large_letters_the_first_reason_is_in_sight(work):
    touch.phone(2.625, 1.5, 65, 131)
    work.works_until("lift", MANIFOLD)
    work.hands.do(work.works_until("lift", MANIFOLD))
    work.works_until("cover")
    work.does(builders.move("rag", 1, places.STORES, places.inside("port-2")))
    work.shows("refusal", about="closure", closure=MANIFOLD)
    first = rows(work)[0]
    assert first.what in [label.text for label in touch.labels(first) if touch.in_view(label)]


def test_put_right_it_says_so_and_leads_on_to_the_signature(trouble):
    trouble.shows("refusal", about="closure", closure=MANIFOLD)
    trouble.does(builders.find_again(trouble.state, NUT, 1, "under the starter"))
    trouble.does(FindRemoved("find-1", "magnet", "photos/after.jpg", "labelled bag"))
    trouble.works_until("clear", MANIFOLD)
    trouble.desk.again()
    assert touch.find(trouble.screen, cls=Verdict).what == "Can be cleared: Inlet manifold"
    assert trouble.says("Nothing stands against it any more")
    touch.settle()
    trouble.act()
    assert (trouble.name, trouble.screen.what, trouble.screen.closure) == ("sign_off", "clear", MANIFOLD)


def test_one_bolt_too_many_is_offered_as_a_find(work):
    work.works_until("sign", MANIFOLD)
    work.shows("board")
    assert not work.desk.record(builders.move(BOLT, 1, places.TRAY, places.fitted(MANIFOLD)))
    touch.settle()
    assert work.name == "refusal"
    assert work.says("Not counted back: 1 M8 x 45 flange bolt")
    assert work.screen.act_text == "Log the extra one as a find"
    work.act()
    assert work.name == "find"
    assert work.fields("What it seems to be")[0].text == "M8 x 45 flange bolt"


def test_a_refused_count_is_done_once_its_reason_is_gone(work):
    work.works_until("lift", MANIFOLD)
    work.hands.do(work.works_until("lift", MANIFOLD))
    work.works_until("cover")
    work.does(builders.cover(work.state, "inlet-1", "port-cap"))
    work.shows("openings")
    assert not work.desk.record(builders.cover(work.state, "inlet-1", "rag"))
    touch.settle()
    assert work.says("Not covered: Inlet port 1 at the head")
    work.does(builders.uncover(work.state, "inlet-1"))
    work.desk.again()
    touch.settle()
    assert work.screen.act_text == "Do it now"
    work.act()
    assert work.name == "openings"
    assert work.last == builders.cover(work.state, "inlet-1", "rag")


def test_a_pause_that_is_over_is_no_reason_any_more(kivy_window, tmp_path):
    work = AtWork(tmp_path, people=(ADA,))
    act = work.works_until("wait", MANIFOLD)
    numbers = [1 for _ in range(40)]
    from checklists import second_count

    pairs = second_count.count_list(work.state, MANIFOLD)
    work.shows("board")
    assert not work.desk.record(builders.second_counted(work.state, MANIFOLD, numbers[: len(pairs)]))
    touch.settle()
    assert work.says("Alone, look again after a pause")
    work.now = seconds_after(act.until, 1)
    work.screen.tick()
    touch.settle()
    assert work.says("Nothing stands against it any more")
    assert work.screen.act_text == "Do it again from the start"
    before = len(work.entries)
    work.act()
    assert len(work.entries) == before, "what was counted before the pause must not pass as a count after it"


def test_a_killed_app_comes_back_to_the_refusal(trouble):
    assert not trouble.desk.record(builders.clear_to_refit(trouble.state, MANIFOLD, trouble.desk.work.head))
    trouble.kill_and_start()
    assert trouble.name == "refusal"
    assert trouble.says("Not cleared: Inlet manifold")


def test_what_is_missing_but_cannot_be_in_there_is_told_with_the_reasons(work):
    """A nut fell before anything was open: it is not home, but it is not in there either, and it is said why."""
    work.does(builders.drop(work.state, NUT, 1, "beside the bench", places.fitted(MANIFOLD)))
    touch.phone(density=2.625, font_scale=1.5)
    work.shows("refusal", about="closure", closure=MANIFOLD)
    assert work.says("but not in here: no way in stood uncovered as it fell or after.")
    assert touch.faults(work.shell) == []
