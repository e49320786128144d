"""What is said of photos in a pack, on the screens and the command line alike."""

from __future__ import annotations


def awaited_words(number: int) -> str:
    """How many of its photos the camera brought and nobody came back for."""
    one = number == 1
    who = f"{number} of these photos {'was' if one else 'were'} brought by the camera, and nobody came back for"
    return f"{who} {'it' if one else 'them'}: the app offers {'it' if one else 'them'}."
