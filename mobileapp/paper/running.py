"""What stands on every page: the state above, the head's hash and the page's number below, the draft mark behind."""

from __future__ import annotations

from checklists.account.parts import Account
from mobileapp.paper.flow import Page
from mobileapp.paper.ink import Ink, Rule, Slanted, Text
from mobileapp.paper.letters import Letters
from mobileapp.paper.measures import CAPTION, FOOT, MARGIN, PaperSize

_DRAFT_SHADE = 0.87


def dress(pages: list[Page], account: Account, letters: Letters, paper: PaperSize) -> list[Page]:
    """The pages with their heads and feet, and the draft mark below everything else."""
    dressed = []
    for number, page in enumerate(pages, 1):
        foot = _foot(account, letters, paper, number, len(pages))
        dressed.append([*_draft(account, paper), *page, *_head(account, letters, paper, number), *foot])
    return dressed


def _draft(account: Account, paper: PaperSize) -> list[Ink]:
    if not account.is_draft:
        return []
    return [Slanted(paper.width / 2, paper.height / 2, "DRAFT", 170, 52, _DRAFT_SHADE)]


def _head(account: Account, letters: Letters, paper: PaperSize, number: int) -> list[Ink]:
    if number == 1:
        return []
    y = MARGIN + 1.5
    what = letters.lines(account.machine, CAPTION, paper.inner - 60)[:1]
    inks: list[Ink] = [Text(MARGIN, y, account.state, CAPTION + 2, True)]
    for line in what:
        inks.append(Text(paper.width - MARGIN - letters.width(line, CAPTION), y, line, CAPTION))
    return [*inks, Rule(MARGIN, y + 1.8, paper.width - MARGIN, y + 1.8, 0.3)]


def _foot(account: Account, letters: Letters, paper: PaperSize, number: int, of: int) -> list[Ink]:
    y = paper.height - MARGIN + 1
    where = f"page {number} of {of}"
    first = account.heads[0][1] if account.heads else ""
    more = f" and {len(account.heads) - 1} more" if len(account.heads) > 1 else ""
    head = letters.printable(f"head {first}{more}")
    what = letters.lines(f"teardown {account.teardown}  ·  {account.state}", FOOT, paper.inner - 30)[0]
    return [
        Rule(MARGIN, y - 6.6, paper.width - MARGIN, y - 6.6, 0.3),
        Text(MARGIN, y - 3.2, head, FOOT),
        Text(MARGIN, y, what, FOOT),
        Text(paper.width - MARGIN - letters.width(where, CAPTION, True), y, where, CAPTION, True),
    ]
