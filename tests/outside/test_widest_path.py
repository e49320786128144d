"""Our widest ways against networkx (https://networkx.org, BSD).

A spanning tree cannot serve, the passages being one way: the reference is reachability over ever wider passages.
"""

from __future__ import annotations

import random
from decimal import Decimal

import networkx
import pytest

from checklists.sheet import Opening, Passage, Shape, Sheet, Space
from checklists.whereabouts.items import ItemShape
from checklists.whereabouts.migration import candidates
from checklists.whereabouts.passing import CANNOT_PASS, tightness, verdict

BALL = ItemShape("ball", (12.0,))


def random_plan(seed: int, spaces: int = 30, passages: int = 70) -> Sheet:
    dice = random.Random(seed)
    names = [f"s{i}" for i in range(spaces)]

    def clear() -> Shape:
        return Shape("circle", (Decimal(str(round(dice.uniform(4, 40), 1))),))

    ways = [Passage(*dice.sample(names, 2), clear(), "falls") for _ in range(passages)]
    return Sheet(
        "random",
        "random",
        spaces=tuple(Space(name, name, "harm") for name in names),
        passages=tuple(ways),
        openings=(Opening("in", "in", "s0", Shape("circle", (Decimal(50),)), "c", "cap"),),
    )


def reference(plan: Sheet) -> dict[str, float]:
    """The bottleneck of the widest way from s0 to every space, by networkx on the graph of what passes."""
    graph = networkx.DiGraph()
    graph.add_node("s0")
    for passage in plan.passages:
        if passage.clear is not None and verdict(BALL, passage.clear) != CANNOT_PASS:
            width = max(float(passage.clear.mm[0]), graph.get_edge_data(passage.source, passage.target, {"w": 0})["w"])
            graph.add_edge(passage.source, passage.target, w=width)
    widest = {}
    for target in networkx.descendants(graph, "s0"):
        for width in sorted({data["w"] for _, _, data in graph.edges(data=True)}, reverse=True):
            wide = networkx.subgraph_view(graph, filter_edge=lambda a, b, w=width: graph[a][b]["w"] >= w)
            if networkx.has_path(wide, "s0", target):
                widest[target] = width
                break
    return widest


@pytest.mark.parametrize("seed", range(25))
def test_every_space_and_its_bottleneck_agree_with_networkx(seed):
    plan = random_plan(seed)
    ours = {c.space: c for c in candidates(plan, BALL, {"in": 60.0})}
    theirs = reference(plan)
    assert set(ours) == {"s0", *theirs}
    for space, width in theirs.items():
        entry = tightness(BALL, Shape("circle", (Decimal(50),)))
        assert ours[space].tightness == pytest.approx(max(entry, 12.0 / width))
