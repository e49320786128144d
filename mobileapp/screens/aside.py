"""Work that must not hold up a frame: done on a thread of its own, its outcome brought back between two frames."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from concurrent.futures import ThreadPoolExecutor
from functools import lru_cache
from itertools import islice
from typing import TypeVar

from kivy.clock import Clock

T = TypeVar("T")


@lru_cache(maxsize=1)
def aside() -> ThreadPoolExecutor:
    """The one thread for it; started when it is first needed."""
    return ThreadPoolExecutor(max_workers=1, thread_name_prefix="aside")


def work_aside(work: Callable[[], T], then: Callable[[T], None]) -> None:
    """Do `work`, which touches no widget and no journal, and hand what it gives to `then` on the main thread."""

    def run() -> None:
        outcome = work()
        Clock.schedule_once(lambda _: then(outcome))

    aside().submit(run)


def in_steps(acts: Iterable[Callable[[], object]], at_once: int = 3) -> None:
    """Do the first few now and one more in each frame that follows, so that no frame has much to do."""
    waiting = iter(acts)
    for act in islice(waiting, at_once):
        act()

    def one_more(_: float) -> bool:
        act = next(waiting, None)
        if act is not None:
            act()
        return act is not None

    Clock.schedule_interval(one_more, 0)
