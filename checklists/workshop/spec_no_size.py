"""What is said where a specification has no thread size: its M was left out, or a spanner's size stands in its place.

A "10 mm bolt" is an M10 to one person and, by the spanner on it, an M6 to the next (common practice, no source).
Whoever took the larger for the smaller would look for it in too few places.
"""

from __future__ import annotations

import re

from checklists.sheet_fault import choices, shown
from checklists.workshop.fasteners import Tables

_LIKE = "M8x25 8.8, 1/4-28 x 1 gr 5 or M6 washer"
#: A size whose M was left out: "8x25", "8 mm bolt".
_BARE_SIZE = re.compile(r"(?<![\d.x/])(?:ø ?|n ?)?(?P<size>\d{1,2})(?P<rest> ?x ?\d+(?:\.\d+)?| ?mm\b)")
_FASTENER = re.compile(r"\b(?:bolt|screw|nut|stud|washer|capscrew)s?\b")
_KEYED = re.compile(r"\b(?:socket|shcs|cap head|key|allen)\b")
#: What no spanner and no key goes on.
_BY_THREAD = re.compile(r"\b(?:washer|stud)s?\b")


def no_size(text: str, plain: str, tables: Tables) -> str:
    """Why `text` has no thread size; `plain` is the same tidied."""
    found = _BARE_SIZE.search(plain) if _FASTENER.search(plain) else _BARE_SIZE.match(plain)
    if not found:
        return _unknown(text)
    thread = f"M{found['size']}" if tables.threads_of(f"M{found['size']}") else ""
    if "mm" in found["rest"] and not _BY_THREAD.search(plain):
        return _thread_or_tool(found, thread, "key" if _KEYED.search(plain) else "spanner", tables) or _unknown(text)
    if not thread:
        return _unknown(text)
    meant = shown(thread if "mm" in found["rest"] else thread + found["rest"])
    return f"{shown(found[0])} is no thread size; did you mean {meant}?"


def _unknown(text: str) -> str:
    return f"{shown(text)} has no thread size that is known here; write it like {_LIKE}."


def _thread_or_tool(found: re.Match[str], thread: str, tool: str, tables: Tables) -> str:
    """Both that it can mean; nothing where it is neither."""
    sizes = [size for size in _taken_by(int(found["size"]), tool, tables) if size != thread]
    if not thread and not sizes:
        return ""
    whose = f"({choices(sizes)} takes that)" if sizes else "of a smaller one"
    by_thread = f"thread ({thread}) or of the " if thread else ""
    like = f"it, like {choices([*([thread] if thread else []), *sizes])}" if sizes else "that"
    return f"{shown(found[0])} can be the size of the {by_thread}{tool} {whose}: measure the thread and write {like}."


def _taken_by(mm: int, tool: str, tables: Tables) -> list[str]:
    """The metric sizes, as far as the tables hold them, whose head or nut takes a tool of that size."""
    if tool == "key":
        held = [socket.size for socket in tables.sockets if socket.key == mm]
    else:
        held = [row.size for row in (*tables.heads, *tables.nuts) if not row.flange and row.flats.high == mm]
    return [size for size in dict.fromkeys(held) if size.startswith("M")]
