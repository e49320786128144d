"""The workboat story by hand, second part: closing is refused, all is put right, looked into and counted again."""

from __future__ import annotations

from screens import touch
from screens.story_hands import (
    INES,
    INLET,
    MANIFOLD,
    OUTLET,
    PORTS,
    RETURN,
    TOMAS,
    StoryPhone,
)
from screens.story_opening_up import chooses_opening, lays_it_on_the_bench

from checklists import gate, second_count
from checklists.judge import judge
from checklists.reasons import Reason
from checklists.times import seconds_after
from checklists.words import sentence
from mobileapp.screens.statements import probe
from mobileapp.widgets.count_pad import TapArea


def against(phone: StoryPhone, what: str, closure: str) -> tuple[Reason, ...]:
    """What the rules say against a statement now."""
    return judge(phone.state, probe(phone.state, what, closure), phone.now, phone.desk.who)

# ---- the first attempt to close: refused, with every reason


def tries_to_close(phone: StoryPhone) -> None:
    """Every reason leads to where it is put right, and back to the refusal."""
    phone.way(MANIFOLD, "Sign it as cleared to refit")
    reasons = against(phone, "clear", INLET)
    phone.refused([*["cover in place"] * 4, *["in the engine"] * 2, "missing", "find open", *["not looked into"] * 4,
                   "second count due"], reasons)  # fmt: skip
    find = next(iter(phone.state.finds))
    for words, name, args in (
        ("reading glasses in or over", "count_pad", {"line": "reading-glasses"}),
        ("1 rag piece in or over", "count_pad", {"line": "rag-piece"}),
        ("1 M8 flange nut", "whereabouts", {"line": "inlet-manifold.nut-m8"}),
        ("1 port cap", "openings", {"opening": "inlet-1"}),
        ("flake of carbon", "find", {"find": find}),
        ("Nobody has looked into inlet port 4", "look", {"opening": "inlet-4"}),
        ("No blind second count", "second_count", {"closure": INLET}),
    ):
        phone.mends(words)
        assert phone.name == name
        assert args.items() <= phone.desk.trail[-1][1].items()
        phone.back()
        phone.refused([reason.code for reason in reasons], reasons)


# ---- the tide: Ines is called away, and Tomas takes the job over


def hands_the_job_over(phone: StoryPhone) -> None:
    phone.passes(2)
    phone.way("Leave the machine")
    phone.types("Note (may be left empty)", "caps, plugs and a rag in every opening; tarpaulin over the engine")
    phone.act("Covers on, tally read")
    phone.way("Hand over")
    phone.tap(TOMAS)
    phone.types("Notes", "a flange nut is still missing; glasses and half a rag lie over the engine")
    phone.act("Offer the job")
    phone.passes(12)
    phone.act("I am Tomas Reke: start the count")
    walks_blind(phone, AWAY)
    phone.types("Your notes (may be left empty)", "all as she said")
    phone.signs()
    phone.act("Sign: I take it over")
    phone.reads("Every count agrees")


# ---- putting it right, Ines back beside him


def puts_it_right(phone: StoryPhone) -> None:
    phone.hand_to(INES)
    phone.way(MANIFOLD, "Why can it not be closed?")
    phone.mends("reading glasses in or over")
    lays_it_on_the_bench(phone)
    phone.act("Back to what was refused")
    phone.hand_to(TOMAS)
    phone.way(MANIFOLD, "Why can it not be closed?")
    phone.mends("1 rag piece in or over")
    lays_it_on_the_bench(phone)
    phone.act("Back to what was refused")
    phone.mends("1 M8 flange nut")
    phone.passes(9)
    phone.tap("Found it")
    phone.types("Where it was found", "in the bilge tray, under the flywheel housing")
    phone.act("Count 1 M8 flange nut found")
    phone.reads("Nothing is missing")
    phone.hand_to(INES)
    phone.way()
    phone.act("Take the port cap out of inlet port 1")
    phone.act("Take 1 port cap out")
    phone.act("Take the port cap out of inlet port 2")
    phone.act("Take 1 port cap out")
    phone.act("Take the port cap out of inlet port 3")
    phone.act("Take 1 port cap out")
    phone.way("Finds")
    phone.tap(has="a flake of carbon")
    takes_out_the_find(phone, "in a bag in the job box", "Pick")
    phone.way()
    phone.act("Take the rag out of inlet port 4")
    phone.act("Take 1 rag out")


