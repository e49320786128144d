"""What the workshop's commands do: figures in, an answer in plain words or as one JSON object, and the exit code."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Sequence
from dataclasses import asdict
from decimal import Decimal, DecimalException

from checklists import measured_limits, searches, tightening_plan, torque_words
from checklists.by_weight import ONE_LINE_ONLY, whose_count
from checklists.facts_measured import WeighCounted
from checklists.gauges import grams_of, instrument_of, percent_of
from checklists.judge_measured import one_weighs, weigh_count_of
from checklists.lost_line import causes, in_no_space, lost_lines, where_lost
from checklists.reason_making import notes_of_all
from checklists.reasons import Reason
from checklists.sheet import Closure, ItemSize, Sheet
from checklists.sheet_check_refit import size_values
from checklists.sheet_fault import near_miss, shown
from checklists.state import Teardown
from checklists.story_reading import seconds_of
from checklists.whereabouts.items import body_of
from checklists.whereabouts.migration import Candidate, RuledOut, candidates, ruled_out
from checklists.whereabouts.sizes_typed import sizes_typed
from checklists.whereabouts.telling import reason
from checklists.workshop.fastener import find_fastener
from checklists.workshop.fastener_spec import TAKEN_FOR_HEX, read_spec
from checklists.workshop.item_shape import shape_of_spec
from checklists.workshop.limits import Limits, judge_measurement
from checklists.workshop.mass_of_spec import beside_the_tables, mass_of_spec
from checklists.workshop.tightening import pass_faults, pass_target
from checklists.workshop.torque import check_torque, figures_apart, lubrication_for, torque_band
from checklists.workshop.torque_figure import AngleFigure, read_torque, stage_percents
from checklists.workshop.units import NotUnderstood
from mobileapp.exit_codes import Trouble
from mobileapp.shelf import SheetFault, load_sheet
from mobileapp.tables import fastener_tables
from mobileapp.workshop_answers import (
    Answer,
    goes_with,
    instrument_said,
    length_typed,
    needed,
    one_of_both,
    teardown_said,
    tell,
    understood,
)


def _sheet(name: str) -> Sheet:
    try:
        return load_sheet(name)
    except SheetFault as fault:
        raise Trouble(str(fault)) from fault


# ---- whereabouts


def whereabouts(said: Namespace) -> int:
    """Where a missing item could be: on a sheet, or everything missing on a teardown."""
    if said.sheet:
        return _whereabouts_on_sheet(said, _sheet(said.sheet))
    goes_with(said, "--sheet: a teardown knows what is missing and what stood open", "item", "shape", "open")
    t = teardown_said(said)
    rows, lines = [], []
    for lost in lost_lines(t):
        placed, out = where_lost(t, lost)
        name, candidates_of = t.say(lost.line, lost.quantity), [each.candidate for each in placed]
        losses = [{"quantity": item.quantity, "cause": item.cause, "at": item.mark.at} for item in lost.losses]
        rows.append({"item": name, "cause": causes(lost), "losses": losses, **_spaces(t.sheet, candidates_of, out)})
        lines += [f"{name}, {causes(lost)}:"]
        lines += [f"  {each.why(t.sheet)}" for each in placed]
        lines += [f"  {_not_in(t.sheet, each)}" for each in out]
        if (nowhere := in_no_space(t, lost)) and placed:
            lines.append(f"  {sum(item.quantity for item in nowhere)} of them cannot have gone into any space.")
    no_reason = notes_of_all(t)
    lines += [f"{t.closures[closure].name}: {words}" for closure, words in no_reason]
    summary = searches.search_summary(t) if t.missing else ""
    told = [*lines, summary] if t.missing else ["Nothing is missing on this teardown."]
    answer = {"missing": rows, "searches": summary,
              "not_against": [{"closure": closure, "why": words} for closure, words in no_reason]}  # fmt: skip
    return tell(said, answer, told)


def _whereabouts_on_sheet(said: Namespace, sheet: Sheet) -> int:
    size = _size_said(said)
    body, exposed = body_of(size) if size else None, _exposed(said.open, sheet)
    found = candidates(sheet, body, exposed)
    out = ruled_out(sheet, body, exposed, found)
    notes = _notes_on(said.item) if size and not said.shape else []
    lines = [f"Taken as: {size}" if size else "Its shape is not said: everything open might let it pass.", *notes]
    lines += [reason(candidate, sheet) for candidate in found] or ["It could be in none of the spaces."]
    lines += [_not_in(sheet, each) for each in out]
    return tell(said, {"shape": str(size or "not said"), "notes": notes, **_spaces(sheet, found, out)}, lines)


def _not_in(sheet: Sheet, out: RuledOut) -> str:
    name = next(space.name for space in sheet.spaces if space.id == out.space)
    return f"Not in {name}: {out.why}."


def _spaces(sheet: Sheet, found: Sequence[Candidate], out: Sequence[RuledOut]) -> Answer:
    return {
        "could_be": [
            {"space": c.space, "verdict": c.verdict, "exposed_s": round(c.exposed, 3),
             "tightness": round(c.tightness, 4), "path": [leg.name for leg in c.path]}
            for c in found
        ],
        "cannot_be": [asdict(each) for each in out],
    }  # fmt: skip


def _size_said(said: Namespace) -> ItemSize | None:
    if said.shape and said.item:
        raise Trouble("--item and --shape: say one of them.")
    if said.shape:
        return _shape_said(*said.shape)
    if not said.item:
        return None
    found = shape_of_spec(said.item, fastener_tables())
    if found is None:
        reading = read_spec(said.item, fastener_tables())
        why = " ".join((*reading.faults, *reading.notes)) or "The tables do not settle its shape."
        raise Trouble(f"--item: {why} Give its shape with --shape instead.")
    return found


def _shape_said(kind: str, *sizes: str) -> ItemSize:
    read = sizes_typed(sizes) if sizes else ()
    size = ItemSize(kind, () if isinstance(read, str) else read)
    faults = [words for where, words in size_values("", size) if not isinstance(read, str) or where.endswith("kind")]
    if faults or isinstance(read, str):
        raise Trouble(f"--shape: {faults[0] if faults else read}")
    return size


def _notes_on(item: str) -> list[str]:
    """What is not said of a specification and would tell more; the shape covers both heads, so neither is taken."""
    reading = read_spec(item, fastener_tables())
    found = find_fastener(reading.spec, fastener_tables()).notes if reading.spec else ()
    return [note for note in dict.fromkeys((*reading.notes, *found)) if note != TAKEN_FOR_HEX]


def _number(text: str, option: str) -> Decimal:
    try:
        number = Decimal(text)
    except DecimalException:
        raise Trouble(f"{option}: {shown(text)} is not a number.") from None
    if not number.is_finite() or abs(number) > 100_000:
        raise Trouble(f"{option}: {shown(text)} is not a number of this world.")
    return number


def _exposed(said: Sequence[str], sheet: Sheet) -> dict[str, float]:
    known = [opening.id for opening in sheet.openings]
    exposed: dict[str, float] = {}
    for each in said or known:
        name, _, time = each.partition("=")
        if name not in known:
            raise Trouble(f"--open: there is no opening {shown(name)} on this sheet{near_miss(name, known) or '.'} "
                          f"It has: {', '.join(known)}")  # fmt: skip
        seconds = 60.0 if not time else seconds_of(_spaced(time))
        if seconds is None:
            raise Trouble(f"--open: {shown(time)} is no time; write it like 40s, 12min or 1h5min.")
        exposed[name] = max(seconds, 0.001)
    return exposed


def _spaced(time: str) -> str:
    """12min as people type it on a command line, spelt as in a story: 12 min."""
    words, before = "", ""
    for letter in time.replace(" ", ""):
        words += f" {letter}" if before and letter.isdigit() != before.isdigit() else letter
        before = letter
    return words


# ---- weighing


def weigh(said: Namespace) -> int:
    """Count a bag by its mass, or tell the counts by weight that are on record."""
    if not (said.gross or said.sample):
        goes_with(said, "--gross and --sample", "pieces", "item", "reads_to", "error")
        return _weighed_on_record(said)
    needed(said, "gross", "sample", "pieces")
    for option in ("gross", "tare", "sample"):
        understood(grams_of(getattr(said, option)), f"--{option}")
    understood(percent_of(said.scatter), "--scatter")
    gauge = instrument_said(said, "mass")
    fact = WeighCounted("", "", 0, said.gross, said.tare, said.sample, said.pieces, said.scatter, gauge)
    counted = weigh_count_of(fact)
    if isinstance(counted, tuple):
        raise Trouble(" ".join(_against_weighing(said, each) for each in counted))
    beside = _beside_the_tables(said.item, fact)
    answer = {**asdict(counted), "beside_the_tables": beside}
    return tell(said, answer, (*counted.words, *filter(None, (beside,))), counted.number is not None)


def _against_weighing(said: Namespace, reason: Reason) -> str:
    """What stands against a count by weight, after the options that it is about, and what to do."""
    options = {"empty bag": "--gross and --tare: ", "no sample": "--pieces: " if said.pieces < 1 else "--sample: "}
    return f"{options.get(reason.code, '')}{reason.words} {reason.do_next}"


def _beside_the_tables(item: str, fact: WeighCounted) -> str:
    """One piece of the sample against what it is said to be."""
    if not item:
        return ""
    understood(mass_of_spec(item, fastener_tables()), "--item")
    one = one_weighs(fact)
    return beside_the_tables(item, one, fastener_tables()) if one else ""


def _weighed_on_record(said: Namespace) -> int:
    t = teardown_said(said)
    whose = [whose_count(t, fact.line, fact.place, mark.who, mark.n) for fact, mark in t.weigh_counts]
    rows = [{"line": fact.line, "place": fact.place, "number": fact.number, "at": mark.at, "who": mark.who,
             "independent": by.startswith("independent")}
            for (fact, mark), by in zip(t.weigh_counts, whose, strict=True)]  # fmt: skip
    lines = [
        f"{mark.at[11:16]} {mark.who}: {t.say(fact.line, fact.number)} {t.say_place(fact.place)}, "
        f"counted by weight, {by}"
        for (fact, mark), by in zip(t.weigh_counts, whose, strict=True)
    ]
    told = [*lines, ONE_LINE_ONLY] if lines else ["Nothing was counted by weight on this teardown."]
    return tell(said, {"counted_by_weight": rows}, told)


# ---- limits


def limits(said: Namespace) -> int:
    """Judge a measurement, or tell how every demanded limit of a teardown stands."""
    if not said.reading:
        goes_with(said, "a READING", "least", "most", "reads_to", "error")
        return _limits_on_record(said)
    if not (said.least or said.most):
        raise Trouble("There is no limit: say --least, --most or both.")
    ends = [length_typed(text, option) if text else None for text, option in
            ((said.least, "--least"), (said.most, "--most"))]  # fmt: skip
    wanted = Limits(*ends)
    if faults := wanted.faults():
        raise Trouble(faults[0])
    gauge = understood(instrument_of(instrument_said(said, "length"), "length"), "--reads-to")
    judged = judge_measurement(length_typed(said.reading, "READING"), gauge, wanted)
    return tell(said, asdict(judged), judged.words, judged.verdict == "inside")


def _limits_on_record(said: Namespace) -> int:
    t = teardown_said(said)
    rows, lines, good = [], [], True
    for closure in t.sheet.closures:
        for limit in closure.limits:
            judged = measured_limits.judge_limit(t, closure.id, limit.id)
            good = good and judged is not None and judged.verdict == "inside"
            words = judged.words if judged else (f"not measured; it must be {measured_limits.limits_of(limit)}.",)
            rows.append({"closure": closure.id, "limit": limit.id, **(asdict(judged) if judged else {"verdict": None})})
            lines += [f"{closure.name}, {limit.name}: {words[0]}", *(f"  {each}" for each in words[1:])]
    return tell(said, {"limits": rows}, lines or ["This teardown's sheet demands no measurement."], good)


# ---- torque and order


def torque(said: Namespace) -> int:
    """Look for slips in one figure for a bolt, or in every torque of a sheet or a teardown."""
    if said.figure or said.spec:
        one_of_both(said, "FIGURE", "sheet")
    if said.figure and said.spec:
        return _torque_of_bolt(said)
    if said.figure or said.spec:
        raise Trouble("A figure and its bolt go together: countback torque 24N.m --spec M8x25-8.8")
    t = None if said.sheet else teardown_said(said)
    closures = _sheet(said.sheet).closures if t is None else t.sheet.closures
    rows, lines, good = [], [], True
    for closure in closures:
        for typed, where in _typed(t, closure):
            told = torque_words.torque_words_of(closure, typed, fastener_tables(), said.lubrication)
            good = good and not told.second_look
            rows.append({"closure": closure.id, "figure": typed, "where": where, **told._asdict()})
            lines += [f"{closure.name}, {typed} ({where}):", *(f"  {each}" for each in told.words)]
    return tell(said, {"torques": rows}, lines or ["No torque is written down there."], good)


def _typed(t: Teardown | None, closure: Closure) -> list[tuple[str, str]]:
    signed = t.closure_states[closure.id].torque if t else ""
    return [pair for pair in ((closure.torque, "sheet"), (signed, "signed for")) if pair[0]]


def _torque_of_bolt(said: Namespace) -> int:
    tables = fastener_tables()
    reading = read_spec(said.spec, tables)
    if reading.spec is None or not reading.understood:
        raise Trouble(f"--spec: {' '.join(reading.faults)}")
    if reading.spec.thread is None:
        raise Trouble(f"--spec: {' '.join(reading.notes) or 'its thread is not settled; say coarse or fine.'}")
    figure = read_torque(said.figure)
    if isinstance(figure, NotUnderstood):
        raise Trouble(f"FIGURE: {figure.words}")
    lubrication = lubrication_for(figure, said.lubrication)
    check = check_torque(figure, torque_band(reading.spec.thread, reading.spec.bolt_strength, lubrication, tables))
    slips = [slip.words for slip in check.slips]
    answer = {"verdict": check.verdict, "words": check.words, "slips": slips, "notes": reading.notes}
    return tell(said, answer, (*check.words, *reading.notes), check.verdict in ("plausible", "not judged"))


def order(said: Namespace) -> int:
    """Number fasteners and put them in order: from positions, a sheet, or what a teardown has still to tick."""
    if said.positions:
        one_of_both(said, "X,Y", "sheet", "closure")
        return _tell_order(said, _closure_of(said), None)
    goes_with(said, "positions X,Y", "torque", "passes", "photo")
    t = None if said.sheet else teardown_said(said)
    sheet = _sheet(said.sheet) if t is None else t.sheet
    mapped = [c for c in sheet.closures if tightening_plan.plan_of(c) and said.closure in ("", c.id)]
    if not mapped:
        known = ", ".join(c.id for c in sheet.closures)
        raise Trouble(f"No closure there gives positions and passes. Closures: {known}. Or type positions: 0,0 40,0")
    if len(mapped) > 1:
        raise Trouble(f"Name one with --closure: {', '.join(c.id for c in mapped)}")
    return _tell_order(said, mapped[0], t)


def _closure_of(said: Namespace) -> Closure:
    """A closure with no more than its map."""
    places = [tuple(_number(end, "X,Y") for end in each.split(",")) for each in said.positions]
    if any(len(place) != 2 for place in places):
        raise Trouble("X,Y: a position is two numbers with a comma between them, such as 40,30.")
    if len(set(places)) < len(places):
        raise Trouble("X,Y: two fasteners sit at the same place.")
    figure = read_torque(said.torque) if said.torque else None
    if isinstance(figure, NotUnderstood):
        raise Trouble(f"--torque: {figure.words}")
    stages = stage_percents(figure)
    passes = tuple(said.passes or stages or (100,))
    if faults := pass_faults(passes):
        raise Trouble(f"--passes: {faults[0]}")
    if stages and passes != stages:
        raise Trouble("--passes: the figure gives stages, which are the passes; leave --passes out.")
    return Closure(
        "flange", "flange", (), (), said.torque, (), False, passes=passes, y_down=said.photo,
        positions=tuple((place[0], place[1]) for place in places),
    )  # fmt: skip


def _tell_order(said: Namespace, closure: Closure, t: Teardown | None) -> int:
    plan = tightening_plan.plan_of(closure)
    assert plan is not None
    numbers = [
        {"number": number, "x": str(x), "y": str(y)}
        for number, (x, y) in sorted(zip(plan.order.numbers, closure.positions, strict=True))
    ]
    answer: Answer = {
        "closure": closure.id,
        "ring": plan.order.ring,
        "numbers": numbers,
        "order": plan.order.order,
        "passes": closure.passes,
    }
    lines = [f"Number {each['number']} at {each['x']}, {each['y']}" for each in numbers]
    lines += [_pass_line(closure, percent, plan.order.order) for percent in closure.passes]
    if t is not None:
        left = tightening_plan.steps_left(t, closure.id)
        answer["steps_left"] = [asdict(step) for step in left]
        lines.append(f"Not ticked yet: {len(left)} of {len(plan.steps)} steps.")
    apart = figures_apart(read_torque(closure.torque) if closure.torque else None)
    return tell(said, {**answer, "second_look": apart}, (*apart, *lines), not apart)


def _pass_line(closure: Closure, percent: int, numbers: Sequence[int]) -> str:
    figure = read_torque(closure.torque) if closure.torque else None
    if isinstance(figure, AngleFigure):
        at = f"pass {closure.passes.index(percent) + 1} of {len(closure.passes)}"
        return f"{at} of the maker's {figure.text}: {', '.join(map(str, numbers))}"
    target = "" if figure is None or isinstance(figure, NotUnderstood) else f" ({pass_target(figure, percent)})"
    return f"{percent} %{target}: {', '.join(map(str, numbers))}"
