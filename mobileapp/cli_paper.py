"""The command line's words about paper: making a closing sheet, and proving that one belongs to a journal."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from mobileapp.cli_commands import prove
from mobileapp.exit_codes import BAD, GOOD, NO_ANSWER, Trouble
from mobileapp.named_teardown import chosen_of

if TYPE_CHECKING:  # imported in each command instead: no command waits for what another one needs
    from checklists.account.parts import Account
    from mobileapp.photos.store import PhotoStore

#: By name; the sizes themselves are in `paper.measures`.
PAPERS = ("A4", "Letter")


def paper_named(said: str) -> str:
    """The paper by its name, in whatever case it is typed."""
    return next((paper for paper in PAPERS if paper.lower() == said.lower()), said)


def closing_sheet(path: Path, teardown: str, paper: str, target: Path | None, *, replace: bool = False) -> int:
    """Write the closing sheet of a teardown."""
    from mobileapp.journal.store import read_journal
    from mobileapp.paper.closing_sheet import write_closing_sheet
    from mobileapp.record_files import leave_the_record

    _must_exist(path)
    with read_journal(path) as journal:
        chosen = chosen_of(journal, teardown)
        target = target or Path(f"closing-sheet-{chosen}.pdf")
        leave_the_record(target, path)
        if target.is_dir():
            raise Trouble(f"{target} is a folder: nothing was written. Name a file in it with --to.")
        if not target.parent.is_dir():
            what = f"There is no folder {target.parent}: nothing was written."
            raise Trouble(f"{what} Make it, or name another file with --to.")
        if target.is_file() and not replace:
            raise Trouble(f"{target} is there already: nothing was written. Name another file, or say --replace.")
        photos = _photos_of(path)
        account = write_closing_sheet(journal, chosen, photos, target, paper)
    print(f"{target}: {account.state}, {account.machine}, {account.entries} entries, {paper}")
    for line in _not_shown(account, photos):
        print(line)
    return 0


def _not_shown(account: Account, photos: PhotoStore) -> list[str]:
    never = sum(not picture.kept for picture in account.pictures())
    lost = sum(picture.kept and not photos.has(picture.sha) for picture in account.pictures())
    lines = [f"    {never} photos are named that never were kept; the sheet says so in their place."] if never else []
    return lines + ([f"    {lost} photos are missing from the store; the sheet says so."] if lost else [])


def prove_files(files: list[Path]) -> int:
    """Prove a journal, or a closing sheet against its journal: 0 only if nothing is wrong or left in doubt."""
    named = bool(files) and files[-1].suffix.lower() != ".pdf"
    *sheets, journal = files if named else [*files, _own_journal()]
    if len(sheets) > 1:
        raise Trouble("Name one sheet and one journal: countback prove SHEET.pdf JOURNAL")
    if sheets and not named:
        print(f"No journal is named: {sheets[0]} is held against {journal}.")
    proven = prove(journal)
    codes = [proven, *(_prove_sheet(sheet, journal) for sheet in sheets)]
    return BAD if BAD in codes else max(codes)


def _own_journal() -> Path:
    from mobileapp.data_folder import journal_path

    return journal_path()


def _prove_sheet(path: Path, journal: Path) -> int:
    from mobileapp.journal.errors import Damaged
    from mobileapp.paper.sheet_proving import prove_sheet

    try:
        data = path.read_bytes()
    except OSError as fault:
        raise Trouble(f"{path} cannot be read ({fault.strerror}). Name the closing sheet's PDF file.") from fault
    try:
        proof = prove_sheet(data, journal, _photos_of(journal))
    except Damaged as fault:
        print(f"{path}: not compared, for the journal cannot be read ({fault.detail}).")
        return 1
    for finding in proof.faults:
        print(f"DIFFERS in {finding.where}: {finding.what}")
    for finding in proof.doubts:
        print(f"CANNOT TELL of {finding.where}: {finding.what}")
    for finding in proof.remarks:
        print(f"remark on {finding.where}: {finding.what}")
    print(f"{path}: {proof.words}")
    if proof.faults:
        return BAD
    return NO_ANSWER if proof.doubts else GOOD


def _photos_of(journal: Path) -> PhotoStore:
    from mobileapp.photos.store import PhotoStore, beside

    return PhotoStore(beside(journal))


def _must_exist(path: Path) -> None:
    if not path.exists():
        raise Trouble(f"There is no journal at {path}. Name the file, or start a teardown in the app first.")
