"""The shelf of teardown sheets: finds them, reads their files, and says plainly why one cannot be used."""

from __future__ import annotations

from pathlib import Path

import checklists
from checklists.sheet import Sheet
from checklists.sheet_fault import Fault, report
from checklists.sheet_reading import read_sheet
from mobileapp.text_file import MOST_BYTES, Unreadable, read_text

__all__ = ["MOST_BYTES", "SheetFault", "load_sheet", "shipped_sheets"]

#: Beside the rules, in the repository as in an installed wheel and on the phone.
SHEETS = Path(checklists.__file__).parent / "sheets"


class SheetFault(Exception):
    """A sheet cannot be used; `faults` holds every reason. `read` is False where there is no text to find faults in."""

    def __init__(self, faults: tuple[Fault, ...], read: bool = True) -> None:
        super().__init__(report(faults))
        self.faults, self.read = faults, read


def shipped_sheets() -> dict[str, Path]:
    """The sheets that come with Countback: short name -> file, in the order of their names."""
    return {path.stem: path for path in sorted(SHEETS.glob("*.toml"))}


def load_sheet(name_or_path: str | Path) -> Sheet:
    """The sheet of that short name, or in that file. Raises SheetFault with everything that is wrong."""
    path = shipped_sheets().get(str(name_or_path)) or Path(name_or_path)
    source = str(name_or_path)
    try:
        text = read_text(path, source, "sheet", shipped_sheets())
    except Unreadable as why:
        raise SheetFault((Fault(source, "", str(why)),), read=False) from why
    sheet, faults = read_sheet(text, source)
    if sheet is None:
        raise SheetFault(faults)
    return sheet