def takes_out_the_find(phone: StoryPhone, kept: str, how: str) -> None:
    phone.takes_photo("Photo of the place after")
    phone.types("Where it is kept", kept)
    phone.tap(how)
    phone.act("It is out, and kept")


def looks_into_the_ports(phone: StoryPhone) -> None:
    """Each look leads to the next; the third is cut short."""
    phone.act("Look into inlet port 1")
    for port in PORTS:
        looks(phone, port, killed=port == PORTS[2])


def looks(phone: StoryPhone, opening: str, killed: bool = False) -> None:
    assert phone.name == "look"
    phone.reads(opening)
    phone.tap("Clean and dry, nothing inside")
    phone.takes_photo("Photo of the inside")
    if killed:
        phone.killed()
    phone.tap("Clear")
    phone.act("Record: clear")


PLUGS = {f"Covering {opening[0].lower()}{opening[1:]}: Coolant plug": 1 for opening in (OUTLET, RETURN)}
TOOLS = {
    "On the bench: Ratchet": 1,
    "On the bench: Ratchet extension": 1,
    "On the bench: Socket 10 mm": 1,
    "On the bench: Socket 13 mm": 1,
    "On the bench: Torch": 1,
}
#: What lies where when the job changes hands, nothing else being away from home.
AWAY = {
    **PLUGS,
    **{f"Covering inlet port {number} at the head: Port cap": 1 for number in (1, 2, 3)},
    "Covering inlet port 4 at the head: Rag": 1,
    "In or over the open engine, spot not said: Pair of reading glasses": 1,
    "In or over the open engine, spot not said: Rag piece": 1,
    "In the tray: M6 x 25 flange bolt": 4,
    "In the tray: Crossover O-ring": 2,
    "In the tray: M8 x 45 flange bolt": 10,
    "In the tray: M8 flange nut": 1,
    "In the tray: Inlet manifold gasket": 1,
    "On the bench: Crossover pipe": 1,
    "On the bench: Inlet manifold": 1,
    "On the bench: Rag": 1,
    "On the bench: Rag piece": 1,
    **TOOLS,
}
#: What lies where before the manifold goes back; of everything else that is asked for there is none.
LIES = {
    **PLUGS,
    "In the tray: M6 x 25 flange bolt": 4,
    "In the tray: Crossover O-ring": 2,
    "On the bench: Crossover pipe": 1,
    "In scrap: Crossover O-ring": 2,
    "In the tray: M8 x 45 flange bolt": 10,
    "In the tray: M8 flange nut": 2,
    "In the tray: Inlet manifold gasket": 1,
    "On the bench: Inlet manifold": 1,
    "On the bench: Rag": 1,
    "On the bench: Pair of reading glasses": 1,
    "On the bench: Rag piece": 2,
    "Put away: Port cap": 6,
    "Put away: Coolant plug": 1,
    "Put away: Rag": 6,
    "Put away: Ratchet extension": 1,
    **TOOLS,
}


def walks_blind(phone: StoryPhone, lies: dict[str, int]) -> None:
    """Place by place, as many taps as the counter sees lying there; no screen says how many, nor where any are."""
    left = dict(lies)
    while phone.desk.draft.get("step") == "count":
        stop = phone.screen.stops()[phone.desk.draft["stop"]]
        assert phone.screen.veiled
        for spot in map(sentence, map(phone.state.say_place, stop.spots)):
            here = {words: number for words, number in left.items() if words.startswith(f"{spot}: ")}
            if here and len(stop.spots) > 1:
                taps_quickly(phone, spot)
            for words, number in here.items():
                taps_quickly(phone, words.removeprefix(f"{spot}: "))
                for _ in range(number):
                    touch.tap(touch.find(phone.screen, cls=TapArea), frames=1)
                taps_quickly(phone, f"{number} here")
                left.pop(words)
            if here and len(stop.spots) > 1:
                taps_quickly(phone, "That is all here")
        some = any(seen.place in stop.spots for seen in phone.screen.seen_so_far)
        phone.act("That is all here" if some else "Nothing here")
    assert left == {}


