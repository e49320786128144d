"""Where a missing nut could be on a very large plan, against networkx's widest path alone on the same graph.

networkx has no function of that name for ways that are one way only. Its Dijkstra adds up whatever lengths it is given,
so with lengths that add up to the larger of two it finds every space's widest way in one search, with the path.

Both are counted in processor time, so that what others do at the same time is left out.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from decimal import Decimal
from itertools import groupby
from time import thread_time
from typing import NamedTuple

import networkx
import pytest

from checklists.exposure import COVERED, UNCOVERED
from checklists.lost_line import LostLine, where_lost
from checklists.reason_making import missing_items
from checklists.sheet import Closure, ItemSize, Line, Opening, Passage, Shape, Sheet, Space
from checklists.state import ClosureState, Mark, MissingItem, Teardown
from checklists.times import seconds_after
from checklists.ways_in import WaysIn

SPACES, OPENINGS, SPELLS, PASSAGES, SIZES = 200, 400, 2_000, 600, 30
BEGAN = "2026-03-02T08:00:00.000+01:00"
NUT = ItemSize("nut", (Decimal("12.73"), Decimal("6.44")))
FIVE = (
    NUT,
    ItemSize("bolt", (Decimal(13), Decimal("5.3"), Decimal(8), Decimal(25))),
    ItemSize("box", (Decimal(30), Decimal(20), Decimal(14))),
    ItemSize("washer", (Decimal(16), Decimal("1.6"))),
    ItemSize("soft", (Decimal(25),)),
)
#: At most so many times networkx, and never a frame longer than this.
MOST_TIMES, FRAME_SECONDS = 5.0, 0.050


class At(NamedTuple):
    """An entry, as far as only its time is asked for."""

    at: str


def _any_shape(dice: random.Random) -> Shape:
    kind = dice.choice(["circle", "slot", "oval", "rectangle"])
    return Shape(kind, tuple(Decimal(dice.randrange(800, 4500)) / 100 for _ in range(1 if kind == "circle" else 2)))


def large_teardown(sizes: int = SIZES) -> Teardown:
    """A teardown with 400 openings into 200 spaces, uncovered 2,000 times in all."""
    dice = random.Random(7)
    names = [f"s{i}" for i in range(SPACES)]
    # An engine repeats its ports and galleries: so many openings, so few sizes.
    made = [_any_shape(dice) for _ in range(sizes)]

    def clear() -> Shape:
        return dice.choice(made)

    sheet = Sheet(
        "large", "large",
        spaces=tuple(Space(name, name, "harm") for name in names),
        passages=tuple(Passage(*dice.sample(names, 2), clear(), "falls") for _ in range(PASSAGES)),
        openings=tuple(Opening(f"o{i}", f"o{i}", dice.choice(names), clear(), "lid", "cap") for i in range(OPENINGS)),
        closures=(Closure("lid", "lid", (), (), "", (), False),),
    )  # fmt: skip
    t = Teardown()
    t.sheet, t.spaces, t.ways = sheet, {space.id: space for space in sheet.spaces}, WaysIn(sheet)
    t.exposure.use(t.ways)
    t.closure_states["lid"], t.lines["nut"] = ClosureState(), Line("nut", "M8 nut", "fastener", 1, "stores", NUT)
    for spell in range(SPELLS):
        opening = f"o{spell % OPENINGS}"
        for state, n in ((UNCOVERED, 2 * spell + 1), (COVERED, 2 * spell + 2)):
            t.exposure.set(opening, state, n, seconds_after(BEGAN, n * 7), "Ines Vardal")
    return t


class Tightness(float):
    """How tight a way is: two ways one after the other are as tight as the tighter of them."""

    def __add__(self, other: float) -> float:
        return self if self >= other else other

    __radd__ = __add__


def widest_paths(t: Teardown) -> Callable[[], tuple[dict[str, float], dict[str, list[str]]]]:
    """networkx's widest way from outside to every space, in one search: its own Dijkstra, with tightness for length."""
    graph = by_width(t)
    for *_, data in graph.edges(data=True):
        data["tight"] = Tightness(1 / data["width"])
    return lambda: networkx.single_source_dijkstra(graph, "outside", weight="tight")


