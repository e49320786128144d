"""A closing account read in tests: its titles, rows and words, and a small job to be accounted for."""

from __future__ import annotations

from workboat_model import HEAD, Job

from checklists import builders
from checklists.account.parts import Account, Table
from checklists.closing_account import make_account
from checklists.facts import (
    HandTurned,
)


def account_of(job: Job) -> Account:
    return make_account("boat-1", job.t.history, {"phone-a": HEAD})


def rows(account: Account, title: str) -> list[tuple]:
    """The rows of every table in the section whose title begins so."""
    (section,) = [section for section in account.sections if section.title.startswith(title)]
    return [row for block in section.blocks if isinstance(block, Table) for row in block.rows]


def titles(account: Account) -> list[str]:
    return [section.title for section in account.sections]


def words(part: object) -> str:
    """Everything in a part of an account, in one text."""
    return part if isinstance(part, str) else " ".join(map(words, part)) if isinstance(part, tuple) else ""


def finish(job: Job, *closures: str) -> None:
    """Refit these closures and close the teardown."""
    for closure in closures:
        job.refit(closure)
    job.do(HandTurned("two turns, free"))
    job.do(builders.close(job.t, HEAD))
