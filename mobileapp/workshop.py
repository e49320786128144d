"""The workshop with its tables at hand, for the screens and the command line; they are read when first needed."""

from __future__ import annotations

from checklists.state import Teardown
from checklists.torque_words import TorqueWords


def torque_words(teardown: Teardown, closure: str, typed: str, lubrication: str = "not said") -> TorqueWords:
    """What to say about a torque as typed for a closure, before it is signed for. A warning, never a refusal."""
    from checklists.torque_words import torque_words as words_of
    from mobileapp.tables import fastener_tables

    return words_of(teardown, closure, typed, fastener_tables(), lubrication)
