"""Observations of one instrument: notes of takes and readings of gauges, as rows of one system."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

import numpy as np

from borewright.model import FingeringTable, Instrument, Register
from borewright.model.profile import diameter_at
from borewright.playing.causes.sounding import Sounding
from borewright.playing.causes.unknowns import Unknowns
from borewright.playing.measured import MeasuredNote
from borewright.playing.readings import Item, Reading
from borewright.words import Message, Text, say

#: One standard deviation of a reading by its usual gauge (mm): plug gauges, a depth gauge,
#: feelers, callipers, a bore gauge; syringe and water (mm³), a thermometer (°C), a register of a
#: known instrument in five takes (cents; all from memory).
GAUGE = {
    Item.DIAMETER: 0.02,
    Item.HEIGHT: 0.05,
    Item.LIFT: 0.10,
    Item.LENGTH: 0.03,
    Item.BORE: 0.015,
    Item.CHAMBER: 40.0,
    Item.REED_END: 0.5,
    Item.PLAYER: 1.2,
}
#: What a player's habit on single notes leaves open (cents; from memory).
NOTE_HABIT_CENTS = 1.1


class Row(NamedTuple):
    """One reading against the design: which unknowns it reads, and how far it was off."""

    words: Message
    reads: np.ndarray  # [X]
    off: float
    error: float
    unit: Text = "mm"


class Evidence(NamedTuple):
    """Everything observed, less what the design as drawn should give, about one point."""

    slopes: np.ndarray  # [R, X]
    observed: np.ndarray  # [R]
    noise: np.ndarray  # [R, R]


def gauge_row(sounding: Sounding, instrument: Instrument, found: Reading) -> Row | None:
    """A reading as a row; None for leaks, which are no size."""
    unknowns = sounding.unknowns
    what: Message
    match found.item:
        case Item.DIAMETER | Item.HEIGHT | Item.LIFT:
            measure = {Item.HEIGHT: "chimney"}.get(found.item, found.item.value)
            part, hole = next(
                (part, hole) for part, hole, _ in instrument.placed_holes()
                if hole.name == found.hole
            )  # fmt: skip
            drawn = {
                Item.DIAMETER: hole.diameter_mm,
                Item.HEIGHT: part.tube_height_mm(hole),
                Item.LIFT: hole.pad.lift_mm if hole.pad else 0.0,
            }[found.item]
            reads = unknowns.along(lambda e: e.hole == found.hole and e.measure == measure)
            what = say("{hole} {measure}", hole=found.hole, measure=found.item)
        case Item.LENGTH:
            drawn = instrument.part(found.part).length_mm
            reads = unknowns.along(lambda e: e.part == found.part and e.measure == "length")
            what = say("{part} length", part=found.part)
        case Item.BORE:
            drawn = diameter_at(instrument.part(found.part).bore, float(found.station_mm or 0.0))
            reads = bore_reads(unknowns, instrument, found.part, float(found.station_mm or 0.0))
            what = say("{part} bore at {station_mm:g}", part=found.part,
                       station_mm=found.station_mm or 0.0)  # fmt: skip
        case Item.CHAMBER | Item.REED_END | Item.PLAYER:
            return _of_all(sounding, instrument, found)
        case _:
            return None
    return Row(what, reads, found.value - drawn, GAUGE[found.item])


def _of_all(sounding: Sounding, instrument: Instrument, found: Reading) -> Row:
    """A reading of mouthpiece, warmth or player."""
    unknowns = sounding.unknowns
    chamber = instrument.mouthpiece.chamber_mm3 if instrument.mouthpiece else 0.0
    unit: Text
    match found.item:
        case Item.CHAMBER:
            reads = unknowns.unit(unknowns.parameter("mouthpiece chamber"))
            expected, unit = chamber, "mm³"
        case Item.REED_END:
            reads = unknowns.unit(unknowns.parameter("reed-end temperature"))
            expected, unit = instrument.climate.reed_end_c, "°C"
        case _:
            register = Register(found.part) if found.part else None
            reads, expected, unit = sounding.known_reads(register), 0.0, say("cents")
    return Row(found.item.words, reads, found.value - expected, GAUGE[found.item], unit)


def bore_reads(
    unknowns: Unknowns, instrument: Instrument, part: str, station_mm: float
) -> np.ndarray:
    """What a bore gauge reads at a station: bore points in proportion, [X]."""
    reads = np.zeros(unknowns.count)
    points = [station for station, _ in instrument.part(part).bore]
    columns = [i for i, each in enumerate(unknowns.dimensions)
               if each.part == part and each.measure == "bore_diameter"]  # fmt: skip
    for index, column in enumerate(columns):
        share = np.zeros(len(points))
        share[index] = 1.0
        reads[column] = float(np.interp(station_mm, points, share))
    return reads


class Observations:
    """Notes and readings of one instrument, put into rows about any point."""

    def __init__(
        self,
        sounding: Sounding,
        table: FingeringTable,
        measured: Mapping[str, MeasuredNote],
        shared_cents: float,
        gauged: Sequence[Row],
    ) -> None:
        self.sounding, self.gauged = sounding, list(gauged)
        self.rows = [i for i, each in enumerate(table.fingerings) if each.name in measured]
        self.names = [table.fingerings[row].name for row in self.rows]
        self.cents = np.array([measured[name].cents for name in self.names])
        error = np.array([measured[name].error for name in self.names])
        floor = NOTE_HABIT_CENTS**2 + sounding.model_cents**2
        self.note_noise = np.diag(error**2 + floor) + shared_cents**2

    def about(self, point: np.ndarray) -> Evidence:
        """The rows, notes first, made straight about a point [X]."""
        cents, slopes = self.sounding.at(point, self.rows)
        count, gauged = len(self.rows), len(self.gauged)
        reads = np.array([each.reads for each in self.gauged]).reshape(gauged, len(point))
        noise = np.zeros((count + gauged, count + gauged))
        noise[:count, :count] = self.note_noise
        places = np.arange(count, count + gauged)
        noise[places, places] = [each.error**2 for each in self.gauged]
        observed = np.concatenate(
            [self.cents - cents + slopes @ point, [each.off for each in self.gauged]]
        )
        return Evidence(np.concatenate([slopes, reads]), observed, noise)
