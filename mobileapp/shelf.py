"""The shelf of teardown sheets: finds them, reads their files, and says plainly why one cannot be used."""

from __future__ import annotations

from pathlib import Path

import checklists
from checklists.sheet import Sheet
from checklists.sheet_fault import Fault, near_miss, report, shown
from checklists.sheet_reading import read_sheet

#: Beside the rules, in the repository as in an installed wheel and on the phone.
SHEETS = Path(checklists.__file__).parent / "sheets"
#: Thirty times the largest sheet shipped is surely something else.
MOST_BYTES = 250_000


class SheetFault(Exception):
    """A sheet cannot be used; `faults` holds every reason."""

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        super().__init__(report(faults))
        self.faults = faults


def shipped_sheets() -> dict[str, Path]:
    """The sheets that come with Countback: short name -> file, in the order of their names."""
    return {path.stem: path for path in sorted(SHEETS.glob("*.toml"))}


def load_sheet(name_or_path: str | Path) -> Sheet:
    """The sheet of that short name, or in that file. Raises SheetFault with everything that is wrong."""
    path = shipped_sheets().get(str(name_or_path)) or Path(name_or_path)
    source = str(name_or_path)
    sheet, faults = read_sheet(_text(path, source), source)
    if sheet is None:
        raise SheetFault(faults)
    return sheet


def _text(path: Path, source: str) -> str:
    try:
        return _bytes(path, source).decode("utf-8-sig")
    except UnicodeDecodeError as broken:
        raise _cannot(source, f"this file is not UTF-8 text (byte {broken.start + 1}); save it as UTF-8") from broken


def _bytes(path: Path, source: str) -> bytes:
    try:
        if path.is_dir():
            raise _cannot(source, f"this is a folder, not a sheet; {_files_in(path)}")
        if path.exists() and not path.is_file():
            raise _cannot(source, "this is a device or a pipe, not a file; name a sheet file")
        with path.open("rb") as file:
            data = file.read(MOST_BYTES + 1)
    except (FileNotFoundError, NotADirectoryError) as missing:
        raise _cannot(source, f"there is no such file; {_shipped_instead(source)}") from missing
    except PermissionError as barred:
        raise _cannot(source, "this file may not be read; change its permissions or copy it") from barred
    except (OSError, ValueError) as broken:
        why = getattr(broken, "strerror", None) or str(broken)
        raise _cannot(source, f"this file cannot be read ({why}); try a fresh copy of it") from broken
    if len(data) > MOST_BYTES:
        raise _cannot(source, f"this file is larger than {MOST_BYTES} bytes, so it is no sheet; name a sheet file")
    return data


def _cannot(source: str, message: str) -> SheetFault:
    return SheetFault((Fault(source, "", message),))


def _files_in(folder: Path) -> str:
    names = [path.name for path in sorted(folder.glob("*.toml"))]
    return f"name one of its files: {', '.join(names[:9])}" if names else "name a file that ends in .toml"


def _shipped_instead(source: str) -> str:
    known = shipped_sheets()
    guess = near_miss(source, known)
    return f"check its spelling, or use a shipped sheet: {', '.join(shown(name) for name in known)}{guess}"
