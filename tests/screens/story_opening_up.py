"""The workboat story by hand, first part: from the first question until the work in the open engine is done."""

from __future__ import annotations

from screens.story_hands import INES, MANIFOLD, OUTLET, PIPE, PORTS, RETURN, TOMAS, StoryPhone

# ---- before anything is undone


def starts(phone: StoryPhone) -> None:
    phone.act("Start a teardown")
    phone.tap("Inlet manifold off, inline four")
    phone.act("On to: machine and people")
    phone.types("Which machine?", "Workboat Tern, main engine")
    phone.types("Your name", INES)
    phone.killed()  # in the middle of the form
    phone.types("Your role", "fitter")
    phone.types("Another person, if there is one", TOMAS)
    phone.types("That person's role", "deckhand")
    phone.act("On to: why it is opened")
    phone.types("Why is it opened?", "Black smoke and a drop in power in the harbour")
    phone.types("What was found so far?", "Oil mist round the manifold joint, one O-ring weeping")
    phone.act("Start the teardown")


def reads_the_cautions(phone: StoryPhone) -> None:
    """Nothing comes off before they are read; the lift check says so and leads there."""
    phone.way(PIPE, "Lift check, then lift it")
    phone.reads("0 of 5 cautions read and acknowledged", "0 of 4 M6 x 25 flange bolts out")
    assert phone.screen.ids.act.disabled
    phone.tap("0 of 5 cautions read and acknowledged")
    for number, caution in enumerate(phone.state.sheet.cautions, 1):
        phone.reads(f"Caution {number} of 5", caution.text)
        phone.passes(0.5)
        phone.act("Read and acknowledged")
    assert phone.name == "board"


def photographs_what_was_found(phone: StoryPhone) -> None:
    phone.act("Photograph it before anything comes off")
    phone.takes_photo("The machine as it was found")
    phone.takes_photo("Inlet port 1 at the head, from outside")
    phone.act("On to the work")
    phone.reads("2 taken")


def takes_things_into_use(phone: StoryPhone) -> None:
    phone.way("Items", "Personal items", "Pair of reading glasses", "Take into use")
    phone.reads("1 on the bench")
    phone.back(2)
    phone.tap("Tools")
    for tool in ("Ratchet", "Ratchet extension", "Socket 10 mm", "Socket 13 mm", "Torch"):
        phone.tap(tool, "Take into use")
        phone.back()
    phone.back()
    phone.tap("Rags, covers, consumables", "Rag", "Take into use", "Take into use")
    phone.reads("6 put away and 2 on the bench")
    phone.to_board()


# ---- the coolant crossover comes off: it lies over the manifold


def takes_the_crossover_off(phone: StoryPhone) -> None:
    phone.passes(6)
    phone.act("Count out 4 M6 x 25 flange bolts")
    phone.counts(4)
    phone.reads("4 of 4 M6 x 25 flange bolts out")
    phone.counts()
    phone.reads("NO", "Log the extra one as a find")
    phone.back()
    the_manifold_lies_under_it(phone)
    phone.way()
    phone.act("Lift check, photo, then lift the coolant crossover")
    phone.takes_photo("Photo: nothing loose on it")
    phone.act("Lift the coolant crossover")
    assert phone.state.opening_states["coolant-outlet"].state == "uncovered"
    phone.way("Openings")
    for opening in (OUTLET, RETURN):
        chooses_opening(phone, opening)
        phone.act("Cover it with 1 coolant plug")
    phone.way()
    phone.act("Count out 1 crossover pipe")
    lays_it_on_the_bench(phone)
    phone.act("Count out 2 crossover O-rings")
    phone.counts(2)
    phone.way("Items", "Parts and fasteners", f"Crossover O-ring, {PIPE}", "Renew")
    phone.more(1)
    phone.types("Why", "one was weeping; both renewed")
    phone.act("Renew 2 crossover O-rings")
    phone.to_board()


def the_manifold_lies_under_it(phone: StoryPhone) -> None:
    """Whoever tries the manifold first is told everything against it."""
    phone.way(MANIFOLD, "Lift check, then lift it")
    phone.reads("0 of 10 M8 x 45 flange bolts out", "Coolant crossover, which lies over it, is still on")
    assert phone.screen.ids.act.disabled


