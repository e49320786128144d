"""A signature is bound to its place in the record: it names the hash of the entry that stands before it.

The rules cannot know hashes; the journal can. It refuses to write a signature that names another place, and
`prove` says of each one that is not bound to where it stands.
"""

from __future__ import annotations

from checklists.facts import Fact, HandTurned, TookOver


def not_bound(fact: Fact, prev: str) -> str:
    """What is wrong with the head that a signature names, where `prev` stands before it; empty where nothing is."""
    head = getattr(fact, "head", None)
    if head is None or head == prev:
        return ""
    if isinstance(fact, TookOver | HandTurned) and not head:
        return ""  # written before these two were bound
    named = f"names {head[:16]!r}" if head else "names no head"
    return f"the signature ({fact.kind}) is not bound to its place: it {named}, where {prev[:16]!r} stands before it"
