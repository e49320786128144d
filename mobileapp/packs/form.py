"""What a pack looks like inside: a plain zip that any tool opens.

    manifest.json     format version, what it holds, device heads, and the SHA-256 and size of every other member
    journal.jsonl     the entries as JSON Lines, one a line, with every column of the chain
    photos/<sha256>   each photo under the hash of its bytes

A backup is the same kind of file with every teardown and every photo in it, and with what belongs to nothing yet where
there is such (format 2, see `unclaimed_form`):

    unclaimed.json    the notes of it
    awaited/<note>    what a camera brought and nobody came back for
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from json.encoder import encode_basestring as quoted
from typing import Any, NamedTuple

from checklists.fact_codec import fact_from_plain
from checklists.facts import FindLogged, FindRemoved, HandedOver, Lifted, Looked, Photographed, Short
from mobileapp.journal.canonical import canonical, read_canonical
from mobileapp.journal.rows import EntryRow

#: A pack, and a backup in which nothing is unclaimed, is of the first format still: an older Countback reads it.
FORMAT, WITH_UNCLAIMED = 1, 2
MADE_AS = "Countback pack"
ENDING = ".countback.zip"
MANIFEST, JOURNAL, PHOTOS = "manifest.json", "journal.jsonl", "photos/"
UNCLAIMED, AWAITED = "unclaimed.json", "awaited/"
#: What a pack holds: one teardown, or everything that is on a phone.
TEARDOWN, EVERYTHING = "teardown", "everything"

SHA256 = re.compile(r"[0-9a-f]{64}")
PHOTO_MEMBER = re.compile(r"photos/([0-9a-f]{64})")
AWAITED_MEMBER = re.compile(r"awaited/([0-9a-z-]{1,64})")


class Member(NamedTuple):
    """A member of the zip, as the manifest names it."""

    name: str
    sha256: str
    size: int


class Chain(NamedTuple):
    """How far a pack holds one device's chain of one teardown."""

    device: str
    seq: int
    hash: str


class Held(NamedTuple):
    """One teardown in a pack."""

    id: str
    entries: int
    heads: tuple[Chain, ...]


class Manifest(NamedTuple):
    """What a pack says it holds. `lacking` are photos that entries name and that were lost where it was made."""

    holds: str
    teardowns: tuple[Held, ...]
    members: tuple[Member, ...]
    lacking: tuple[str, ...]

    @property
    def format(self) -> int:
        """The format version, by what is in it."""
        return WITH_UNCLAIMED if any(member.name == UNCLAIMED for member in self.members) else FORMAT


class BadForm(Exception):
    """Something in a pack is not in the form of a pack; the message says what."""


class NewerForm(BadForm):
    """The format version is one this Countback does not know."""


# --- entries


#: A string, and an object of strings, as canonical JSON writes them.
_S = r'"(?:[^"\\\x00-\x1f]|\\.)*"'
_FLAT = rf"\{{(?:{_S}:{_S}(?:,{_S}:{_S})*)?\}}"
_LINE = re.compile(
    rf'\{{"at":({_S}),"body":(\{{.*\}}),"device":({_S}),"hash":"([0-9a-f]{{64}})","kind":({_S}),'
    rf'"prev":"([0-9a-f]{{64}})","seen":({_FLAT}),"seq":([1-9][0-9]{{0,14}}),"teardown":({_S}),"tick":([1-9][0-9]{{0,14}}),'
    rf'"who":({_S})\}}'
)


def line_of(row: EntryRow) -> str:
    """An entry as one line of canonical JSON, its body and what it had seen as JSON and not as text."""
    return (
        f'{{"at":{quoted(row.at)},"body":{row.body},"device":{quoted(row.device)},"hash":"{row.hash}",'
        f'"kind":{quoted(row.kind)},"prev":"{row.prev}","seen":{row.seen},"seq":{row.seq:d},'
        f'"teardown":{quoted(row.teardown)},"tick":{row.tick:d},"who":{quoted(row.who)}}}'
    )


def row_of(line: str) -> EntryRow:
    """The entry that a line holds. Only the very text that `line_of` writes is read; raises BadForm on any other.

    The body stays text: it is what the hash was made from, and the journal looks into it before it accepts it.
    """
    match = _LINE.fullmatch(line)
    if match is None:
        raise BadForm("it is not written as an entry is")
    at, body, device, own, kind, prev, seen, seq, teardown, tick, who = match.groups()
    row = EntryRow(
        _text(teardown), _text(device), int(seq), int(tick), _text(at), _text(who), _text(kind), body, seen, prev, own
    )
    # Without an escape in it there is one way only to write such a line.
    if "\\" in line and line_of(row) != line:
        raise BadForm("it is not written in the canonical way")
    return row