def lays_it_on_the_bench(phone: StoryPhone) -> None:
    """Too large for the tray."""
    phone.act("Other")
    phone.tap("Lay it on the bench instead")
    phone.counts()


# ---- the manifold comes off


def takes_the_manifold_off(phone: StoryPhone) -> None:
    phone.passes(4)
    phone.way(MANIFOLD, "Count out 2 M8 flange nuts")
    phone.counts()
    phone.touches(phone.screen.take_back)
    phone.reads("Taken back: 1 M8 flange nut")
    phone.act("Other line, or fewer here")
    phone.tap("M8 x 45 flange bolt")
    phone.counts(7)
    phone.killed()  # in the middle of a count
    phone.reads("of 10 out")
    assert phone.screen.pad.counted == 7
    phone.counts(3)
    phone.act("Count out 2 M8 flange nuts")
    phone.counts()
    the_last_nut_falls(phone)
    phone.passes(3)
    phone.way(MANIFOLD, "Lift check, then lift it")
    phone.takes_photo("Photo: nothing loose on it")
    phone.act("Lift the inlet manifold")
    phone.way(MANIFOLD, "Count out 1 inlet manifold")
    lays_it_on_the_bench(phone)
    phone.way(MANIFOLD, "Count out 1 inlet manifold gasket")
    phone.counts()
    covers_the_ports(phone)


def the_last_nut_falls(phone: StoryPhone) -> None:
    phone.passes(1)
    phone.touches(phone.screen.ids.drop)
    phone.tap("1 fitted to the inlet manifold")
    phone.types("Near what (may be left empty)", "off the rear stud, it rang once on the way down")
    phone.killed()  # before it is logged
    phone.tap("Nobody saw where it went")
    phone.reads("Stop", "Do not turn anything. Do not close anything.")
    phone.act("Search for 1 M8 flange nut")
    phone.reads("off the rear stud")


def covers_the_ports(phone: StoryPhone) -> None:
    phone.way("Openings")
    for port in PORTS[:2]:
        chooses_opening(phone, port)
        phone.act("Cover it with 1 port cap")
    phone.way("Finds")
    phone.act("Log a find")
    phone.types("What it seems to be", "a flake of carbon the size of a thumbnail")
    phone.types("How big, about (may be left empty)", "about 15 mm by 12 mm, 2 mm thick")
    phone.takes_photo("Photo where it lies, before it is touched")
    phone.tap("In Inlet port 3")
    phone.act("Log this find")
    phone.way("Openings")
    chooses_opening(phone, PORTS[2])
    phone.act("Cover it with 1 port cap")
    chooses_opening(phone, PORTS[3])
    phone.tap("Rag")
    phone.act("Cover it with 1 rag")
    assert [phone.state.opening_states[f"inlet-{n}"].state for n in (1, 2, 3, 4)] == ["covered"] * 4


def chooses_opening(phone: StoryPhone, name: str) -> None:
    """Take this opening in hand, unless it is."""
    if phone.state.openings[phone.screen.opening].name != name:
        phone.tap(name)


# ---- the work


def works_in_the_open_engine(phone: StoryPhone) -> None:
    phone.passes(8)
    phone.hand_to(TOMAS)
    phone.way("Items", "Rags, covers, consumables", "Rag", "Tear in two")
    phone.back()
    phone.tap("Rag piece", "Put into or over the open engine", "In or over it, spot not said")
    phone.act("Count 1 rag piece into the engine")
    phone.hand_to(INES)
    phone.way("Items", "Personal items", "Pair of reading glasses", "Put into or over the open engine",
              "In or over it, spot not said")  # fmt: skip
    phone.act("Count 1 pair of reading glasses into the engine")
    phone.passes(35)
    phone.way(MANIFOLD, "The work is finished: start closing up")
    phone.types("What was done (may be left empty)", "ports wiped, faces scraped, new O-rings and gasket laid out")
    phone.act("Start closing up")
