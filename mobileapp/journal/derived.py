"""The rows kept beside the entries so that lists open at once: a teardown's card and its closures' stages."""

from __future__ import annotations

from checklists.state import Teardown, tally
from mobileapp.journal.rows import Card, ClosureRow


def card(teardown_id: str, state: Teardown) -> Card:
    """The teardown as the list of teardowns shows it."""
    last = state.last_entry
    return Card(
        teardown_id,
        state.machine,
        state.sheet.name,
        state.started.at,
        state.ended or "open",
        *tally(state),
        last.at if last else "",
    )


def closure_rows(state: Teardown) -> list[ClosureRow]:
    """The stage of each closure."""
    return [
        ClosureRow(closure, state.closures[closure].name, how.stage, how.since, how.who)
        for closure, how in state.closure_states.items()
    ]
