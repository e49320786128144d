"""Work beside the main thread: a sheet or a pack takes seconds, and the screen must not stand still meanwhile."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from functools import lru_cache
from typing import Any, TypeVar

from kivy.clock import Clock

T = TypeVar("T")
_begun: list[Future[None]] = []


@lru_cache(maxsize=1)
def _workshop() -> ThreadPoolExecutor:
    return ThreadPoolExecutor(max_workers=1, thread_name_prefix="beside")


def beside(work: Callable[[], T], faults: tuple[type[Exception], ...], then: Callable[[T | Exception], Any]) -> None:
    """Do `work` on a thread of its own; `then` gets its result, or the one of `faults` it met, on the main thread."""

    def run() -> None:
        try:
            result: T | Exception = work()
        except faults as fault:
            result = fault
        Clock.schedule_once(lambda _: then(result))

    _begun[:] = [one for one in _begun if not one.done()]
    _begun.append(_workshop().submit(run))


def finish() -> None:
    """Wait until all that was begun is done. Raises what was not expected."""
    while _begun:
        _begun.pop().result()
