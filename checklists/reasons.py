"""Why something may not happen, as data in a person's words. Never an exception, never only the first."""

from __future__ import annotations

from dataclasses import dataclass

from checklists.words import sentence


@dataclass(frozen=True, slots=True)
class Reason:
    """One reason. `code` tells programs, `words` tell people what is wrong, `do_next` what puts it right.

    Where items are concerned: `quantity` of `line` (named `line_name`) last at `place` (said in `place_words`)
    `since` a time stamp, moved there by `who`. `closure`, `opening`, `find`, `caution` and `limit` say what it
    concerns.
    """

    code: str
    words: str
    do_next: str
    line: str = ""
    line_name: str = ""
    quantity: int = 0
    place: str = ""
    place_words: str = ""
    since: str = ""
    who: str = ""
    closure: str = ""
    opening: str = ""
    find: str = ""
    caution: str = ""
    limit: str = ""

    def __post_init__(self) -> None:
        # Words may begin with a name off the sheet, which stands small inside a sentence.
        object.__setattr__(self, "words", sentence(self.words))


@dataclass(frozen=True, slots=True)
class Refused:
    """An act that may not happen, with every reason."""

    reasons: tuple[Reason, ...]
