"""A beancount plugin: no account but the origin's may ever hold less than nothing of any commodity.

beancount checks balances where a ledger asserts them; this asserts one after every transaction.
"""

from collections import defaultdict
from typing import NamedTuple

from beancount.core.data import Transaction
from beancount.core.inventory import Inventory

__plugins__ = ("never_below_zero",)

ORIGIN = "Equity:Origin"


class BelowZero(NamedTuple):
    """Something was taken from where it was not."""

    source: dict
    message: str
    entry: Transaction


def never_below_zero(entries, options):
    """The entries as they are, and an error for each transaction that leaves an account below zero."""
    held = defaultdict(Inventory)
    errors = []
    for entry in entries:
        if not isinstance(entry, Transaction):
            continue
        for posting in entry.postings:
            held[posting.account].add_position(posting)
        for account in {posting.account for posting in entry.postings} - {ORIGIN}:
            if any(position.units.number < 0 for position in held[account]):
                errors.append(BelowZero(entry.meta, f"{account} is below zero: {held[account]}", entry))
    return entries, errors
