"""Every shipped story, and a careful job on every shipped sheet, kept a second time by a bookkeeping program.

The program is beancount 3 (https://github.com/beancount/beancount, GPL-2.0-only): installed by the test extra only, run
through its own loader and its own balance check, nothing of it copied. It must come to every balance we come to, and
object wherever our ledger refuses for want of items.
"""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest
from beancount import loader
from beancount.core import realization
from beancount.core.data import Balance, Transaction
from beancount.ops.balance import BalanceError
from bookkeeping import Ledger
from careful_worker import CarefulWorker
from never_below_zero import BelowZero
from tiny_photos import tiny

from checklists.facts import Counted, Entry, Fact, Move, Person, moves_of
from checklists.judge import judge
from checklists.reasons import Reason
from checklists.state import Teardown
from checklists.story_acts import acts_of, unknown_to
from checklists.teardown import apply, fold
from mobileapp.journal import open_journal
from mobileapp.rehearsal import Rehearsal, play
from mobileapp.shelf import load_sheet, shipped_sheets
from mobileapp.story_shelf import load_story, shipped_stories

#: Reasons that mean: there are not so many to take.
WANTING = {"surplus", "not there"}
#: These are steps that only ask, or that were refused before any movement was thought of.
ASKING = ("why not", "why not lift", "why not close", "wait")


@pytest.fixture(scope="module")
def rehearsed(tmp_path_factory: pytest.TempPathFactory):
    """Each shipped story, played once into a journal of its own."""
    played: dict[str, Rehearsal] = {}

    def rehearse(name: str) -> Rehearsal:
        if name not in played:
            with open_journal(tmp_path_factory.mktemp("stories") / f"{name}.sqlite") as journal:
                played[name] = play(load_story(name), journal, draw=tiny)
        return played[name]

    return rehearse


def careful(sheet: str) -> list[Entry]:
    """The history of a careful job on a sheet, by two people."""
    worker = CarefulWorker(load_sheet(sheet), (Person("Ines Vardal", "fitter"), Person("Tomas Reke", "deckhand")))
    worker.work()
    return worker.teardown.history


JOBS = [("story", name) for name in shipped_stories()] + [("sheet", name) for name in shipped_sheets()]


@pytest.fixture(params=JOBS, ids=" ".join)
def history(request: pytest.FixtureRequest, rehearsed) -> list[Entry]:
    """What happened in a story, or in a careful job."""
    kind, name = request.param
    return rehearsed(name).state.history if kind == "story" else careful(name)


def booked(text: str):
    """What beancount makes of a ledger: its entries and its errors."""
    entries, errors, _ = loader.load_string(text)
    return entries, errors


def test_beancount_comes_to_every_balance_we_come_to(history):
    ledger = Ledger(history)
    entries, errors = booked(ledger.text())
    assert errors == []
    real = realization.realize(entries)
    ours = fold(history)
    for line, code in ledger.commodity.items():
        for place, account in ledger.account.items():
            theirs = realization.get_or_create(real, account).balance.get_currency_units(code).number
            assert theirs == Decimal(ours.quantity(line, place)), (line, place)


def test_every_movement_and_every_count_was_put_before_beancount(history):
    """The check before is worth no more than what it was given."""
    ledger = Ledger(history)
    entries, _ = booked(ledger.text())
    moved = [entry for entry in history if moves_of(entry.fact)]
    assert len([entry for entry in entries if isinstance(entry, Transaction)]) == len(moved) > 20
    asserted = [entry for entry in entries if isinstance(entry, Balance)]
    assert len(asserted) > 2 * len(moved)


def test_taking_one_more_than_there_is_is_refused_by_both(history):
    """Before each count, somebody tries to take one more than the place holds: our rules refuse, beancount objects."""
    ledger = Ledger(history)
    text, state, tried = ledger.opened(), Teardown(), []
    for n, entry in enumerate(history, 1):
        if isinstance(entry.fact, Counted):
            over = overdrawn(state, entry.fact.moves[0])
            assert WANTING & {reason.code for reason in judge(state, Counted((over,)), entry.at, entry.who)}
            tried.append(f"taken before entry {n}")
            text += ledger.transaction(n, tried[-1], [over])
            text += ledger.transaction(
                n, f"put back before entry {n}", [over._replace(source=over.target, target=over.source)]
            )
        if moves := moves_of(entry.fact):
            text += ledger.transaction(n, f"entry {n}", moves)
        apply(state, entry)
    _, errors = booked("\n".join(text) + "\n")
    assert {type(error) for error in errors} == {BelowZero}
    assert [error.entry.narration for error in errors] == tried
    assert len(tried) > 10


def overdrawn(state: Teardown, move: Move) -> Move:
    return move._replace(quantity=state.quantity(move.line, move.source) + 1)


def test_beancount_objects_wherever_a_story_is_refused_for_want_of_items(rehearsed):
    """Each step refused so, in whichever story, is posted all the same, at its place in the ledger."""
    posted = []
    for name in shipped_stories():
        done: list[Entry] = []
        for result in rehearsed(name).results:
            if result.step is not None and WANTING & {reason.code for reason in result.reasons}:
                fact = refused_fact(fold(done), result.step, result.at, result.who)
                assert fact is not None, result.step
                posted.append(f"{name}: {result.step.do} {result.step.line}")
                _, errors = booked(Ledger([*done, Entry(fact, result.at, result.who, "refused", 1, 1)]).text())
                assert BelowZero in {type(error) for error in errors}, f"beancount has nothing against {posted[-1]}"
            done += result.entries
    assert len(posted) >= 2, "the stories show a surplus on the way out and one on the way back"


def refused_fact(state: Teardown, step, at: str, who: str) -> Fact | None:
    """The act of a step that the rules refused, after those of it that they allowed."""
    if step.do in ASKING or unknown_to(state, step):
        return None
    for act in acts_of(state, step):
        fact = act(state, "0" * 64)
        if isinstance(fact, Reason):
            return None
        if judge(state, fact, at, who):
            return fact
        number = len(state.history) + 1
        apply(state, Entry(fact, at, who, "refused", number, number))
    return None


def test_a_movement_left_out_or_made_twice_does_not_balance(history):
    """beancount's own balance check finds a single slip anywhere; a handful of places stand for all."""
    ledger = Ledger(history)
    moving = [n for n, entry in enumerate(history, 1) if isinstance(entry.fact, Counted)]
    for n in moving[:: max(1, len(moving) // 5)]:
        moves = moves_of(history[n - 1].fact)
        for slip in ((), moves * 2):
            _, errors = booked(ledger.text({n: slip}))
            assert any(isinstance(error, BalanceError) for error in errors), (n, slip)


def test_the_guard_objects_to_a_place_below_zero_and_to_nothing_else(tmp_path: Path):
    text = (
        'plugin "never_below_zero"\n'
        "2001-01-01 open Assets:Tray\n2001-01-01 open Equity:Origin\n"
        '2001-01-02 * "in"\n  Equity:Origin  -2 BOLT\n  Assets:Tray  2 BOLT\n'
        '2001-01-03 * "out"\n  Assets:Tray  -3 BOLT\n  Equity:Origin  3 BOLT\n'
    )
    _, errors = booked(text)
    assert [(type(error), error.entry.narration) for error in errors] == [(BelowZero, "out")]
