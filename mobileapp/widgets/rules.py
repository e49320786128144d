"""Load the .kv file beside a module, once: a .kv loaded twice doubles its rules."""

from __future__ import annotations

from pathlib import Path

from kivy.lang import Builder


def load_rules(module_file: str) -> None:
    """Load `<stem>.kv` beside `module_file`, unless that was done before."""
    path = str(Path(module_file).resolve().with_suffix(".kv"))
    if path not in Builder.files:
        Builder.load_file(path)
