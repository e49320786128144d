"""What is wrong with something that is to be added to a sheet, told by the keys of the addition itself."""

from __future__ import annotations

import re

from checklists.sheet import Sheet, merge_sheets
from checklists.sheet_check import check_sheet

_ROW = re.compile(r"(caution|space|passage|opening|closure|line)\[(\d+)\]")


def faults_of_addition(sheet: Sheet, part: Sheet) -> dict[str, str]:
    """Each fault that `part` would bring onto `sheet`: key path within `part` -> what is wrong.

    A fault of the sheet itself, which was there before, is not one of the addition.
    """
    before = {
        "caution": len(sheet.cautions), "space": len(sheet.spaces), "passage": len(sheet.passages),
        "opening": len(sheet.openings), "closure": len(sheet.closures), "line": len(sheet.items),
    }  # fmt: skip
    faults: dict[str, str] = {}
    for fault in check_sheet(merge_sheets(sheet, part), growing=True):
        row = _ROW.match(fault.path)
        if row is None:
            continue
        key, at = row[1], int(row[2]) - before[row[1]]
        if at >= 0:
            faults.setdefault(f"{key}[{at}]{fault.path[row.end():]}", fault.message)
    return faults
