"""Every reason leads somewhere: to the screen where it is put right, or back to the form where it was tried.

The codes are read from the source, so that a new one cannot be forgotten here.
"""

from __future__ import annotations

import ast
import importlib.util
from collections.abc import Iterator
from pathlib import Path

import pytest
from tiny_photos import tiny

from checklists.merging import ODD, SHORT, TWICE
from checklists.reasons import Reason
from checklists.refusing import NOT_KEPT, USED
from mobileapp.journal import open_journal
from mobileapp.rehearsal import play
from mobileapp.screens.lead import ON_THE_FORM, WAYS, way_to_mend
from mobileapp.story_shelf import Script, load_story

_HERE = Path(__file__).parents[2]
SOURCES = [path for folder in ("checklists", "mobileapp") for path in (_HERE / folder).rglob("*.py")]
#: What is given as a code where it is not written out, and what it can be there.
NOT_WRITTEN_OUT = {
    "NOT_KEPT": {NOT_KEPT},
    "USED": {USED},
    "clash.kind": {TWICE, SHORT, ODD},
    "code": {"in the engine", "cover in place", "not looked into", "not clear", "look out of date", "surplus",
             "not there"},
    "f'unknown {key}'": {"unknown line", "unknown closure", "unknown opening"},
}  # fmt: skip
#: What makes a reason, and which of its arguments is the code.
_MAKERS = {"no": 0, "Reason": 0, "of_items": 1}


def given(path: Path) -> Iterator[ast.expr]:
    """Every expression that gives a reason its code in a file."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        name = getattr(node.func, "id", "") if isinstance(node, ast.Call) else ""
        if name in _MAKERS and len(node.args) > _MAKERS[name]:
            code = node.args[_MAKERS[name]]
            yield from (code.body, code.orelse) if isinstance(code, ast.IfExp) else (code,)


def codes() -> set[str]:
    found: set[str] = set()
    for path in SOURCES:
        for code in given(path):
            found |= {code.value} if isinstance(code, ast.Constant) else NOT_WRITTEN_OUT[ast.unparse(code)]
    return found


def test_every_code_has_one_way_and_every_way_a_code():
    assert len(codes()) > 90
    assert codes() - set(WAYS) - ON_THE_FORM == set()
    assert (set(WAYS) | ON_THE_FORM) - codes() == set()
    assert set(WAYS) & ON_THE_FORM == set()


@pytest.mark.parametrize("code", sorted(WAYS))
def test_each_way_is_a_screen(code: str, half_way):
    reason = Reason(code, "why", "do", line="rag", line_name="Rag", place="bench", closure="inlet-manifold",
                    opening="inlet-1")  # fmt: skip
    for told in (reason, Reason(code, "why", "do")):
        name, args = way_to_mend(told, half_way)
        assert importlib.util.find_spec(f"mobileapp.screens.{name}") is not None
        assert all(isinstance(value, str) for value in args.values())


@pytest.fixture(scope="module")
def half_way(tmp_path_factory):
    """The workboat, its manifold off."""
    script = load_story("workboat")
    script = Script(script.story.until("counting"), script.sheet)
    with open_journal(tmp_path_factory.mktemp("leads") / "journal.sqlite") as journal:
        return play(script, journal, draw=tiny).state
