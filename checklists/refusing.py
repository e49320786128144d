"""Small words for refusing: one reason made in a line, and the photo that an act demands."""

from __future__ import annotations

from typing import Any

from checklists.reasons import Reason
from checklists.state import Teardown

Reasons = tuple[Reason, ...]
PASSED: Reasons = ()
#: The codes where a photo is named that is not kept with the teardown, or that an earlier act has named already.
NOT_KEPT, USED = "photo not kept", "photo used"


def no(code: str, words: str, do_next: str, **about: Any) -> Reasons:
    """One reason against, as the only one."""
    return (Reason(code, words, do_next, **about),)


def photo(t: Teardown, named: str, of_what: str, *, shared: bool = False) -> Reasons:
    """A reason against where no photo is named, one that is not kept here, or one that another act named before.

    `shared` says that this act may name the photo of the act before it.
    """
    if not named.strip():
        return no("no photo", f"A photo of {of_what} is missing.", "Take it and name it here.")
    if reasons := kept(t, named, of_what):
        return reasons
    if named in t.named_photos and not shared:
        return no(USED, f"The photo of {of_what} was used for an earlier act.", "Take a new one, as it is now.")
    return PASSED


def as_it_is(t: Teardown, named: str, of_what: str, since: int, *abouts: str) -> Reasons:
    """A reason against a kept photo that was kept before entry `since`, after which things were otherwise; or that
    shows another opening or closure than one of `abouts`, as whoever kept it said."""
    shown, mark = t.photos[named]
    if mark.n < since:
        words = f"The photo of {of_what} was kept before something moved there."
        return no(USED, words, "Take a new one, as it is now.")
    if shown.about.partition(":")[0] in ("opening", "closure") and shown.about not in abouts:
        return no(USED, f"That photo is not of {of_what}: it was kept as one of another.", "Take one of it.")
    return PASSED


def kept(t: Teardown, named: str, of_what: str) -> Reasons:
    """A reason against where the photo that is named is not kept for this teardown."""
    if named in t.photos:
        return PASSED
    return no(NOT_KEPT, f"The photo of {of_what} is not kept with this teardown.", "Take it, or choose it again.")


def other_statement(said: str, due: str, closure: str = "") -> Reasons:
    """A reason against where what is signed is not the statement that the record makes now."""
    if said == due:
        return PASSED
    words = "What would be signed is not what the record says now." if said.strip() else "Nothing is said to sign for."
    return no("not its statement", words, f"Sign for this: {due}", closure=closure)
