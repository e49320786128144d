"""What an account is made of: sections of blocks, each a frozen record of text. How they look is the paper's affair."""

from __future__ import annotations

from typing import NamedTuple

from checklists.facts import Strokes


class Marks(NamedTuple):
    """Tally strokes: so many items out, of which so many are still away. The others are back."""

    out: int
    away: int


Cell = str | Marks


class Words(NamedTuple):
    """A paragraph. `loud` is for what nobody may miss."""

    text: str
    loud: bool = False


class Heading(NamedTuple):
    """A heading inside a section, with a remark beside it."""

    title: str
    note: str = ""


class Pairs(NamedTuple):
    """Names and what they stand for, one below the other."""

    rows: tuple[tuple[str, str], ...]


class Table(NamedTuple):
    """A table; `shares` are the widths of its columns in parts of their sum."""

    heads: tuple[str, ...]
    shares: tuple[int, ...]
    rows: tuple[tuple[Cell, ...], ...]


class Picture(NamedTuple):
    """A photo with its caption. `kept` is False for one that the record names but that never was in the store."""

    number: int
    sha: str
    title: str
    lines: tuple[str, ...]
    kept: bool


class Pictures(NamedTuple):
    """Photos, side by side."""

    pictures: tuple[Picture, ...]


class Signature(NamedTuple):
    """Somebody's signature under a statement, bound to the journal's head of that moment."""

    name: str
    role: str
    at: str
    statement: str
    head: str
    strokes: Strokes


Block = Words | Heading | Pairs | Table | Pictures | Signature


class Section(NamedTuple):
    """One part of the account under its title."""

    title: str
    blocks: tuple[Block, ...]


CLOSED, NOT_CLEAR, DRAFT = "CLOSED", "NOT CLEAR", "DRAFT"


class Account(NamedTuple):
    """Everything a closing sheet says. Times are ready to print but for `last_at`, the stamp of the newest entry.

    `heads` are the journal's heads it belongs to: (device, hash of that device's last entry), sorted.
    """

    teardown: str
    state: str
    state_words: str
    machine: str
    sheet: str
    people: str
    started: str
    ended: str
    last_at: str
    entries: int
    heads: tuple[tuple[str, str], ...]
    tally: Marks
    tally_words: str
    sections: tuple[Section, ...]

    @property
    def is_draft(self) -> bool:
        """Whether the teardown is still open."""
        return self.state == DRAFT

    def pictures(self) -> tuple[Picture, ...]:
        """Every photo of the account, in the order of the sheet."""
        blocks = (block for section in self.sections for block in section.blocks)
        return tuple(picture for block in blocks if isinstance(block, Pictures) for picture in block.pictures)
