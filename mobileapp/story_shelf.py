"""The shelf of stories: finds them, reads them with their sheets, and says plainly why one cannot be played."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import checklists
from checklists.sheet import Sheet
from checklists.sheet_fault import Fault, report
from checklists.sheet_reading import BLANK
from checklists.story import BLANK_SHEET, Story
from checklists.story_check import check_story
from checklists.story_reading import read_story
from mobileapp.shelf import SheetFault, load_sheet, shipped_sheets
from mobileapp.text_file import Unreadable, read_text

STORIES = Path(checklists.__file__).parent / "stories"


class StoryFault(Exception):
    """A story cannot be played; `faults` holds every reason."""

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        super().__init__(report(faults))
        self.faults = faults


@dataclass(frozen=True)
class Script:
    """A story that was checked, with the sheet it is played from."""

    story: Story
    sheet: Sheet


def shipped_stories() -> dict[str, Path]:
    """The stories that come with Countback: short name -> file, in the order of their names."""
    return {path.stem: path for path in sorted(STORIES.glob("*.toml"))}


def load_story(name_or_path: str | Path) -> Script:
    """The story of that short name, or in that file, ready to be played. Raises StoryFault with all that is wrong."""
    path = shipped_stories().get(str(name_or_path)) or Path(name_or_path)
    try:
        text = read_text(path, str(name_or_path), "story", shipped_stories())
    except Unreadable as why:
        raise StoryFault((Fault(str(name_or_path), "", str(why)),)) from why
    return script_of(text, str(name_or_path), path.parent)


def script_of(text: str, source: str, folder: Path) -> Script:
    """A story from its text; the sheet it names is looked for beside it, in `folder`."""
    story, faults = read_story(text, source)
    if story is None:
        raise StoryFault(faults)
    sheet = _sheet_of(story, folder)
    if faults := check_story(story, sheet):
        raise StoryFault(faults)
    return Script(story, sheet)


def _sheet_of(story: Story, folder: Path) -> Sheet:
    if story.sheet == BLANK_SHEET:
        return BLANK
    try:
        return load_sheet(story.sheet if story.sheet in shipped_sheets() else folder / story.sheet)
    except SheetFault as fault:
        named = [Fault(story.source, "sheet", f"{one.source}: {one}") for one in fault.faults]
        raise StoryFault(tuple(named)) from fault
