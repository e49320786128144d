"""The command line's words for the workshop: each for figures typed in, or for a teardown of a journal."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from importlib import import_module
from pathlib import Path
from typing import Any

_FIGURES = "figures are typed with their unit, as people write them: 6.42g, 0.525in, 24N.m"
LUBRICATIONS = ("dry", "oiled", "anti-seize", "not said")


def add_commands(words: Any, add: Callable[..., argparse.ArgumentParser]) -> None:
    """Put whereabouts, pieces, weigh, limits, torque and order among the commands."""
    for each in (_whereabouts, _pieces, _weigh, _limits, _torque, _order):
        each(words, add)


def _run(name: str, module: str = "workshop_commands") -> Callable[[argparse.Namespace], int]:
    def run(said: argparse.Namespace) -> int:
        workshop = import_module(f"mobileapp.{module}")  # with the workshop, which no other command waits for
        command: Callable[[argparse.Namespace], int] = getattr(workshop, name)
        return command(said)

    return run


def _everywhere(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--journal", type=Path, metavar="JOURNAL",
                        help="a journal's file; the app's own where neither it nor figures are given")  # fmt: skip
    parser.add_argument("--teardown", default="", metavar="ID", help="which teardown, where there are several")
    parser.add_argument("--json", action="store_true", help="print one JSON object and nothing else")


def _gauge(parser: argparse.ArgumentParser, what: str) -> None:
    parser.add_argument("--reads-to", default="", metavar="STEP", help=f"the step the {what} reads to")
    parser.add_argument("--error", default="", metavar="ERROR",
                        help=f"the largest error the {what} may have (default: one step)")  # fmt: skip


def _whereabouts(words: Any, add: Callable[..., argparse.ArgumentParser]) -> None:
    parser = add(
        words, "whereabouts", "say where a missing item could be, by which way, and where it cannot be and why",
        ("countback whereabouts --journal countback-demo/journal.sqlite --teardown workboat-refusal",
         "countback whereabouts --sheet rocker-cover --item M6-nut --open head-top=12min",
         "countback whereabouts --sheet rocker-cover --shape nut 10 5.2"),
        _run("whereabouts"),
    )  # fmt: skip
    parser.add_argument("--sheet", default="", metavar="NAME|FILE", help="a sheet, instead of a teardown")
    parser.add_argument("--item", default="", metavar="SPEC", help="the item by its specification, such as M8x25")
    parser.add_argument("--shape", nargs="+", default=[], metavar="KIND|SIZE", help="the item by its shape and sizes, "
                        "in mm where no unit is said: ball, rod, washer, nut, bolt, box, wire or soft")  # fmt: skip
    parser.add_argument("--open", action="append", default=[], metavar="OPENING[=TIME]", help="an opening that "
                        "stood uncovered, and how long (default: every opening, 1 min)")  # fmt: skip
    _everywhere(parser)


def _pieces(words: Any, add: Callable[..., argparse.ArgumentParser]) -> None:
    parser = add(
        words, "pieces", "say whether the pieces of a broken part add up",
        ("countback pieces --whole 6.42g --likeness 0.05g --piece 4.11g --piece 2.30g --reads-to 0.01g --error 0.02g",
         "countback pieces --from-size --whole 6.5g --likeness 0.2g --piece 4.11g --piece 2.3g --reads-to 0.01g",
         "countback pieces --shape cylinder --size 12mm --size 64mm --size-within 0.1mm --material steel",
         "countback pieces --shape tube --size 12mm --size 8mm --size 64mm --density 1.14g/cm3 --piece 4.1g "
         "--piece 0.5g --reads-to 0.01g",
         "countback pieces --item M8x60-8.8 --piece 21g --reads-to 0.1g",
         "countback pieces --whole 6.42g --likeness 0.05g --piece 4.1g --piece 2.3g --reads-to 0.1g --length 32mm "
         "--piece-length 20.5mm --piece-length 11.4mm --length-within 0.2mm",
         "countback pieces --journal countback-demo/journal.sqlite --teardown workboat"),
        _run("pieces", "pieces_command"),
    )  # fmt: skip
    parser.add_argument("--whole", default="", metavar="MASS", help=f"an identical part, weighed ({_FIGURES})")
    parser.add_argument("--from-size", action="store_true", help="the whole's mass is worked out, not weighed")
    parser.add_argument("--item", default="", metavar="SPEC", help="work the whole's mass out from a steel fastener's "
                        "specification, such as M8x25-8.8")  # fmt: skip
    parser.add_argument("--shape", default="", metavar="SHAPE", help="work the whole's mass out from its shape: "
                        "cylinder, tube, box or hexagon-bar")  # fmt: skip
    parser.add_argument("--size", action="append", default=[], metavar="LENGTH", help="a size of that shape; say each: "
                        "diameter, length; outside, inside, length; length, width, height; across flats, length")
    parser.add_argument("--size-within", default="", metavar="LENGTH",
                        help="how far each size can be off (default: one in its last place)")  # fmt: skip
    parser.add_argument("--material", default="", metavar="NAME", help="its material, such as steel or brass")
    parser.add_argument("--density", default="", metavar="DENSITY", help="its density, where no material is named")
    parser.add_argument("--density-within", default="", metavar="DENSITY",
                        help="how far that can be off (default: one in its last place)")  # fmt: skip
    parser.add_argument("--likeness", default="", metavar="MASS", help="how far that can be off the part that broke; "
                        "to be said with --whole")  # fmt: skip
    parser.add_argument("--piece", action="append", default=[], metavar="MASS", help="one piece, weighed; say each")
    parser.add_argument("--smallest", default="2 mm", metavar="SIZE",
                        help="the smallest piece that does harm, as a ball (default: 2 mm)")  # fmt: skip
    parser.add_argument("--length", default="", metavar="LENGTH", help="how long the whole is")
    parser.add_argument("--piece-length", action="append", default=[], metavar="LENGTH",
                        help="how long one piece is; say each")  # fmt: skip
    parser.add_argument("--length-within", default="", metavar="LENGTH",
                        help="how far each length can be off (default: 1 mm)")  # fmt: skip
    _gauge(parser, "scale")
    _everywhere(parser)


def _weigh(words: Any, add: Callable[..., argparse.ArgumentParser]) -> None:
    parser = add(
        words, "weigh", "count a bag by its mass, or say that the scale cannot tell",
        ("countback weigh --gross 97.6g --tare 12g --sample 42.8g --pieces 5 --reads-to 0.1g",
         "countback weigh --gross 97.6g --tare 12g --sample 79g --pieces 5 --reads-to 0.1g --item M8x25-8.8",
         "countback weigh --gross 1.2kg --tare 0g --sample 60g --pieces 10 --scatter 1.5 --reads-to 1g --error 2g",
         "countback weigh --journal countback-demo/journal.sqlite --teardown workboat"),
        _run("weigh"),
    )  # fmt: skip
    parser.add_argument("--gross", default="", metavar="MASS", help=f"the full bag ({_FIGURES})")
    parser.add_argument("--tare", default="0 g", metavar="MASS", help="the empty bag (default: 0 g)")
    parser.add_argument("--sample", default="", metavar="MASS", help="counted pieces weighed together")
    parser.add_argument("--pieces", type=int, default=0, metavar="N", help="how many pieces that sample holds")
    parser.add_argument("--item", default="", metavar="SPEC", help="what is in it, such as M8x25-8.8: one of the "
                        "sample is held against what that should weigh")  # fmt: skip
    parser.add_argument("--scatter", default="1", metavar="PERCENT",
                        help="how much single pieces differ, in percent (default: 1)")  # fmt: skip
    _gauge(parser, "scale")
    _everywhere(parser)


def _limits(words: Any, add: Callable[..., argparse.ArgumentParser]) -> None:
    parser = add(
        words, "limits", "judge a measurement against its limits: inside, outside, or too close to call",
        ("countback limits 0.5235in --least 0.522in --most 0.525in --reads-to 0.0001in --error 0.0002in",
         "countback limits 0.31mm --most 0.35mm --reads-to 0.01mm",
         "countback limits --journal countback-demo/journal.sqlite --teardown workboat"),
        _run("limits"),
    )  # fmt: skip
    parser.add_argument("reading", nargs="?", default="", metavar="READING", help=f"the reading ({_FIGURES})")
    parser.add_argument("--least", default="", metavar="LENGTH", help="the least that is allowed")
    parser.add_argument("--most", default="", metavar="LENGTH", help="the most that is allowed")
    _gauge(parser, "gauge")
    _everywhere(parser)


def _torque(words: Any, add: Callable[..., argparse.ArgumentParser]) -> None:
    parser = add(
        words, "torque", "look for slips in a torque figure; the maker's figure wins",
        ("countback torque 24N.m --spec M8x25-8.8", "countback torque 9lbf.in --spec 1/4-28x1 --lubrication oiled",
         "countback torque --sheet rocker-cover",
         "countback torque --journal countback-demo/journal.sqlite --teardown workboat"),
        _run("torque"),
    )  # fmt: skip
    parser.add_argument("figure", nargs="?", default="", metavar="FIGURE", help=f"the figure as typed ({_FIGURES})")
    parser.add_argument("--spec", default="", metavar="SPEC", help="the bolt, such as M8x25-8.8")
    parser.add_argument("--lubrication", choices=LUBRICATIONS, default="not said", help="how the thread is prepared")
    parser.add_argument("--sheet", default="", metavar="NAME|FILE", help="every torque on a sheet")
    _everywhere(parser)


def _order(words: Any, add: Callable[..., argparse.ArgumentParser]) -> None:
    parser = add(
        words, "order", "number the fasteners of a flange and put them in tightening order, pass by pass",
        ("countback order 0,0 40,0 40,30 0,30 --passes 30 70 100 --torque 24N.m",
         "countback order --sheet lift-pump-and-side-cover --closure side-cover",
         "countback order --journal countback-demo/journal.sqlite --teardown workboat"),
        _run("order"),
    )  # fmt: skip
    parser.add_argument("positions", nargs="*", default=[], metavar="X,Y",
                        help="where each fastener sits: to the right, and up")  # fmt: skip
    parser.add_argument("--photo", action="store_true", help="the second figure goes down, as on a photo")
    parser.add_argument("--passes", nargs="+", type=int, default=[], metavar="PERCENT",
                        help="the passes in percent of the torque (default: 100)")  # fmt: skip
    parser.add_argument("--torque", default="", metavar="FIGURE", help="the maker's figure, told for each pass")
    parser.add_argument("--sheet", default="", metavar="NAME|FILE", help="a sheet that gives the positions")
    parser.add_argument("--closure", default="", metavar="ID", help="which closure, where there are several")
    _everywhere(parser)
