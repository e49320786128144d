"""Photos and signatures for stories of the rules: what an act names as its photo is kept first, as the phone does.

What is signed is signed by a hand that is the same for everybody, where the story does not say by which.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from hashlib import sha256

from checklists import baseline
from checklists.facts import Fact, Lifted, Photographed
from checklists.photo_places import place_of_photo
from checklists.reasons import Reason
from checklists.refusing import NOT_KEPT
from checklists.state import Teardown


def photo_first(t: Teardown, fact: Fact, at: str) -> tuple[Fact, ...]:
    """A photo kept, then the act that names it by its hash; the act alone if it names none, or one that is kept.

    Every photo is another one, even if acts call theirs by the same words. What is signed is drawn under it.
    """
    fact = drawn(fact)
    place = place_of_photo(fact)
    if place is None or fact.photo in t.photos:
        return (fact,)
    taken = photo(f"{fact.photo}, number {len(t.history)}", *place, at=at, name=fact.photo)
    return *as_found(t, fact, at), taken, replace(fact, photo=taken.photo)


#: One stroke across the field.
HAND = ((100, 500, 900, 500),)


def drawn(fact: Fact) -> Fact:
    """What is signed, with a signature under it where the story drew none."""
    return replace(fact, signature=HAND) if getattr(fact, "signature", None) == () else fact


def as_found(t: Teardown, fact: Fact, at: str) -> tuple[Photographed, ...]:
    """The baseline photo, where this is a lift and it is still due."""
    due = isinstance(fact, Lifted) and baseline.why_not(t)
    seed = f"as found, then {getattr(fact, 'photo', '')}"
    return (photo(seed, baseline.WHOLE, baseline.MOMENT, at=at),) if due else ()


def photo(seed: str, about: str, moment: str, at: str = "", name: str = "") -> Photographed:
    """A photo that is kept; another seed is another photo."""
    sha = sha256(seed.encode()).hexdigest()
    return Photographed(sha, about, moment, name or f"{seed}.jpg", "image/jpeg", "", at, 640, 480, 1)


#: What is against an act only as long as its photo, or that of the machine as it was found, has not been taken.
FOR_WANT_OF_A_PHOTO = frozenset({NOT_KEPT, "no baseline photo"})


def but_for_photos(reasons: Iterable[Reason]) -> tuple[Reason, ...]:
    """What is against an act whose photos can be taken."""
    return tuple(reason for reason in reasons if reason.code not in FOR_WANT_OF_A_PHOTO)
