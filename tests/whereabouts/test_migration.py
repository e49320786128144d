"""Where a missing item could be: every space it could reach, by the widest way, the likeliest first."""

from __future__ import annotations

from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from checklists.sheet import Opening, Passage, Shape, Sheet, Space
from checklists.whereabouts.items import ItemShape
from checklists.whereabouts.migration import candidates, ruled_out
from checklists.whereabouts.telling import reason

NUT = ItemShape("nut", (10.0, 5.2))  # ISO 4032, M6


def circle(d: float) -> Shape:
    return Shape("circle", (Decimal(str(d)),))


def sheet(openings: dict[str, tuple[str, float]], passages: list[tuple[str, str, float | None]], spaces: str) -> Sheet:
    return Sheet(
        "trial",
        "trial",
        spaces=tuple(Space(name, f"space {name}", "harm") for name in spaces.split()),
        passages=tuple(Passage(a, b, circle(d) if d else None, "falls") for a, b, d in passages),
        openings=tuple(Opening(o, f"opening {o}", s, circle(d), "cover", "cap") for o, (s, d) in openings.items()),
    )


PORTS = sheet(
    {"in-1": ("port-1", 38), "in-2": ("port-2", 38), "drain": ("sump", 6)},
    [
        ("port-1", "cyl-1", 30),
        ("port-2", "cyl-2", 30),
        ("cyl-1", "exhaust", 25),
        ("cyl-2", "exhaust", 9),
        ("sump", "pump", 20),
    ],
    "port-1 port-2 cyl-1 cyl-2 exhaust sump pump",
)


def places(*args):
    return [candidate.space for candidate in candidates(*args)]


def test_a_nut_goes_in_by_the_port_that_stood_open_and_on_into_the_cylinder():
    assert set(places(PORTS, NUT, {"in-2": 60.0})) == {"port-2", "cyl-2"}  # 9 mm lets no M6 nut through


def test_the_port_that_stood_open_longest_comes_first():
    found = candidates(PORTS, NUT, {"in-1": 60.0, "in-2": 600.0})
    assert [c.space for c in found][:2] == ["port-2", "cyl-2"]
    assert found[0].exposed == 600.0


def test_what_was_not_exposed_or_too_small_is_said_with_its_why():
    exposed = {"in-2": 60.0, "drain": 60.0}
    found = candidates(PORTS, NUT, exposed)
    why = {entry.space: entry.why for entry in ruled_out(PORTS, NUT, exposed, found)}
    assert why["sump"] == "it cannot pass on any way to space sump"
    assert why["port-1"].startswith("no opening that leads to space port-1")
    assert set(why) | {c.space for c in found} == {space.id for space in PORTS.spaces}


def test_an_item_of_unknown_shape_could_be_wherever_a_way_leads():
    assert set(places(PORTS, None, {"drain": 1.0})) == {"sump", "pump"}


def test_a_passage_nobody_measured_might_let_it_pass():
    unknown = sheet({"in": ("a", 40)}, [("a", "b", None)], "a b")
    assert [(c.space, c.verdict) for c in candidates(unknown, NUT, {"in": 1.0})] == [
        ("a", "passes"),
        ("b", "might pass"),
    ]


def test_the_widest_of_two_ways_is_the_one_that_is_told():
    two = sheet({"in": ("a", 40)}, [("a", "b", 10.5), ("a", "c", 30), ("c", "b", 25)], "a b c")
    to_b = next(c for c in candidates(two, NUT, {"in": 90.0}) if c.space == "b")
    assert [leg.to for leg in to_b.path] == ["a", "c", "b"]
    assert reason(to_b, two) == (
        "Could be in space b: opening in stood uncovered for 1 min in the time it went missing; "
        "from space a to space c it falls; from space c to space b it falls; it passes."
    )


diameters = st.floats(3, 40).map(lambda d: round(d, 1))
names = [f"s{i}" for i in range(8)]
graphs = st.builds(
    lambda openings, passages: sheet(
        {f"o{i}": opening for i, opening in enumerate(openings)}, [p for p in passages if p[0] != p[1]], " ".join(names)
    ),
    st.lists(st.tuples(st.sampled_from(names), diameters), min_size=1, max_size=5),
    st.lists(st.tuples(st.sampled_from(names), st.sampled_from(names), diameters), max_size=16),
)
exposures = st.dictionaries(st.sampled_from([f"o{i}" for i in range(5)]), st.floats(1, 5000), min_size=1)


openings = st.sampled_from([f"o{i}" for i in range(5)])


def led_to(found, opening):
    """Of these candidates the spaces that this opening leads to, each with its rank."""
    told = f"opening {opening}"
    return {c.space: rank for rank, c in enumerate(found) if any(name == told for name, _ in c.openings)}


