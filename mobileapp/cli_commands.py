"""What the words of the command line do. Each returns the exit code; what they tell goes to standard output."""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Iterable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from mobileapp.exit_codes import BAD, GOOD, NO_ANSWER, Trouble, worst
from mobileapp.named_teardown import no_teardown

if TYPE_CHECKING:  # imported in each command instead: no command waits for what another one needs
    from checklists.state import Teardown
    from mobileapp.journal import Journal
    from mobileapp.story_shelf import Script


def demo(folder: Path, *, window: bool) -> int:
    """Play the workboat story into `folder`, then show it."""
    from mobileapp.demo import run_demo

    return run_demo(folder, window=window, tell=partial(print, flush=True))


def rehearse(stories: Iterable[str], journal: Path | None) -> int:
    """Play stories: good only if every expectation of every story held."""
    if journal is not None:
        return _rehearse(stories, journal)
    with tempfile.TemporaryDirectory(prefix="countback-rehearsal-") as folder:
        return _rehearse(stories, Path(folder) / "journal.sqlite")


def _rehearse(stories: Iterable[str], path: Path) -> int:
    from mobileapp.journal import open_journal
    from mobileapp.story_shelf import StoryFault, load_story

    code = GOOD
    with open_journal(path) as journal:
        for name in stories:
            try:
                script = load_story(name)
            except StoryFault as fault:
                print(fault, file=sys.stderr)
                code = NO_ANSWER
                continue
            code = worst(code, GOOD if _play(script, journal) else BAD)
    return code


def _play(script: Script, journal: Journal) -> bool:
    from mobileapp.cli_words import ending_words, result_lines
    from mobileapp.rehearsal import play

    rehearsal = play(script, journal)
    for result in rehearsal.results:
        for line in result_lines(result, rehearsal.state):
            print(line)
    print(ending_words(rehearsal))
    return rehearsal.held


def sheets(names: list[str]) -> int:
    """List the shipped sheets, or check the named ones."""
    from checklists.words import how_many
    from mobileapp.shelf import SheetFault, load_sheet, shipped_sheets

    code = GOOD
    for name in names or shipped_sheets():
        try:
            sheet = load_sheet(name)
        except SheetFault as fault:
            print(fault, file=sys.stderr)
            code = worst(code, BAD if fault.read else NO_ANSWER)
            continue
        fasteners = sum(fastener.quantity for closure in sheet.closures for fastener in closure.fasteners)
        print(f"{name}: {sheet.name}")
        parts = [(len(sheet.closures), "closure"), (fasteners, "fastener"), (len(sheet.openings), "opening")]
        others = [(len(sheet.spaces), "space"), (len(sheet.cautions), "caution"), (len(sheet.items), "other line")]
        for row in (parts, others):
            print(f"    {', '.join(how_many(*one) for one in row)}")
    return code


def tally(path: Path, teardown: str) -> int:
    """Print where every item of a journal's teardowns is."""
    from checklists.state import tally as figures_of
    from mobileapp.cli_words import AWAY, balance_lines, is_marked, note_lines, tally_words
    from mobileapp.journal.store import read_journal

    _must_exist(path)
    marked = False
    with read_journal(path) as journal:
        cards = [card for card in journal.teardowns() if teardown in ("", card.teardown)]
        if not cards:
            raise Trouble(no_teardown(path, teardown, [card.teardown for card in journal.teardowns()]))
        for card in cards:
            state = _folded(journal, card.teardown)
            print(f"{card.teardown}: {card.machine} ({card.sheet}), {card.state}, started {card.started}")
            print(f"    {tally_words(figures_of(state))}")
            lines = list(balance_lines(state))
            marked = marked or any(is_marked(line) for line in lines)
            for line in (*lines, *note_lines(state)):
                print(line)
    if marked:
        print(AWAY)
    return 0


def _folded(journal: Journal, teardown: str) -> Teardown:
    from checklists.teardown import fold

    try:
        return fold(journal.entries(teardown))
    except (LookupError, ValueError, TypeError, AttributeError) as fault:
        # Entries that were changed behind the journal's back can make anything of the rules.
        raise Trouble(
            f"The entries of {teardown} make no sense. Run: countback prove {journal.path}"
        ) from fault


#: What to do with a journal that is not proven.
_WHEN_WRONG = (
    "What to do: trust no count in it, and count again what is open. Bring back what is whole, into a new file:\n"
    "  from a backup:      countback restore BACKUP --into NEW.sqlite\n"
    "  from another phone: countback unpack PACK --into NEW.sqlite"
)


def prove(path: Path) -> int:
    """Prove a journal: its chains, balances, schema and photos; bad where anything is wrong, and exactly what."""
    from checklists.words import how_many
    from mobileapp.journal import examine
    from mobileapp.photos.proving import prove_photos_of

    _must_exist(path)
    proof = examine(path)
    photos = prove_photos_of(path, proof)
    faults = [*proof.faults, *photos.faults]
    for finding in faults:
        print(f"WRONG in {finding.where}: {finding.what}")
    for finding in [*proof.remarks, *photos.remarks]:
        print(f"remark on {finding.where}: {finding.what}")
    entries = f"{proof.entries} {'entry' if proof.entries == 1 else 'entries'}"
    counted = f"{entries} of {how_many(proof.teardowns, 'teardown')}"
    if photos.photos:
        counted += f" and {how_many(photos.photos, 'photo')}"
    if faults:
        print(f"{path}: {len(faults)} wrong ({counted} read). Keep the file as it is, and a copy of it.")
        if proof.faults and proof.is_journal:
            print(_WHEN_WRONG)
        return 1
    print(f"{path}: {counted} proven; nothing is wrong.")
    return 0


def _must_exist(path: Path) -> None:
    if not path.exists():
        raise Trouble(f"There is no journal at {path}. Name the file, or start a teardown in the app first.")
