"""Photos for stories of the rules: what an act names as its photo is kept first, as the phone does."""

from __future__ import annotations

from dataclasses import replace
from hashlib import sha256

from checklists.facts import Fact, Photographed
from checklists.photo_places import place_of_photo
from checklists.state import Teardown


def photo_first(t: Teardown, fact: Fact, at: str) -> tuple[Fact, ...]:
    """A photo kept, then the act that names it by its hash; the act alone if it names none, or one that is kept.

    Every photo is another one, even if acts call theirs by the same words.
    """
    place = place_of_photo(fact)
    if place is None or fact.photo in t.photos:
        return (fact,)
    taken = photo(f"{fact.photo}, number {len(t.history)}", *place, at=at, name=fact.photo)
    return taken, replace(fact, photo=taken.photo)


def photo(seed: str, about: str, moment: str, at: str = "", name: str = "") -> Photographed:
    """A photo that is kept; another seed is another photo."""
    sha = sha256(seed.encode()).hexdigest()
    return Photographed(sha, about, moment, name or f"{seed}.jpg", "image/jpeg", "", at, 640, 480, 1)
