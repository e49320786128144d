"""What a "correct" count still leaves: the residual risk, from published studies of counts.

The studies are of hospital counts, where losses were followed up; nobody has published such a figure for engines.
They tell how often a count misses a loss, not how often something is lost.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt


@dataclass(frozen=True, slots=True)
class CountStudy:
    """A study as a two-by-two table: losses that the count noticed and missed, false alarms, and quiet counts."""

    source: str
    noticed: int
    missed: int
    false_alarms: int
    quiet: int

    @property
    def sensitivity(self) -> float:
        """The share of losses that the count noticed."""
        return self.noticed / (self.noticed + self.missed)

    @property
    def specificity(self) -> float:
        """The share of jobs without a loss in which the count raised no alarm."""
        return self.quiet / (self.quiet + self.false_alarms)

    @property
    def predictive_value(self) -> float:
        """The share of alarms behind which there was a loss."""
        return self.noticed / (self.noticed + self.false_alarms)

    def sensitivity_interval(self, z: float = 1.96) -> tuple[float, float]:
        """Wilson's interval for the sensitivity; z = 1.96 gives about 95 %."""
        n, p = self.noticed + self.missed, self.sensitivity
        middle, half = p + z * z / (2 * n), z * sqrt(p * (1 - p) / n + z * z / (4 * n * n))
        return (middle - half) / (1 + z * z / n), (middle + half) / (1 + z * z / n)


EGOROVA_2008 = CountStudy("Egorova et al. 2008, Ann Surg 247(1):13-8", 17, 5, 1045, 152196)


@dataclass(frozen=True, slots=True)
class ResidualRisk:
    """Of losses that happen, the share that counts still leave unseen.

    `if_independent` is where each count misses by itself; `if_alike` where all miss the same. The truth lies between.
    """

    if_independent: float
    if_alike: float
    words: tuple[str, ...]


def residual_risk(counts: int, closeouts: int, study: CountStudy = EGOROVA_2008) -> ResidualRisk:
    """What a count called correct still leaves, after so many independent counts and closeout inspections.

    Closeouts are named and not credited with a figure: none is published.
    """
    missed = 1 - study.sensitivity
    alike = missed if counts else 1.0
    independent = missed**counts
    words = (_counts(counts, independent, alike), _basis(study), _closeouts(closeouts), _NO_CERTIFICATE)
    return ResidualRisk(independent, alike, words)


_NO_CERTIFICATE = "This is not a certificate: a count that agrees does not show that the engine is empty."


def _counts(counts: int, independent: float, alike: float) -> str:
    if not counts:
        return "No count was made, so nothing would have been noticed by counting."
    one = f"Of 100 losses, one count by itself misses about {_hundred(alike)}."
    if counts == 1:
        return one
    return (
        f"{one} After {counts} counts that agree, between {_hundred(independent)} and {_hundred(alike)} stay unseen: "
        "the fewer, the less one count leaned on another."
    )


def _basis(study: CountStudy) -> str:
    low, high = study.sensitivity_interval()
    losses = study.noticed + study.missed
    return (
        f"Basis: {study.source}: hospital counts noticed {study.noticed} of {losses} losses "
        f"({100 * study.sensitivity:.0f} %; so few losses allow {100 * low:.0f} to {100 * high:.0f} %). "
        "No such figure is published for engines."
    )


def _closeouts(closeouts: int) -> str:
    if not closeouts:
        return "No closeout inspection was made. Looking inside is the only check that does not lean on the count."
    made = "1 closeout inspection was" if closeouts == 1 else f"{closeouts} closeout inspections were"
    return f"{made} made besides. They look for what a count misses; how much they find is not published."


def _hundred(share: float) -> str:
    """A share of 100, never said as none."""
    return "fewer than 1" if share < 0.005 else f"{100 * share:.0f}"
