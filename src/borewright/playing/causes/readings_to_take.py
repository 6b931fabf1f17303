"""What could still be read: gauges, other fingerings, more takes, a known instrument; minutes.

Minutes and errors are those of a bench with plug gauges, a depth gauge, feelers, callipers and
a bore gauge at hand (from memory).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from borewright.model import FingeringTable, Instrument
from borewright.playing.causes.evidence import GAUGE, NOTE_HABIT_CENTS, bore_reads
from borewright.playing.causes.sounding import Sounding
from borewright.playing.readings import Item
from borewright.words import Message, say


@dataclass(frozen=True)
class Candidate:
    """One reading not yet taken: what it would read of the unknowns, its error, its minutes.

    Several rows are notes that are recorded together.
    """

    words: Message
    item: str
    part: str
    hole: str
    reads: np.ndarray  # [R, X]
    noise: np.ndarray  # [R, R]
    minutes: float
    station_mm: float | None = None


_MINUTES = {Item.DIAMETER: 2, Item.HEIGHT: 3, Item.LIFT: 2, Item.LENGTH: 1, Item.BORE: 4}
_WATER_MINUTES, _THERMOMETER_MINUTES, _KNOWN_MINUTES = 8, 5, 15
_TAKES_MINUTES, _FINGERING_MINUTES = 15, 5
#: Minutes to lay a gauge out, and how much of a single reading's each costs in a row of them.
_LAYING_OUT, _NEXT_ONE = 2.0, 0.5
_MORE_TAKES = 5


def candidates(
    instrument: Instrument,
    table: FingeringTable,
    sounding: Sounding,
    recorded: list[int],
    note_error: float,
    slopes: np.ndarray,
) -> list[Candidate]:
    """All readings that could be taken.

    Parameters
    ----------
    instrument, table, sounding
        As drawn.
    recorded
        Rows of the table that were recorded.
    note_error
        Standard error of a recorded note (cents).
    slopes
        Of all fingerings of the table, [F, X].
    """
    unknowns = sounding.unknowns

    def one(
        words: Message, item: str, reads: np.ndarray, error: float, minutes: float,
        part: str = "", hole: str = "", station: float | None = None,
    ) -> Candidate:  # fmt: skip
        noise = np.array([[error**2]])
        return Candidate(words, item, part, hole, reads[None, :], noise, minutes, station)

    found = []
    for part, hole, _ in instrument.placed_holes():
        items = [Item.DIAMETER, Item.HEIGHT, *([Item.LIFT] if hole.pad else [])]
        for item in items:
            measure = "chimney" if item is Item.HEIGHT else item.value
            reads = unknowns.along(
                lambda e, hole=hole, measure=measure: e.hole == hole.name and e.measure == measure  # type: ignore[misc]
            )
            words = say("gauge {hole}: {item}", hole=hole.name, item=item)
            found.append(one(words, item, reads, GAUGE[item], _MINUTES[item], part.name, hole.name))
    for each in instrument.parts:
        reads = unknowns.along(lambda e, part=each.name: e.part == part and e.measure == "length")  # type: ignore[misc]
        found.append(
            one(say("measure the length of the {part}", part=each.name), Item.LENGTH, reads,
                GAUGE[Item.LENGTH], _MINUTES[Item.LENGTH], each.name)
        )  # fmt: skip
        station = round(each.length_mm / 2)
        reads = bore_reads(unknowns, instrument, each.name, station)
        words = say("gauge the bore of the {part} at {station_mm:g} mm", part=each.name,
                    station_mm=station)  # fmt: skip
        found.append(
            one(words, Item.BORE, reads, GAUGE[Item.BORE], _MINUTES[Item.BORE], each.name,
                station=station)
        )  # fmt: skip
    found += _passes(instrument, found)
    if instrument.mouthpiece:
        reads = unknowns.unit(unknowns.parameter("mouthpiece chamber"))
        found.append(
            one(say("measure the room in the mouthpiece with water"), Item.CHAMBER, reads,
                GAUGE[Item.CHAMBER], _WATER_MINUTES)
        )  # fmt: skip
    reads = unknowns.unit(unknowns.parameter("reed-end temperature"))
    found.append(
        one(say("read a thermometer in the barrel right after playing"), Item.REED_END, reads,
            GAUGE[Item.REED_END], _THERMOMETER_MINUTES)
    )  # fmt: skip
    known = [sounding.known_reads(register) for register in unknowns.registers]
    reads = np.array([each for each in known if each.any()])
    noise = GAUGE[Item.PLAYER] ** 2 * np.eye(len(reads))
    found.append(
        Candidate(say("have the same player record an instrument whose pitch is known"),
                  Item.PLAYER, "", "", reads, noise, _KNOWN_MINUTES)
    )  # fmt: skip
    floor = NOTE_HABIT_CENTS**2 + sounding.model_cents**2
    for row, fingering in enumerate(table.fingerings):
        if row not in recorded and np.isfinite(slopes[row]).all():
            words = say("record {note} as well", note=fingering.name)
            error = float(np.hypot(note_error, np.sqrt(floor)))
            found.append(one(words, "fingering", slopes[row], error, _FINGERING_MINUTES))
    # The same notes again lessen their scatter only: what habit and model leave open stays.
    noise = np.eye(len(recorded)) * note_error**2
    found.append(
        Candidate(say("record {count} more takes", count=_MORE_TAKES), "takes", "", "",
                  slopes[recorded], noise, _TAKES_MINUTES)
    )  # fmt: skip
    return found


def _passes(instrument: Instrument, singles: list[Candidate]) -> list[Candidate]:
    """One gauge over all that it fits: the holes of a part, all lengths, all bores."""
    passes = []
    for each in instrument.parts:
        own = [one for one in singles if one.part == each.name and one.item is Item.DIAMETER]
        passes.append((say("plug gauges over all holes of the {part}", part=each.name), own))
    lengths = [one for one in singles if one.item is Item.LENGTH]
    passes.append((say("measure the lengths of all parts"), lengths))
    bores = [one for one in singles if one.item is Item.BORE]
    passes.append((say("gauge the bores of all parts in their middle"), bores))
    return [
        Candidate(
            words,
            own[0].item,
            own[0].part if len({one.part for one in own}) == 1 else "",
            "",
            np.concatenate([one.reads for one in own]),
            np.diag([one.noise[0, 0] for one in own]),
            _LAYING_OUT + _NEXT_ONE * sum(one.minutes for one in own),
        )
        for words, own in passes
        if len(own) > 1
    ]
