"""What is asked before a teardown starts, in short steps, and which reason belongs to which question. No widgets."""

from __future__ import annotations

from pathlib import Path
from typing import Any, NamedTuple

from checklists import builders
from checklists.facts import Person, Started
from checklists.reasons import Reason
from checklists.sheet import Sheet
from checklists.sheet_fault import Fault, report
from checklists.sheet_reading import BLANK
from checklists.words import how_many
from mobileapp import shelf

Draft = dict[str, Any]

BLANK_KEY = "blank"


class Question(NamedTuple):
    """One field: where its answer is kept, what it asks, an example."""

    key: str
    label: str
    hint: str


MACHINE_AND_PEOPLE = (
    Question("machine", "Which machine?", "port engine, workboat 12"),
    Question("you", "Your name", "Ada Berg"),
    Question("your_role", "Your role", "fitter"),
    Question("other", "Another person, if there is one", "Jonas Wieland, for the second count"),
    Question("other_role", "That person's role", "second counter"),
)
WHY = (
    Question("reason", "Why is it opened?", "rough running, water in the oil"),
    Question("found", "What was found so far?", "white smoke, low compression on 3"),
)
STEPS = (
    ("Choose a sheet", ()),
    ("Machine and people", MACHINE_AND_PEOPLE),
    ("Why it is opened", WHY),
)

_FIELD_OF = {"no machine": "machine", "no people": "you", "same name": "other", "no reason": "reason"}


class Offer(NamedTuple):
    """A sheet on offer: how the draft names it, what it is called, what it holds; `report` says why it is broken."""

    key: str
    name: str
    note: str
    report: str = ""


def offers(own_sheets: Path) -> list[Offer]:
    """The shipped sheets, the blank one, then the sheets somebody put into `own_sheets`, broken ones too."""
    shipped = [_offer(key, str(key)) for key in shelf.shipped_sheets()]
    own = [_offer(str(path), path.name) for path in sorted(own_sheets.glob("*.toml"))]
    blank = Offer(BLANK_KEY, "Blank sheet", "closures, openings and items are added as the work goes")
    return [*shipped, blank, *own]


def _offer(key: str, name: str) -> Offer:
    try:
        sheet = shelf.load_sheet(key)
    except shelf.SheetFault as fault:
        faults = [Fault(name, f.path, f.message) for f in fault.faults]
        return Offer(key, name, f"cannot be used: {how_many(len(faults), 'fault')}", report(faults))
    parts = [how_many(len(sheet.closures), "closure"), how_many(len(sheet.openings), "opening"),
             f"{how_many(len(sheet.lines), 'line')} to count"]
    return Offer(key, sheet.name, f"{sheet.machine}: {', '.join(parts)}")


def sheet_of(draft: Draft) -> Sheet | None:
    """The chosen sheet; None while there is none. Raises shelf.SheetFault where it broke in the meantime."""
    key = draft.get("sheet", "")
    if not key:
        return None
    return BLANK if key == BLANK_KEY else shelf.load_sheet(key)


def fact_of(draft: Draft, sheet: Sheet) -> Started:
    """What would be started, from the answers so far."""
    def said(key: str) -> str:
        return str(draft.get(key, "")).strip()

    people = [Person(said("you"), said("your_role"))]
    if said("other") or said("other_role"):
        people.append(Person(said("other"), said("other_role")))
    return builders.start(sheet, said("machine"), people, said("reason"), said("found"))


def faults_by_field(reasons: tuple[Reason, ...], draft: Draft) -> dict[str, str]:
    """What stands against each answer, in words; what concerns none of them is under "sheet"."""
    faults: dict[str, str] = {}
    for reason in reasons:
        field = _FIELD_OF.get(reason.code, "sheet")
        if reason.code == "no people" and str(draft.get("you", "")).strip():
            field = "other"
        words = f"{reason.words} {reason.do_next}"
        faults[field] = f"{faults[field]}\n{words}" if field in faults else words
    return faults


def faults_of_step(faults: dict[str, str], step: int) -> dict[str, str]:
    """Those that belong to a step."""
    keys = {question.key for question in STEPS[step][1]} or {"sheet"}
    return {key: words for key, words in faults.items() if key in keys}
