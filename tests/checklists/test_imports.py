"""The rules stand alone: standard library only, and no clock, no id of their own, no file."""

import ast
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

import checklists

ROOT = Path(checklists.__file__).parent
FILES = sorted(ROOT.rglob("*.py"))
#: Modules through which a rule could read a clock, make an id, draw lots, or touch the world.
WORLDLY = frozenset({
    "time", "uuid", "random", "secrets", "os", "io", "pathlib", "shutil", "tempfile", "glob", "sqlite3", "socket",
    "subprocess", "threading", "asyncio", "importlib", "pkgutil", "urllib", "http", "platform", "getpass", "locale",
    "logging", "ctypes", "multiprocessing", "sys", "builtins",
})  # fmt: skip
CLOCK_READS = frozenset({"now", "utcnow", "today"})
WORLDLY_CALLS = frozenset({"open", "input", "print", "exec", "eval", "compile", "__import__", "breakpoint"})


def trespasses(source: str) -> list[str]:
    """What a file of the rules may not do, in the order it does it."""
    return [said for node in ast.walk(ast.parse(source)) for said in _trespass(node)]


def _trespass(node: ast.AST) -> Iterator[str]:
    for module in _imported(node):
        top = module.partition(".")[0]
        if top in WORLDLY or (top != "checklists" and top not in sys.stdlib_module_names):
            yield f"imports {module}"
    if isinstance(node, ast.Attribute) and node.attr in CLOCK_READS:
        yield f"reads a clock: {ast.unparse(node)}"
    if isinstance(node, ast.Name) and node.id in WORLDLY_CALLS:
        yield f"uses {node.id}"


def _imported(node: ast.AST) -> list[str]:
    if isinstance(node, ast.Import):
        return [alias.name for alias in node.names]
    if isinstance(node, ast.ImportFrom):
        return ["." * node.level + (node.module or "")]
    return []


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
def test_the_rules_touch_nothing_but_themselves_and_the_standard_library(path: Path):
    assert trespasses(path.read_text("utf-8")) == []


def test_every_file_of_the_rules_was_looked_at():
    assert {"sheet.py", "sheet_reading.py", "facts.py", "places.py", "fact_codec.py"} <= {path.name for path in FILES}


@pytest.mark.parametrize(
    ("source", "trespass"),
    [
        ("import kivy.app", "imports kivy.app"),
        ("from mobileapp.journal import x", "imports mobileapp.journal"),
        ("from . import sheet", "imports ."),
        ("import os.path", "imports os.path"),
        ("def f():\n    import sqlite3", "imports sqlite3"),
        ("from uuid import uuid4", "imports uuid"),
        ("import time as t", "imports time"),
        ("import datetime\nx = datetime.datetime.now()", "reads a clock: datetime.datetime.now"),
        ("from datetime import date\nx = date.today()", "reads a clock: date.today"),
        ("x = open('a')", "uses open"),
        ("f = open", "uses open"),
        ("m = __import__('os')", "uses __import__"),
    ],
)
def test_a_trespass_is_noticed(source: str, trespass: str):
    assert trespasses(source) == [trespass]


def test_what_rules_may_do_is_left_alone():
    assert trespasses("import tomllib, json\nfrom datetime import datetime\nx = datetime.fromisoformat('')") == []