def taps_quickly(phone: StoryPhone, words: str) -> None:
    """Tap a row or the large key, after the keys that show more of the list; looked at when the place is ended."""
    while words not in phone.texts():
        touch.tap(phone.key(has=" more"), frames=2)
    phone.now = seconds_after(phone.now, 1)
    touch.tap(phone.key(words), frames=2)


def is_counted_by_the_other(phone: StoryPhone) -> None:
    """Not by Ines, who did most of the work there. Tomas overlooks one rag: that differs until it is counted again."""
    phone.reads("Before the inlet manifold goes back", "Ines Vardal worked there last")
    phone.reads("Whoever had the least hand in it counts.")
    assert INES not in phone.texts()
    phone.act("Hand the phone to Tomas Reke")
    phone.passes(4)
    phone.act("I am Tomas Reke: start the count")
    asked = len(second_count.count_list(phone.state, INLET))
    walks_blind(phone, {**LIES, "Put away: Rag": 5, "On the floor: Rag": 1})
    phone.reads(f"2 of {asked + 1} counts differ", "Misplaced: 1 rag on the floor", "The tally has it put away.")
    phone.tap("Hand the phone back to Ines Vardal")
    phone.way(MANIFOLD, "Sign it as cleared to refit")
    phone.refused(["count differs", "count differs", "second count due"], against(phone, "clear", INLET))
    phone.hand_to(TOMAS)
    phone.way(MANIFOLD, "Sign it as cleared to refit")
    phone.mends("5 counted put away, where the tally has 6")
    phone.counts(5)
    phone.act("5 here")
    phone.reads("Differs: 1 fewer than the tally has")
    phone.tap("They lie on the floor")
    phone.counts()
    assert not phone.state.discrepancies
    phone.way()
    phone.act("Pick 1 rag up off the floor")
    phone.counts()
    phone.way()
    phone.act("Second count by Tomas Reke before the inlet manifold goes back")
    phone.act("Start the count")
    walks_blind(phone, LIES)
    phone.reads(f"{asked} of {asked} counts agree")
    phone.hand_to(INES)
    phone.way()
    phone.act("Sign the inlet manifold as cleared to refit")
    clears(phone)


def clears(phone: StoryPhone) -> None:
    phone.signs_as(INES)
    phone.act("Sign: cleared to refit")


# ---- a late movement: the clearance goes by itself


def a_rag_goes_in_late(phone: StoryPhone) -> None:
    assert phone.state.closure_states[INLET].stage == "cleared"
    phone.hand_to(TOMAS)
    phone.way("Items", "Rags, covers, consumables", "Rag", "Put into or over the open engine", "Put away",
              "Into Inlet port 3")  # fmt: skip
    phone.act("Count 1 rag into the engine")
    assert phone.state.closure_states[INLET].stage == "lifted"
    phone.hand_to(INES)
    phone.way(MANIFOLD, "Why can it not be closed?")
    phone.refused(["in the engine", "look out of date", "second count due"], gate.why_not(phone.state, INLET))
    phone.hand_to(TOMAS)
    phone.way(MANIFOLD, "Why can it not be closed?")
    phone.mends("1 rag in ")
    phone.counts()
    phone.act("Back to what was refused")
    phone.hand_to(INES)
    phone.way("Openings")
    for port in PORTS:
        chooses_opening(phone, port)
        phone.act("Look inside and photograph it")
        looks(phone, port)
        phone.back()
        assert phone.name == "openings"
    phone.way()
    phone.act("Second count by Tomas Reke")
    phone.act("Hand the phone to Tomas Reke")
    phone.act("I am Tomas Reke: start the count")
    walks_blind(phone, LIES)
    phone.reads("counts agree")
    phone.hand_to(INES)
    phone.way()
    phone.act("Sign the inlet manifold as cleared to refit")
    clears(phone)
    phone.passes(2)
    phone.act("Set the inlet manifold down in its place")
    phone.act("It is down in its place")
