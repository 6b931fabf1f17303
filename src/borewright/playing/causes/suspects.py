"""What may be wrong: single faults beyond the usual scatter, each with odds and a size.

Odds and sizes are those of a small workshop that prints, reams and seats by hand, where somebody
has a reason to ask (from memory): one or two faults are expected, holes first.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

import numpy as np

from borewright.model import Dimension, Instrument
from borewright.playing.causes.unknowns import Unknowns
from borewright.words import Message, say


@dataclass(frozen=True)
class Suspect:
    """One possible fault: a direction among the unknowns, how far it may go, and its odds.

    ``quantity`` [X] reads what is told of it: the deviation in all, usual scatter included.
    """

    kind: str
    part: str
    hole: str
    less: Message  # what is said of a negative amount
    more: Message
    direction: np.ndarray  # [X]
    quantity: np.ndarray  # [X]
    unit: str
    spread: float  # one standard deviation, in that unit
    odds: float  # that it is so, to 1

    @property
    def key(self) -> tuple[str, str, str]:
        """What tells it from all others."""
        return self.kind, self.part, self.hole


#: Spread (unit of the fault) and odds to 1 of each kind; holes and parts share theirs.
_PRIOR = {
    "all holes": (0.12, 0.20),
    "all bores": (0.05, 0.12),
    "all heights": (0.15, 0.05),
    "bore": (0.06, 0.05),
    "barrel": (0.5, 0.20),
    "length": (0.4, 0.015),
    "diameter": (0.30, 0.022),
    "height": (0.35, 0.008),
    "lift": (0.60, 0.012),
    "chamber": (250.0, 0.20),
    "reed": (400.0, 0.10),
    "warmth": (2.0, 0.05),
}
#: A fault that moves no note by this (cents) is none that takes could show.
_SILENT_CENTS = 0.7


def suspects(
    instrument: Instrument,
    unknowns: Unknowns,
    slopes: np.ndarray,
    leaks: Collection[str] = (),
) -> list[Suspect]:
    """All faults that could be heard in notes with these slopes [F, X].

    Holes that stand for ``leaks`` are none.
    """
    found = [
        *_print_wide(unknowns),
        *_of_parts(instrument, unknowns),
        *_of_holes(instrument, unknowns),
        *_of_the_top(instrument, unknowns),
    ]
    return [
        each
        for each in found
        if each.hole not in leaks
        and np.abs(slopes @ each.direction).max() * each.spread > _SILENT_CENTS
    ]


def _suspect(
    kind: str,
    less: Message,
    more: Message,
    direction: np.ndarray,
    *,
    part: str = "",
    hole: str = "",
    unit: str = "mm",
    prior: str = "",
    quantity: np.ndarray | None = None,
) -> Suspect:
    spread, odds = _PRIOR[prior or kind]
    read = direction if quantity is None else quantity
    quantity = read / max(float(np.sum(read != 0)), 1.0)
    return Suspect(kind, part, hole, less, more, direction, quantity, unit, spread, odds)


def _print_wide(unknowns: Unknowns) -> list[Suspect]:
    def all_of(*measures: str) -> np.ndarray:
        return unknowns.along(lambda each: each.measure in measures and each.part != "mouthpiece")

    return [
        _suspect("all holes", say("all holes too small"), say("all holes too large"),
                 all_of("diameter", "undercut_diameter"), quantity=all_of("diameter")),
        _suspect("all bores", say("the whole bore too narrow"), say("the whole bore too wide"),
                 all_of("bore_diameter")),
        _suspect("all heights", say("all chimneys too short"), say("all chimneys too tall"),
                 all_of("chimney")),
    ]  # fmt: skip


def _of_parts(instrument: Instrument, unknowns: Unknowns) -> list[Suspect]:
    found = []
    for part in instrument.parts:

        def own(each: Dimension, measure: str, name: str = part.name) -> bool:
            return each.part == name and each.measure == measure and not each.hole

        def bore(each: Dimension) -> bool:
            return own(each, "bore_diameter")

        def length(each: Dimension) -> bool:
            return own(each, "length")

        found += [
            _suspect("bore", say("the bore of the {part} too narrow", part=part.name),
                     say("the bore of the {part} too wide", part=part.name),
                     unknowns.along(bore), part=part.name),
            _suspect("length", say("the {part} too short", part=part.name),
                     say("the {part} too long, or not home", part=part.name),
                     unknowns.along(length), part=part.name,
                     prior="length" if part.holes else "barrel"),
        ]  # fmt: skip
    return found


def _of_holes(instrument: Instrument, unknowns: Unknowns) -> list[Suspect]:
    found = []
    for part, hole, _ in instrument.placed_holes():
        name = hole.name

        def along(*measures: str, name: str = name) -> np.ndarray:
            return unknowns.along(lambda each: each.hole == name and each.measure in measures)

        found += [
            _suspect("diameter", say("{hole} too small", hole=name),
                     say("{hole} too large", hole=name), along("diameter", "undercut_diameter"),
                     part=part.name, hole=name, quantity=along("diameter")),
            _suspect("height", say("the chimney of {hole} too short", hole=name),
                     say("the chimney of {hole} too tall", hole=name), along("chimney"),
                     part=part.name, hole=name),
        ]  # fmt: skip
        if hole.pad:
            found.append(
                _suspect("lift", say("the pad of {hole} opens too little", hole=name),
                         say("the pad of {hole} opens too far", hole=name), along("lift"),
                         part=part.name, hole=name)
            )  # fmt: skip
    return found


def _of_the_top(instrument: Instrument, unknowns: Unknowns) -> list[Suspect]:
    found = [
        _suspect("warmth", say("the instrument not warmed up"),
                 say("the instrument warmer than usual"),
                 unknowns.unit(unknowns.parameter("reed-end temperature")), unit="°C"),
    ]  # fmt: skip
    if instrument.mouthpiece:
        found.append(
            _suspect("chamber", say("too little room in the mouthpiece"),
                     say("too much room in the mouthpiece"),
                     unknowns.unit(unknowns.parameter("mouthpiece chamber")), unit="mm³")
        )  # fmt: skip
    if instrument.reed:
        found.append(
            _suspect("reed", say("the reed harder than usual"), say("the reed softer than usual"),
                     unknowns.unit(unknowns.parameter("reed equivalent volume")), unit="mm³")
        )  # fmt: skip
    return found
