"""A photo becomes evidence: it is kept in the store, and only then the journal says so.

The hash that the outcome's entry carries is what other facts name as their `photo`. The store's part may run on its own
thread; judging and recording stay with the thread that holds the journal.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from checklists.facts import Entry, Photographed
from checklists.judge import judge
from checklists.receipt import Receipt
from mobileapp.device.camera import Camera, Shot
from mobileapp.journal.errors import ours
from mobileapp.journal.opening import read_only
from mobileapp.journal.store import Journal
from mobileapp.photos.errors import CannotTake, EmptyPhoto, PhotoError
from mobileapp.photos.store import Kept, PhotoStore, Stored
from mobileapp.service import Outcome, TeardownService

Became = Outcome | PhotoError
_HASHES = "SELECT DISTINCT json_extract(body, '$.photo') FROM event WHERE kind = ?"
_ANY_HASH = "0" * 64


def keep_photo(
    service: TeardownService,
    store: PhotoStore,
    source: Path | bytes,
    about: str,
    moment: str,
    name: str = "",
    received: Receipt | None = None,
) -> Became:
    """Keep a photo and record it; the entry's fact carries its hash. Waits for the storage: not for the main thread.

    `received` says when this phone had it where that was before now; of an orphan in the store its note says so. The
    entry's own time is now either way. An Outcome with reasons where the rules refuse it, a PhotoError where it cannot
    be kept. Raises a JournalError where it was kept but not recorded: then it is an orphan, which `orphans` finds.
    """
    reasons = judge(service.state, _probe(about, moment), service.clock(), service.who)
    if reasons:
        return Outcome(None, reasons)
    try:
        at, by = received or store.receipt_of(source) or Receipt(service.clock())
        kept = store.keep(source, at, name, by)
    except PhotoError as fault:
        return fault
    return record_kept(service, kept, about, moment)


def keep_photo_later(
    service: TeardownService,
    store: PhotoStore,
    source: Path | bytes,
    about: str,
    moment: str,
    then: Callable[[Callable[[], Became]], None],
    name: str = "",
    received: Receipt | None = None,
) -> None:
    """The same with the store's part on its own thread.

    `then` gets, on the thread `store` delivers to, a function that records the photo and answers what became of it; it
    may raise a JournalError like every record.
    """
    reasons = judge(service.state, _probe(about, moment), service.clock(), service.who)
    if reasons:
        then(lambda: Outcome(None, reasons))
        return

    def finish(kept: Kept | PhotoError) -> None:
        then(lambda: kept if isinstance(kept, PhotoError) else record_kept(service, kept, about, moment))

    now = Receipt(service.clock())

    def keep() -> Kept:
        at, by = received or store.receipt_of(source) or now
        return store.keep(source, at, name, by)

    store.later(keep, finish)


def keep_shot(service: TeardownService, store: PhotoStore, camera: Camera, shot: Shot) -> Became:
    """Keep what a camera brought, for the teardown in hand, and let the camera forget it once it is recorded.

    It is forgotten as well where nothing can come of it: no photo, an empty one, one that is recorded already. One that
    cannot be kept (spoilt, too large, of another kind) is set aside: its file may be the only copy. Where the storage
    fails it stands, and `camera.recover` gives it again. Waits for the storage: not for the main thread.
    """
    if shot.path is None:
        return _settled(camera, shot, CannotTake(shot.words))
    became = keep_photo(
        service, store, shot.path, shot.purpose.about, shot.purpose.moment, received=shot.received
    )
    return _settled(camera, shot, became)


def keep_shot_later(
    service: TeardownService,
    store: PhotoStore,
    camera: Camera,
    shot: Shot,
    then: Callable[[Callable[[], Became]], None],
) -> None:
    """The same with the store's part on its own thread; `then` as in `keep_photo_later`."""
    if shot.path is None:
        then(lambda: _settled(camera, shot, CannotTake(shot.words)))
        return
    keep_photo_later(
        service, store, shot.path, shot.purpose.about, shot.purpose.moment,
        lambda record: then(lambda: _settled(camera, shot, record())), received=shot.received,
    )  # fmt: skip


def _settled(camera: Camera, shot: Shot, became: Became) -> Became:
    known = isinstance(became, Outcome) and [reason.code for reason in became.reasons] == ["photo known"]
    if known or shot.path is None or isinstance(became, EmptyPhoto) or (isinstance(became, Outcome) and became.done):
        camera.settle(shot)
    elif isinstance(became, CannotTake):
        camera.set_aside(shot)
    return became


def record_kept(service: TeardownService, kept: Kept, about: str, moment: str) -> Outcome:
    """Record a photo that is in the store.

    One that is recorded for the same thing and named by nothing yet is no new one: its entry is the answer.
    """
    if earlier := _unused(service, kept.sha, about):
        return Outcome(earlier, remark=kept.remark)
    outcome = service.record(
        Photographed(kept.sha, about, moment, kept.name, kept.media, kept.taken, kept.received,
                     kept.width, kept.height, kept.size, kept.received_by)
    )  # fmt: skip
    return replace(outcome, remark=kept.remark)


def _unused(service: TeardownService, sha: str, about: str) -> Entry | None:
    known = service.state.photos.get(sha)
    if known is None or known[0].about != about:
        return None
    naming = [entry for entry in service.state.history if getattr(entry.fact, "photo", "") == sha]
    return naming[0] if len(naming) == 1 else None


def _probe(about: str, moment: str) -> Photographed:
    # The rules are asked before anything is written; the hash is not known yet.
    return Photographed(_ANY_HASH, about, moment, "", "", "", "", 0, 0, 0)


def known_photos(journal: Journal) -> set[str]:
    """The hashes of all photos that any teardown of the journal refers to as kept."""
    try:
        conn = read_only(journal.path)
        try:
            return {str(sha) for (sha,) in conn.execute(_HASHES, (Photographed.kind,))}
        finally:
            conn.close()
    except sqlite3.Error as fault:
        raise ours(fault, journal.path) from fault


def orphans(journal: Journal, store: PhotoStore) -> list[Stored]:
    """Photos in the store that no teardown refers to, to be offered. `keep_photo` with its path takes it in."""
    return store.orphans(known_photos(journal))