def _text(string: str) -> str:
    return string[1:-1] if "\\" not in string else str(read_canonical(string))


#: The kinds of entry that name photos.
_WITH_PHOTOS = frozenset(
    fact.kind for fact in (Photographed, Looked, Lifted, FindLogged, FindRemoved, Short, HandedOver)
)


def photos_named(rows: Iterable[EntryRow]) -> Iterator[tuple[EntryRow, str, int | None]]:
    """Every photo that entries name by its hash, with the entry, and the size where the entry says it."""
    for row in rows:
        if row.kind in _WITH_PHOTOS:
            fact: Any = fact_from_plain(row.kind, read_canonical(row.body))
            for sha in (getattr(fact, "photo", ""), *getattr(fact, "photos", ())):
                if SHA256.fullmatch(sha):
                    yield row, sha, getattr(fact, "size", None) if row.kind == "photographed" else None


def heads_of(rows: Iterable[EntryRow]) -> tuple[Chain, ...]:
    """How far these entries go on each device."""
    last: dict[str, EntryRow] = {}
    for row in rows:
        if row.device not in last or row.seq > last[row.device].seq:
            last[row.device] = row
    return tuple(Chain(device, last[device].seq, last[device].hash) for device in sorted(last))


# --- the manifest


def manifest_text(manifest: Manifest) -> str:
    """The manifest as canonical JSON."""
    return canonical(
        {
            "format": manifest.format,
            "made_as": MADE_AS,
            "holds": manifest.holds,
            "teardowns": [
                {
                    "id": held.id,
                    "entries": held.entries,
                    "heads": {chain.device: {"seq": chain.seq, "hash": chain.hash} for chain in held.heads},
                }
                for held in manifest.teardowns
            ],
            "members": [member._asdict() for member in manifest.members],
            "lacking": list(manifest.lacking),
        }
    )


def read_manifest(text: str) -> Manifest:
    """The manifest that a text holds. Raises BadForm, or NewerForm, with what is wrong."""
    try:
        plain = read_canonical(text)
    except ValueError as fault:
        raise BadForm(f"the manifest cannot be read: {fault}") from fault
    if not isinstance(plain, dict) or plain.get("made_as") != MADE_AS:
        raise BadForm("the manifest is not one of Countback")
    version = plain.get("format")
    if type(version) is int and version > WITH_UNCLAIMED:
        raise NewerForm(f"format {version}; this one knows up to {WITH_UNCLAIMED}")
    try:
        manifest = Manifest(
            plain["holds"],
            tuple(_held(one) for one in plain["teardowns"]),
            tuple(Member(**member) for member in plain["members"]),
            tuple(plain["lacking"]),
        )
        sound = manifest_text(manifest) == text
    except (KeyError, TypeError, ValueError, AttributeError) as fault:
        raise BadForm(f"the manifest cannot be read: {type(fault).__name__} {fault}") from fault
    if not sound:
        raise BadForm("the manifest holds something that does not belong there")
    _check(manifest)
    return manifest


def _held(plain: dict[str, Any]) -> Held:
    heads = tuple(Chain(device, head["seq"], head["hash"]) for device, head in plain["heads"].items())
    return Held(plain["id"], plain["entries"], tuple(sorted(heads)))


def _check(manifest: Manifest) -> None:
    if manifest.holds not in (TEARDOWN, EVERYTHING):
        raise BadForm(f"it is not known what it holds: {manifest.holds!r}")
    hashes = [member.sha256 for member in manifest.members] + list(manifest.lacking)
    if not all(isinstance(one, str) and SHA256.fullmatch(one) for one in hashes):
        raise BadForm("the manifest names a hash that is none")
    if not all(type(member.size) is int and member.size >= 0 for member in manifest.members):
        raise BadForm("the manifest names a size that is none")
    for name, sha, _ in manifest.members:
        unclaimed = manifest.format == WITH_UNCLAIMED and (name == UNCLAIMED or AWAITED_MEMBER.fullmatch(name))
        if not (name in (JOURNAL, PHOTOS + sha) or (unclaimed and manifest.holds == EVERYTHING)):
            raise BadForm(f"the manifest names a member that does not belong there: {name!r}")
    if len({member.name for member in manifest.members}) < len(manifest.members):
        raise BadForm("the manifest names a member twice")
    if len({held.id for held in manifest.teardowns}) < len(manifest.teardowns):
        raise BadForm("the manifest names a teardown twice")
