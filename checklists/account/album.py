"""The photos of an account: each numbered where it is first named, and shown once, with its caption."""

from __future__ import annotations

from checklists.account.parts import Picture, Pictures
from checklists.account.writing import size_words, taken, when
from checklists.facts import Photographed
from checklists.receipt import received_words, was_late
from checklists.state import Mark, Teardown

#: So much of a hash stands in a caption; 48 bits tell the photos of any job apart.
PREFIX = 12


class Album:
    """Numbers photos in the order in which the sections name them."""

    def __init__(self, teardown: Teardown) -> None:
        self._photos = teardown.photos
        self._numbers: dict[str, int] = {}
        self._waiting: list[Picture] = []

    def name(self, sha: str, title: str) -> str:
        """The words by which a text refers to a photo: "photo 3". It is shown with what `shown` gives next."""
        if not sha:
            return "no photo"
        if sha not in self._numbers:
            number = self._numbers[sha] = len(self._numbers) + 1
            self._waiting.append(Picture(number, sha, title, self._lines(sha), sha in self._photos))
        return f"photo {self._numbers[sha]}"

    def shown(self) -> tuple[Pictures, ...]:
        """A block with the photos named since it was last asked for; none where there are none."""
        waiting, self._waiting = self._waiting, []
        return (Pictures(tuple(waiting)),) if waiting else ()

    def unnamed(self) -> list[str]:
        """The hashes of kept photos that no section has named."""
        return [sha for sha in self._photos if sha not in self._numbers]

    def _lines(self, sha: str) -> tuple[str, ...]:
        if sha not in self._photos:
            return (f"The record names {sha}; no such photo was ever kept.",)
        fact, mark = self._photos[sha]
        about = f"{fact.width} × {fact.height} px, {size_words(fact.size)}"
        return (
            f"{taken(fact.taken)}. {_received(fact, mark)}",
            f"SHA-256 {sha[:PREFIX]}… · {about}",
        )


def _received(fact: Photographed, mark: Mark) -> str:
    """When the phone had it, and who wrote down what it shows: at once, or later where nobody came back for it."""
    said = received_words(when(fact.received), fact.received_by)
    if was_late(fact.received, fact.received_by, mark.at):
        return f"{said}. Put to this {when(mark.at)} by {mark.who}."
    return f"{said} by {mark.who}."
