"""When this phone received a photo, and by what that is known: it is recorded later where nobody came back for it."""

from __future__ import annotations

from typing import NamedTuple

from checklists.times import seconds_between

#: By what a receipt is known. NOTED: it was noted as the photo came. ASKED: the camera was asked for it then, and the
#: app was stopped before it came. FILE: only its file's own time was left. RESTORED: it came back with a backup then,
#: and when it was first received was not in it.
NOTED, ASKED, FILE, RESTORED = "", "asked for", "file", "restored"
KINDS = (NOTED, ASKED, FILE, RESTORED)

#: The storage takes seconds for a large photo; what is written down so much later was left lying first.
_AT_ONCE = 60

_SAID = {
    ASKED: "Received after {when}, when the camera was asked for it",
    FILE: "Received {when} by its file's own time",
    RESTORED: "Came back with a backup {when}; when it was first received was not noted",
}


class Receipt(NamedTuple):
    """When a photo was received (ISO 8601 with offset), and by what that is known."""

    at: str
    by: str = NOTED


def received_words(when: str, by: str) -> str:
    """The same in words; `when` as the reader writes times. Of what is not known here, at least the time."""
    return _SAID.get(by, "Received {when}").format(when=when)


def was_late(received: str, by: str, recorded: str) -> bool:
    """Whether a photo was recorded other than as it came: by whatever clock, one set back in between too."""
    try:
        return by != NOTED or not 0 <= seconds_between(received, recorded) <= _AT_ONCE
    except (ValueError, TypeError):
        return False  # a time that cannot be read is shown as it is