@given(plan=graphs, exposed=exposures, opening=openings, more=st.floats(1, 5000))
def test_more_exposure_never_lowers_a_rank(plan, exposed, opening, more):
    """No space that an opening leads to stands further down when that opening stood open longer."""
    before = led_to(candidates(plan, NUT, exposed), opening)
    longer = candidates(plan, NUT, {**exposed, opening: exposed.get(opening, 0.0) + more})
    after = {c.space: rank for rank, c in enumerate(longer)}
    assert all(after[space] <= rank for space, rank in before.items())


@given(plan=graphs, exposed=exposures, opening=openings, more=st.floats(1, 5000))
def test_an_opening_uncovered_as_well_brings_nothing_from_elsewhere_above_its_spaces(plan, exposed, opening, more):
    """Its own spaces come in among them and may push one another; of the others no more stand above than before."""
    before = {c.space: rank for rank, c in enumerate(candidates(plan, NUT, exposed))}
    longer = candidates(plan, NUT, {**exposed, opening: exposed.get(opening, 0.0) + more})
    led = led_to(longer, opening)
    for space, rank in led.items():
        if space in before:
            others = [c.space for c in longer[:rank] if c.space not in led]
            assert len(others) <= before[space]


@given(plan=graphs, exposed=exposures, a=st.sampled_from(names), b=st.sampled_from(names), d=diameters)
def test_another_passage_never_removes_a_candidate(plan, exposed, a, b, d):
    if a == b:
        return
    more = Sheet("trial", "trial", (), plan.spaces, (*plan.passages, Passage(a, b, circle(d), "falls")), plan.openings)
    before = {c.space: c for c in candidates(plan, NUT, exposed)}
    after = {c.space: c for c in candidates(more, NUT, exposed)}
    assert set(before) <= set(after)


@given(plan=graphs, exposed=exposures)
def test_a_smaller_nut_could_be_everywhere_a_larger_one_could(plan, exposed):
    assert set(places(plan, NUT.scaled(1.5), exposed)) <= set(places(plan, NUT, exposed))


@given(plan=graphs, exposed=exposures)
def test_each_space_stands_as_by_the_entry_that_leads_to_it_best(plan, exposed):
    """All openings at once give for each space the best of what the openings into each one space give alone."""

    def standing(candidate):
        return candidate.verdict == "might pass", -candidate.exposed, candidate.tightness

    best: dict[str, tuple] = {}
    for entry in {o.space for o in plan.openings}:
        into = {o.id for o in plan.openings if o.space == entry}
        for candidate in candidates(plan, NUT, {o: seconds for o, seconds in exposed.items() if o in into}):
            best[candidate.space] = min(standing(candidate), best.get(candidate.space, (True, 0.0, 0.0)))
    together = candidates(plan, NUT, exposed)
    assert {candidate.space: standing(candidate) for candidate in together} == best
    for candidate in together:
        assert candidate.path[-1].to == candidate.space
        assert candidate.exposed == sum(seconds for _, seconds in candidate.openings)


SEVERAL = sheet({"o1": ("A", 40), "o2": ("A", 40), "o3": ("B", 40), "o4": ("A", 40), "o5": ("A", 40)}, [], "A B")


def test_several_openings_into_one_space_add_up_and_are_all_named():
    first, second = candidates(SEVERAL, NUT, {"o1": 600.0, "o2": 600.0, "o3": 660.0})
    assert (first.space, first.exposed, second.space) == ("A", 1200.0, "B")
    assert reason(first, SEVERAL) == (
        "Could be in space A: opening o1 stood uncovered for 10 min and opening o2 for 10 min "
        "in the time it went missing; it passes."
    )


def test_of_many_openings_the_rest_are_counted():
    (found,) = candidates(SEVERAL, NUT, {"o1": 600.0, "o2": 60.0, "o4": 120.0, "o5": 0.001})
    assert "and 1 more in the time it went missing" in reason(found, SEVERAL)
    assert reason(found, SEVERAL, fell=True).count("stood uncovered as it fell") == 1


def test_an_opening_uncovered_only_afterwards_comes_last_and_says_so():
    """The small one it might just pass stood open in the window; the wide one was opened later."""
    two = sheet({"o1": ("A", 10.5), "o2": ("B", 40)}, [], "A B")
    first, second = candidates(two, NUT, {"o1": 5.0, "o2": 0.0})
    assert (first.space, second.space, second.exposed) == ("A", "B", 0.0)
    assert reason(second, two) == "Could be in space B: opening o2 was uncovered only after it was missed; it passes."


def test_what_is_uncovered_afterwards_adds_nothing_to_a_space_that_stood_open():
    (found,) = candidates(SEVERAL, NUT, {"o1": 30.0, "o2": 0.0})
    assert (found.exposed, found.openings) == (30.0, (("opening o1", 30.0),))
