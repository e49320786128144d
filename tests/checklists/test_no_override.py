"""There is no override: no rule, no service and no word of the command line takes one.

Looked for by name and by inspection; that no act gets past the gate under any name is what the random stories show.
"""

import argparse
import importlib
import inspect
import pkgutil
import re
from collections.abc import Iterator

import pytest

import checklists
import mobileapp.service
from checklists.facts import FACT_TYPES
from checklists.gate import why_not
from checklists.judge import judge
from mobileapp import cli

FORBIDDEN = re.compile(
    r"force|overrid|skip|ignor|bypass|unsafe|anyway|regardless|no_?check|without_?check|trust|admin|sudo|relax|lenient"
)
MODULES = [mobileapp.service] + [
    importlib.import_module(found.name) for found in pkgutil.walk_packages(checklists.__path__, "checklists.")
]


def functions(module) -> Iterator[tuple[str, object]]:
    """Every function and method that is written in a module, and the making of its classes."""
    for name, thing in vars(module).items():
        if getattr(thing, "__module__", "") != module.__name__:
            continue
        if inspect.isfunction(thing):
            yield name, thing
        elif inspect.isclass(thing):
            yield name, thing
            yield from ((f"{name}.{n}", m) for n, m in vars(thing).items() if inspect.isfunction(m))


def parameters(thing) -> list[str]:
    try:
        return list(inspect.signature(thing).parameters)
    except ValueError:
        return []


@pytest.mark.parametrize("module", MODULES, ids=lambda module: module.__name__)
def test_no_function_of_the_rules_or_the_service_takes_an_override(module):
    taken = {f"{name}({p})" for name, thing in functions(module) for p in parameters(thing) if FORBIDDEN.search(p)}
    assert taken == set()
    assert [name for name, _ in functions(module) if FORBIDDEN.search(name.lower())] == []


def test_every_module_of_the_rules_was_looked_at():
    names = {module.__name__ for module in MODULES}
    assert {"checklists.gate", "checklists.judge", "checklists.teardown", "checklists.builders"} <= names
    assert sum(len(list(functions(module))) for module in MODULES) > 200


def test_such_a_parameter_would_be_noticed():
    assert all(FORBIDDEN.search(name) for name in ("force", "override", "skip_checks", "ignore_missing", "nocheck"))


def test_the_gate_is_asked_with_the_state_and_nothing_else():
    assert parameters(why_not) == ["teardown", "closure"]
    assert parameters(judge) == ["teardown", "fact", "at", "who"]
    assert parameters(mobileapp.service.TeardownService.record) == ["self", "fact"]


def test_no_fact_carries_an_override():
    carried = {f"{kind}.{p}" for kind, fact in FACT_TYPES.items() for p in parameters(fact) if FORBIDDEN.search(p)}
    assert carried == set()


def options(parser: argparse.ArgumentParser) -> Iterator[str]:
    """Every option and argument of a command line, with those of its words."""
    for action in parser._actions:
        if isinstance(action, argparse._SubParsersAction):
            for word, below in action.choices.items():
                yield word
                yield from options(below)
        yield from action.option_strings
        yield action.dest


def test_the_command_line_has_no_override():
    offered = set(options(cli.make_parser()))
    assert {"rehearse", "prove", "tally", "demo"} <= offered
    assert [option for option in offered if FORBIDDEN.search(option)] == []
