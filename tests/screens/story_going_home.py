"""The workboat story by hand, last part: counted home, signed, put away, turned by hand, closed."""

from __future__ import annotations

from screens.story_hands import INES, INLET, MANIFOLD, OUTLET, PIPE, RETURN, TOMAS, StoryPhone
from screens.story_putting_right import against, clears, looks, takes_out_the_find

from checklists import gate

# ---- counted home


def counts_the_manifold_home(phone: StoryPhone) -> None:
    phone.way(MANIFOLD, "Count back 1 inlet manifold gasket")
    phone.counts()
    phone.act("Count back 1 inlet manifold")
    phone.counts()
    phone.way(MANIFOLD, "Count back 2 M8 flange nuts")
    phone.counts(2)
    phone.act("Count back 10 M8 x 45 flange bolts")
    phone.counts(9)
    phone.way(MANIFOLD, "Sign it as closed")
    phone.refused(["not home"], against(phone, "sign", INLET))
    phone.mends("1 M8 x 45 flange bolt")
    phone.counts()
    phone.act("Back to what was refused")
    phone.reads("10 of 10 M8 x 45 flange bolts home")
    there_is_a_third_nut(phone)
    phone.way(MANIFOLD, "Sign it as closed")
    phone.refused(["find open"], against(phone, "sign", INLET))
    phone.mends("third nut")
    takes_out_the_find(phone, "in a bag in the job box", "Fingers")
    signs(phone, "24 N.m")


def there_is_a_third_nut(phone: StoryPhone) -> None:
    """One more than the sheet has is refused, and becomes a find."""
    phone.way("Items", "Parts and fasteners", f"M8 flange nut, {MANIFOLD}", "Count out or back")
    phone.counts()
    phone.reads("NO")
    phone.act("Log the extra one as a find")
    phone.types("What it seems to be", "a third nut of the same size, rusty, from under the engine bearer")
    phone.types("How big, about (may be left empty)", "13 mm across flats")
    phone.takes_photo("Photo where it lies, before it is touched")
    phone.tap("Outside the openings")
    phone.act("Log this find")


def signs(phone: StoryPhone, torque: str) -> None:
    phone.passes(5)
    phone.tap(f"I used {torque}")
    phone.signs_as(INES)
    phone.act("Sign: closed")
    assert phone.name == "board"


# ---- the crossover goes back over it


def puts_the_crossover_back(phone: StoryPhone) -> None:
    for opening in (OUTLET, RETURN):
        phone.act(f"Take the coolant plug out of the {opening[0].lower()}{opening[1:]}")
        phone.act("Take 1 coolant plug out")
    phone.act("Look into the coolant outlet")
    for opening in (OUTLET, RETURN):
        looks(phone, opening)
    clears(phone)
    phone.act("Set the coolant crossover down in its place")
    phone.act("It is down in its place")
    phone.way(PIPE, "Count back 2 crossover O-rings")
    phone.counts(2)
    phone.act("Count back 1 crossover pipe")
    phone.counts()
    phone.act("Count back 4 M6 x 25 flange bolts")
    phone.counts(4)
    phone.act("Tighten to the maker's figure")
    signs(phone, "10 N.m")


# ---- everything home, turned by hand, closed


def cannot_close_yet(phone: StoryPhone) -> None:
    phone.way("Why can it not be closed?")
    phone.refused([*["not put away"] * 8, "not turned by hand"], gate.why_not_close(phone.state))


def half_a_rag_is_gone(phone: StoryPhone) -> None:
    """Both sign-offs are recalled until it is found."""
    phone.hand_to(TOMAS)
    phone.passes(1)
    phone.way("Missing", "Say that something is missing")
    phone.tap("Rag piece")
    phone.types("What you noticed (may be left empty)", "one half on the bench, where two were laid")
    phone.act("Log 1 rag piece as missing")
    assert {state.stage for state in phone.state.closure_states.values()} == {"recalled"}
    phone.hand_to(INES)
    phone.way(MANIFOLD, "Sign it as closed")
    phone.refused(["missing"], against(phone, "sign", INLET))
    phone.hand_to(TOMAS)
    phone.passes(6)
    phone.way()
    phone.act("Stop and search for 1 rag piece")
    phone.tap("Found it")
    phone.types("Where it was found", "under the torch, on the engine bearer")
    phone.act("Count 1 rag piece found")
    phone.hand_to(INES)
    for torque in ("24 N.m", "10 N.m"):
        phone.way()
        phone.act("Tighten to the maker's figure")
        signs(phone, torque)


def closes(phone: StoryPhone) -> None:
    phone.way("Why can it not be closed?")
    for item in ("reading glasses", "1 ratchet on", "1 ratchet extension", "socket 10", "socket 13", "torch",
                 "1 rag on"):  # fmt: skip
        phone.mends(item)
        phone.counts()
        phone.act("Back to what was refused")
    phone.hand_to(TOMAS)
    phone.way()
    phone.act("Put away 2 rag pieces")
    phone.counts(2)
    phone.hand_to(INES)
    phone.passes(3)
    phone.way()
    phone.act("Turn the engine by hand")
    phone.tap("Two turns, free all the way")
    phone.types("In your own words (may be left empty)", "nothing heard")
    phone.signs_as(INES)
    phone.act("Sign: turned by hand")
    phone.act("Close the teardown: everything is counted back")
    phone.reads("A correct count is not proof of an empty engine")
    phone.signs_as(INES)
    phone.act("Sign: all closed")
    phone.reads("CLOSED", "A correct count is not proof of an empty engine: looking inside is a check of its own.")
