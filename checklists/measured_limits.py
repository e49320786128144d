"""The limits that a closure demands: measured, judged, and why one stands against closing."""

from __future__ import annotations

from collections.abc import Iterator

from checklists.gauges import instrument_of
from checklists.reasons import Reason
from checklists.sheet import Limit
from checklists.state import Teardown
from checklists.words import sentence, within
from checklists.workshop.limits import Judged, Limits, judge_measurement
from checklists.workshop.uncertainty import Instrument
from checklists.workshop.units import Figure, read_figure


def limits_of(limit: Limit) -> Limits:
    """The limits that a sheet states. Its texts were checked with the sheet."""
    ends = [read_figure(text, "length") if text else None for text in (limit.least, limit.most)]
    least, most = (end if isinstance(end, Figure) else None for end in ends)
    return Limits(least, most)


def limit_named(t: Teardown, closure: str, limit: str) -> Limit | None:
    """The limit of that id on a closure; None where it has none of that name."""
    known = t.closures.get(closure)
    return next((each for each in known.limits if each.id == limit), None) if known else None


def judge_limit(t: Teardown, closure: str, limit: str) -> Judged | None:
    """What the last measurement of a limit says; None where it was not measured since the closure came off."""
    wanted, known = limit_named(t, closure, limit), t.measured.get((closure, limit))
    if wanted is None or known is None:
        return None
    reading, instrument = read_figure(known[0].reading, "length"), instrument_of(known[0].gauge, "length")
    if not isinstance(reading, Figure) or not isinstance(instrument, Instrument):
        return None
    return judge_measurement(reading, instrument, limits_of(wanted))


def stands(t: Teardown, closure: str, limit: str) -> str:
    """How a limit stands, in one sentence."""
    wanted, judged = limit_named(t, closure, limit), judge_limit(t, closure, limit)
    name = sentence(within(wanted.name)) if wanted else limit
    if judged is None:
        return f"{name} is not measured; it must be {limits_of(wanted)}." if wanted else ""
    return f"{name}: {judged.words[0]}"


def limit_reasons(t: Teardown, closure: str) -> Iterator[Reason]:
    """Every demanded limit that is not measured, outside, or too close to call."""
    for limit in t.closures[closure].limits:
        judged = judge_limit(t, closure, limit.id)
        if judged is None:
            words = stands(t, closure, limit.id)
            yield Reason(
                "not measured", words, "Measure it and enter the reading.", closure=closure, limit=limit.id
            )
        elif judged.verdict != "inside":
            mark = t.measured[closure, limit.id][1]
            outside = ("Put it right, then measure it again.",) if judged.verdict == "outside" else ()
            yield Reason(
                "outside its limits" if judged.verdict == "outside" else "too close to call",
                " ".join(filter(None, (stands(t, closure, limit.id), judged.never))),
                " ".join(filter(None, (*outside, judged.remedy))),
                since=mark.at,
                who=mark.who,
                closure=closure,
                limit=limit.id,
            )
