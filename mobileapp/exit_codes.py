"""What the exit codes of `countback` mean, the same for every command, and what gives them: each help says them."""

from __future__ import annotations

GOOD, BAD, NO_ANSWER = 0, 1, 2


class Trouble(Exception):
    """Something the person must put right; the message says what and how. `code` is the exit code that it gives."""

    code = NO_ANSWER


class BadAnswer(Trouble):
    """What was asked about is bad, and was found so before anything was done with it."""

    code = BAD


#: What 1 means for each command; a command that is not here has no bad answer.
WHEN_BAD = {
    "demo": "the story did not go as written, or its screens could not be drawn",
    "rehearse": "an expectation did not hold",
    "sheets": "a sheet has a fault",
    "prove": "something is wrong with the journal, its photos or the sheet",
    "pack": "a photo is lost",
    "unpack": "the pack is damaged, altered or refused, or lacks a photo",
    "backup": "a photo is lost",
    "restore": "the backup is damaged, altered or refused, or lacks a photo",
    "pieces": "the pieces do not add up, or the scale cannot tell",
    "weigh": "the scale cannot tell, or no whole number fits",
    "limits": "it is outside, too close to call, or not measured",
    "torque": "a figure wants a second look",
    "order": "the figure is written in two units that are not the same torque",
}

#: What else 2 means for a command.
WHEN_NONE = {"prove": "or the sheet is not proven: made with other versions, and what differs cannot be told here"}


def codes_of(command: str) -> str:
    """The exit codes of a command, as its help says them."""
    bad = WHEN_BAD.get(command)
    return "\n".join(
        [
            "exit codes:",
            f"  0  {'the answer is a good one' if bad else 'done'}",
            *([f"  1  {bad}"] if bad else []),
            "  2  no answer: something typed is not understood, or what it names is not there or cannot be used",
            *([f"     {WHEN_NONE[command]}"] if command in WHEN_NONE else []),
        ]
    )


def worst(*codes: int) -> int:
    """The code of several answers: the highest."""
    return max(codes, default=GOOD)
