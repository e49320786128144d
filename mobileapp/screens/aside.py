"""Work that must not hold up a frame: done on a thread of its own, its outcome brought back between two frames."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from concurrent.futures import Future, ThreadPoolExecutor
from functools import lru_cache
from itertools import islice
from typing import Any, TypeVar

from kivy.clock import Clock

T = TypeVar("T")
_begun: list[Future[None]] = []


@lru_cache(maxsize=2)
def _thread(name: str) -> ThreadPoolExecutor:
    """One worker, so that outcomes come in the order in which they were asked for. Started when first needed."""
    return ThreadPoolExecutor(max_workers=1, thread_name_prefix=name)


def work_aside(
    work: Callable[[], T],
    then: Callable[[Any], object],
    faults: tuple[type[Exception], ...] = (),
    long: bool = False,
) -> None:
    """Do `work`, which touches no widget and no open journal; `then` gets what it gives on the main thread.

    Where it meets one of `faults`, `then` gets that; what nobody expected is raised on the main thread. `long` work
    (a sheet, a pack) has a thread for itself: what takes a moment does not wait for it.
    """

    def run() -> None:
        try:
            outcome: T | Exception = work()
        except faults as fault:
            outcome = fault
        except Exception as fault:
            unexpected = fault
            Clock.schedule_once(lambda _: _raise(unexpected))
            return
        Clock.schedule_once(lambda _: then(outcome))

    _begun[:] = [one for one in _begun if not one.done()]
    _begun.append(_thread("long" if long else "short").submit(run))


def finish() -> None:
    """Wait until all that was begun is done; the next frame shows it."""
    while _begun:
        _begun.pop().result()


def _raise(fault: Exception) -> None:
    raise fault


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