def by_width(t: Teardown) -> networkx.DiGraph:
    """The same graph for networkx: the least clear size of the widest hole from each space to the next."""
    graph = networkx.DiGraph()
    for opening in t.sheet.openings:
        _wider(graph, "outside", opening.space, float(min(opening.clear.mm)))
    for passage in t.sheet.passages:
        assert passage.clear
        _wider(graph, passage.source, passage.target, float(min(passage.clear.mm)))
    return graph


def reached_ever_wider(graph: networkx.DiGraph) -> dict[str, float]:
    """The same widths by plain reachability, one search for each width: what the one search is held against."""
    widest: dict[str, float] = {}
    wide = networkx.DiGraph([("outside", "outside")])
    edges = sorted(graph.edges(data="width"), key=lambda edge: -edge[2])
    for width, alike in groupby(edges, key=lambda edge: edge[2]):
        wide.add_edges_from((a, b) for a, b, _ in alike)
        for space in networkx.descendants(wide, "outside") - widest.keys():
            widest[space] = width
    return widest


def _wider(graph: networkx.DiGraph, a: str, b: str, width: float) -> None:
    known = graph.get_edge_data(a, b, {"width": 0.0})["width"]
    graph.add_edge(a, b, width=max(width, known))


def best_of(run: Callable[[], object], times: int = 5) -> float:
    took = []
    for _ in range(times):
        began = thread_time()
        run()
        took.append(thread_time() - began)
    return min(took)


def test_the_reference_finds_the_widest_ways():
    """networkx's Dijkstra with tightness for length, against its plain reachability."""
    t = large_teardown()
    tight, _ = widest_paths(t)()
    widths = {space: 1 / length for space, length in tight.items() if space != "outside"}
    assert widths == pytest.approx(reached_ever_wider(by_width(t)))


@pytest.mark.bench
@pytest.mark.parametrize("seen", [0, SPELLS], ids=["seen before the start", "seen half way"])
def test_where_a_nut_could_be_on_a_large_plan(capsys, seen):
    t = large_teardown()
    t.history = [At(seconds_after(BEGAN, n * 7)) for n in range(1, seen + 1)]
    missed = Mark(2 * SPELLS + 3, seconds_after(BEGAN, 90_000), "Ines Vardal")
    item = MissingItem("nut", 1, "bench", seen, missed, "missing", "")
    lost = LostLine("nut", (item,))
    first = best_of(lambda: where_lost(t, lost), 1)
    ours, theirs = best_of(lambda: where_lost(t, lost), 20), best_of(widest_paths(t), 20)
    t.ways = WaysIn(t.sheet)
    reach_first = best_of(lambda: t.could_hold(item), 1)
    reach = best_of(lambda: t.could_hold(item))
    with capsys.disabled():
        print(
            f"\nwhereabouts {1000 * ours:.2f} ms (first {1000 * first:.1f}), networkx's widest path "
            f"{1000 * theirs:.2f} ms: {ours / theirs:.1f} times; could_hold {1000 * reach:.2f} ms "
            f"(first {1000 * reach_first:.1f})"
        )
    assert len(where_lost(t, lost).placed) > SPACES / 2
    assert ours <= MOST_TIMES * theirs
    assert max(first, reach_first) < FRAME_SECONDS


@pytest.mark.bench
def test_the_gate_with_five_items_missing_holds_up_no_frame(capsys):
    """As many sizes of hole as there are holes, and five items of different shapes."""
    t = large_teardown(OPENINGS + PASSAGES)
    t.history = [At(BEGAN)]
    for i, shape in enumerate(FIVE):
        t.lines[f"lost{i}"] = Line(f"lost{i}", f"item {i}", "fastener", 1, "stores", shape)
        missed = Mark(2 * SPELLS + 3, seconds_after(BEGAN, 90_000), "Ines Vardal")
        t.missing.append(MissingItem(f"lost{i}", 1, "bench", 1, missed, "missing", ""))
    first = best_of(lambda: list(missing_items(t, "lid")), 1)
    after = best_of(lambda: list(missing_items(t, "lid")))
    with capsys.disabled():
        print(f"\ngate, 5 missing, 1000 sizes: first {1000 * first:.1f} ms, then {1000 * after:.1f} ms")
    assert len(list(missing_items(t, "lid"))) == 5
    assert max(first, after) < FRAME_SECONDS
