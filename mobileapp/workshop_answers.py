"""What the workshop's commands share: reading what was typed, the teardown that is meant, and telling the answer."""

from __future__ import annotations

import json
from argparse import Namespace
from collections.abc import Iterable
from pathlib import Path
from typing import Any, TypeVar

from checklists.facts_measured import Gauge
from checklists.gauges import instrument_of
from checklists.state import Teardown
from checklists.workshop.units import Figure, NotUnderstood, read_figure
from mobileapp.exit_codes import BAD, GOOD, Trouble
from mobileapp.named_teardown import chosen_of

Read = TypeVar("Read")
Answer = dict[str, Any]


def tell(said: Namespace, answer: Answer, lines: Iterable[str], good: bool = True) -> int:
    """Print the answer, as words or as JSON; the exit code says whether it is a good one."""
    if said.json:
        print(json.dumps(answer, ensure_ascii=False, indent=2, default=str))
    else:
        for line in lines:
            print(line)
    return GOOD if good else BAD


def understood(read: Read | NotUnderstood, option: str) -> Read:
    """What was read; where it was not understood, that is said of its option."""
    if isinstance(read, NotUnderstood):
        raise Trouble(f"{option}: {read.words}")
    return read


def length_typed(text: str, option: str) -> Figure:
    """A length typed for an option."""
    return understood(read_figure(text, "length"), option)


def needed(said: Namespace, *options: str) -> None:
    """Refuse where one of these options was not given."""
    missing = [f"--{name.replace('_', '-')}" for name in options if not getattr(said, name)]
    if missing:
        raise Trouble(f"Not said: {', '.join(missing)}. See: countback {said.command} --help")


def goes_with(said: Namespace, what: str, *options: str) -> None:
    """Refuse each of these options, for nothing stands there that it goes with: it would be left out of the answer."""
    for option in options:
        if getattr(said, option):
            raise Trouble(f"--{option.replace('_', '-')} goes with {what}.")


def one_of_both(said: Namespace, what: str, *options: str) -> None:
    """Refuse each of these options beside what is there already."""
    for option in options:
        if getattr(said, option):
            raise Trouble(f"{what} and --{option}: say one of them.")


def gauge_said(said: Namespace) -> Gauge:
    """The instrument, by what it reads to and its largest error."""
    needed(said, "reads_to")
    return Gauge("scale" if said.command != "limits" else "gauge", said.reads_to, said.error)


def instrument_said(said: Namespace, kind: str) -> Gauge:
    """The same, read; what cannot be is said of its own option."""
    gauge = gauge_said(said)
    error = understood(read_figure(said.error, kind), "--error") if said.error.strip() else None
    if error is not None and error.number < 0:
        raise Trouble("--error: An error is not below zero.")
    understood(instrument_of(gauge, kind), "--reads-to")
    return gauge


def teardown_said(said: Namespace) -> Teardown:
    """The teardown that is meant: the one named, or the only one."""
    from checklists.teardown import fold
    from mobileapp.data_folder import journal_path
    from mobileapp.journal import open_journal

    path: Path = said.journal or journal_path()
    if not path.exists():
        raise Trouble(f"There is no journal at {path}. Name one with --journal, or give figures: "
                      f"countback {said.command} --help")  # fmt: skip
    with open_journal(path) as journal:
        return fold(journal.entries(chosen_of(journal, said.teardown)))
