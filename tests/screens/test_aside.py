"""What takes a while is done on a thread of its own; what came of it is said between two frames."""

from __future__ import annotations

import threading
from pathlib import Path
from typing import Any

import pytest
from screens import touch

from mobileapp.screens.aside import finish, work_aside

pytestmark = pytest.mark.usefixtures("kivy_window")


def test_the_work_is_on_a_thread_of_its_own_and_its_outcome_on_the_main_one():
    threads: list[Any] = []
    work_aside(threading.get_ident, lambda outcome: threads.extend((outcome, threading.get_ident())))
    finish()
    assert threads == [], "nothing is shown before the next frame"
    touch.settle(1)
    worked, shown = threads
    assert shown == threading.get_ident() != worked


def test_outcomes_come_in_the_order_in_which_they_were_asked_for():
    said: list[str] = []
    for word in ("first", "second", "third"):
        work_aside(lambda word=word: word, said.append)
    finish()
    touch.settle(1)
    assert said == ["first", "second", "third"]


def test_what_takes_a_moment_does_not_wait_for_what_is_long():
    written = threading.Event()
    said: list[str] = []
    work_aside(lambda: "written" if written.wait(60) else "given up", said.append, long=True)
    work_aside(lambda: (written.set(), "reckoned")[1], said.append)
    finish()
    touch.settle(1)
    assert sorted(said) == ["reckoned", "written"]


def test_an_expected_fault_is_an_outcome():
    said: list[Any] = []
    work_aside(Path("/no/such/folder/file").read_bytes, said.append, (OSError,))
    finish()
    touch.settle(1)
    assert isinstance(said[0], FileNotFoundError)


def test_what_nobody_expected_is_not_swallowed():
    said: list[Any] = []
    work_aside(lambda: 1 // 0, said.append, (OSError,))
    finish()
    with pytest.raises(ZeroDivisionError):
        touch.settle(1)
    assert said == []
