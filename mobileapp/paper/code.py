"""The QR code of a closing sheet: teardown, state and heads in plain lines, which any reader shows to a person."""

from __future__ import annotations

from hashlib import sha256
from typing import NamedTuple

FIRST = "Countback closing sheet 1"
#: The heads of more phones would make squares too small to read, or not fit at all: then one hash stands for them.
MOST_HEADS = 5


class CodeSays(NamedTuple):
    """What a code carries; `heads` as (device, hash). `together` is the SHA-256 of the lines of many heads."""

    teardown: str
    state: str
    heads: tuple[tuple[str, str], ...]
    together: str = ""


def code_text(says: CodeSays) -> str:
    """The code's text."""
    heads = [f"head {device} {head}" for device, head in says.heads]
    if len(heads) > MOST_HEADS:
        heads = [f"heads {len(heads)} sha256 {heads_together(says.heads)}"]
    return "\n".join([FIRST, f"teardown {says.teardown}", f"state {says.state}", *heads])


def heads_together(heads: tuple[tuple[str, str], ...]) -> str:
    """One hash for many heads: of a line "device hash" for each, as the sheet lists them."""
    return sha256("".join(f"{device} {head}\n" for device, head in heads).encode()).hexdigest()


def read_code(text: str) -> CodeSays | None:
    """What a code says; None where it is not one of ours."""
    first, *lines = text.split("\n")
    if first != FIRST:
        return None
    pairs = [line.partition(" ")[::2] for line in lines]
    said = dict(pairs)
    ends = [value.rpartition(" ") for name, value in pairs if name == "head"]
    heads = tuple((device, head) for device, _, head in ends)
    together = said.get("heads", "").rpartition(" ")[2]
    return CodeSays(said.get("teardown", ""), said.get("state", ""), heads, together)


def modules(text: str) -> list[list[bool]]:
    """The code's dark and light squares, without a margin. The mask is a fixed one: any is valid, and trying costs."""
    import qrcode

    code = qrcode.QRCode(error_correction=qrcode.ERROR_CORRECT_M, border=0, mask_pattern=3)
    code.add_data(text.encode("utf-8"))
    code.make(fit=True)
    return [[bool(module) for module in row] for row in code.modules]
