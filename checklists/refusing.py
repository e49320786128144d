"""Small words for refusing: one reason made in a line, and the photo that an act demands."""

from __future__ import annotations

from typing import Any

from checklists.reasons import Reason

Reasons = tuple[Reason, ...]
PASSED: Reasons = ()
#: The code where a photo is named that is not kept with the teardown.
NOT_KEPT = "photo not kept"


def no(code: str, words: str, do_next: str, **about: Any) -> Reasons:
    """One reason against, as the only one."""
    return (Reason(code, words, do_next, **about),)


def photo(path: str, of_what: str) -> Reasons:
    """A reason against where no photo is named."""
    return PASSED if path.strip() else no("no photo", f"A photo of {of_what} is missing.", "Take it and name it here.")
