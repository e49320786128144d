"""Whether a story fits its sheet: everything a step names must be there when the step's turn comes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from checklists.sheet import LINE_KINDS, Closure, Opening, Sheet, Space, merge_sheets
from checklists.sheet_check import MOST, check_sheet
from checklists.sheet_fault import Fault, choices, near_miss, shown, spoken_path
from checklists.story import Step, Story
from checklists.story_places import read_place

Finding = tuple[str, str]


def check_story(story: Story, sheet: Sheet) -> tuple[Fault, ...]:
    """Everything a story names that its sheet does not have; empty when it can be played."""
    known = _Known(sheet, {person.name for person in story.people})
    findings = [found for step in story.steps for found in known.take(step)]
    return tuple(Fault(story.source, path, message) for path, message in findings)


class _Known:
    """What is on the teardown so far, as the steps before have left it."""

    def __init__(self, sheet: Sheet, people: set[str]) -> None:
        self._people = people
        self._made: set[str] = set()
        self._use(sheet)

    def _use(self, sheet: Sheet) -> None:
        self._sheet = sheet
        self.spaces: Mapping[str, Space] = {space.id: space for space in sheet.spaces}
        self.openings: Mapping[str, Opening] = {opening.id: opening for opening in sheet.openings}
        self.closures: Mapping[str, Closure] = {closure.id: closure for closure in sheet.closures}
        self._lines = {line.id for line in sheet.lines} | self._made
        self._cautions = {caution.id for caution in sheet.cautions}

    def take(self, step: Step) -> Iterator[Finding]:
        """The faults of one step; what it brings is known from here on."""
        if step.do == "join":
            self._people.add(step.name)
        if step.sheet is not None:
            yield from self._grow(step.sheet, step.path)
        yield from self._names(step)
        yield from self._pieces(step)
        yield from self._places(step)

    def _grow(self, part: Sheet, path: str) -> Iterator[Finding]:
        whole = merge_sheets(self._sheet, part)
        for fault in check_sheet(whole, growing=True):
            yield f"{path}.sheet", f"with this the sheet has a fault at {spoken_path(fault.path)}: {fault.message}"
        self._use(whole)

    def _names(self, step: Step) -> Iterator[Finding]:
        yield from _one_of(step, "who", step.who, self._people, "person")
        yield from _one_of(step, "line", step.line, self._lines, "line")
        yield from _one_of(step, "closure", step.closure, self.closures, "closure")
        yield from _one_of(step, "opening", step.opening, self.openings, "opening")
        yield from _one_of(step, "space", step.space, self.spaces, "space")
        yield from _one_of(step, "caution", step.caution, self._cautions, "caution")
        for closure, _ in step.expected.stage:
            yield from _one_of(step, "stage", closure, self.closures, "closure")
        for opening, _ in step.expected.opening_state:
            yield from _one_of(step, "opening_state", opening, self.openings, "opening")
        for index, figure in enumerate(step.counted):
            yield from _one_of(step, f"counted[{index}].line", figure.line, self._lines, "line")

    def _pieces(self, step: Step) -> Iterator[Finding]:
        for index, piece in enumerate(step.into):
            if piece.kind not in LINE_KINDS:
                guess = near_miss(piece.kind, LINE_KINDS)
                yield f"{step.path}.into[{index}].kind", f"is not one of: {choices(LINE_KINDS)}{guess}"
            if not 1 <= piece.quantity <= MOST:
                yield f"{step.path}.into[{index}].quantity", f"is not a number of pieces; it goes from 1 to {MOST}"
            self._made.add(piece.id)
            self._lines.add(piece.id)

    def _places(self, step: Step) -> Iterator[Finding]:
        said = [("from", step.source), ("to", step.target), ("at", step.at)]
        said += [(f"counted[{index}].at", figure.at) for index, figure in enumerate(step.counted)]
        for key, words in said:
            if words and not read_place(words, self):
                yield f"{step.path}.{key}", (
                    f"{shown(words)} is no place here; say 'in the tray', 'on the bench', 'put away', 'in the engine', "
                    "'in <space>', 'on <closure>', 'fitted to <closure>', 'covering <opening>' or 'in scrap'"
                )


def _one_of(step: Step, key: str, name: str, known: Iterable[str], what: str) -> Iterator[Finding]:
    names = list(known)
    if name and name not in names:
        yield f"{step.path}.{key}", f"there is no {what} {shown(name)} at this step{near_miss(name, names)}"
