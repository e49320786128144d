"""What of a backup belongs to nothing yet: the camera's photos that nobody came back for, and when each was received.

unclaimed.json    what each was asked for and since when, and when kept photos that no entry names were received
awaited/<note>    the camera's files as they are, spoilt ones too: each may be the only copy
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any, NamedTuple

from checklists.receipt import KINDS, Receipt
from mobileapp.device.camera import Purpose
from mobileapp.device.camera_awaited import Awaited, is_note
from mobileapp.journal.canonical import canonical, read_canonical
from mobileapp.packs.form import SHA256, BadForm
from mobileapp.photos.receipts import is_stamp, sound


class Waiting(NamedTuple):
    """A note of a photo that was asked for; `sha256` of the file that came, empty where none did."""

    note: str
    purpose: Purpose
    since: str
    by: str
    sha256: str

    def awaited(self, path: Path) -> Awaited:
        """The same as the camera notes it, its photo at `path`."""
        return Awaited(self.note, self.purpose, path, self.since, self.by)


class Unclaimed(NamedTuple):
    """What belongs to nothing yet. `received` are kept photos that no entry names, by their hash."""

    awaited: tuple[Waiting, ...] = ()
    received: tuple[tuple[str, Receipt], ...] = ()


NOTHING = Unclaimed()


def unclaimed_text(unclaimed: Unclaimed) -> str:
    """It as canonical JSON."""
    return canonical(
        {
            "awaited": [{**one._asdict(), "purpose": list(one.purpose)} for one in unclaimed.awaited],
            "received": {sha: receipt._asdict() for sha, receipt in unclaimed.received},
        }
    )


def read_unclaimed(text: str) -> Unclaimed:
    """What a text holds. Raises BadForm with what is wrong."""
    try:
        plain = read_canonical(text)
        found = Unclaimed(
            tuple(_waiting(one) for one in plain["awaited"]),
            tuple((sha, _receipt(sha, one)) for sha, one in plain["received"].items()),
        )
        whole = unclaimed_text(found) == text
    except (KeyError, TypeError, ValueError, AttributeError) as fault:
        raise BadForm(f"it cannot be read: {type(fault).__name__} {fault}") from fault
    if not whole:
        raise BadForm("it holds something that does not belong there")
    if len({one.note for one in found.awaited}) < len(found.awaited):
        raise BadForm("it names a note twice")
    return found


def _waiting(plain: dict[str, Any]) -> Waiting:
    one = Waiting(**{**plain, "purpose": Purpose(*plain["purpose"])})
    if not all(isinstance(text, str) for text in (*one.purpose, one.note, one.since, one.by, one.sha256)):
        raise BadForm("a note holds another kind of value than belongs there")
    if not is_note(one.note) or one.by not in KINDS or not is_stamp(one.since):
        raise BadForm(f"it names a note that is none: {one.note[:64]!r}")
    if one.sha256 and not SHA256.fullmatch(one.sha256):
        raise BadForm("it names a hash that is none")
    return one


def _receipt(sha: str, plain: Mapping[str, Any]) -> Receipt:
    receipt = sound(plain)
    if receipt is None or not SHA256.fullmatch(sha):
        raise BadForm("it names a receipt that is none")
    return receipt
