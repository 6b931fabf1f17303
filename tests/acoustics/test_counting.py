"""Which resonance is which: never the wrong register in silence."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from borewright.acoustics import input_impedance, kernels, resonances, tuning
from borewright.acoustics.air import air_state
from borewright.acoustics.request import request_for
from borewright.acoustics.status import statuses
from borewright.errors import AcousticsError
from borewright.model import Climate, Fingering, FingeringTable, ToneHole

STILL = Climate(
    room_c=25, reed_end_c=25, relative_humidity=0, carbon_dioxide=0.0004, pressure_hpa=1013.25
)


def peaks(instrument, open_holes, highest_hz: float) -> np.ndarray:
    """Frequencies (Hz) of the local maxima of |Z|, from a scan by 1/4 Hz."""
    scan = np.arange(30.0, highest_hz, 0.25)
    size = np.abs(input_impedance(instrument, open_holes, scan))
    return scan[1:-1][(size[1:-1] > size[:-2]) & (size[1:-1] > size[2:])]


@pytest.mark.parametrize("open_holes", [[], ["P"], ["F", "P"], ["F"], ["T", "F", "P"]])
@pytest.mark.parametrize("vent", [False, True])
def test_resonances_are_the_peaks_in_order(clarinet, open_holes, vent):
    """Chalumeau, throat and a fork, with and without the register vent.

    A peak's top lies within 1 % of where its reactance vanishes, even with the vent open; the
    neighbouring peak is 200 % away.
    """
    holes = [*open_holes, "V"] if vent else open_holes
    found = resonances(clarinet, holes, 2)
    assert found == pytest.approx(peaks(clarinet, holes, 1300.0)[:2], rel=0.01)


def test_the_vent_leaves_the_second_resonance_and_spoils_the_first(clarinet):
    """What a register key does: the first peak moves up and weakens, the second hardly moves."""
    closed, opened = (resonances(clarinet, holes, 2) for holes in (["P"], ["P", "V"]))
    strength = [
        abs(input_impedance(clarinet, holes, pair))
        for holes, pair in ((["P"], closed), (["P", "V"], opened))
    ]
    assert opened[0] > 1.05 * closed[0]
    assert opened[1] == pytest.approx(closed[1], rel=0.02)
    weakened = [vented / plain for vented, plain in zip(strength[1], strength[0], strict=True)]
    assert weakened[0] < 0.7 < weakened[1]


def test_a_clarion_note_is_the_second_resonance(clarinet, fingerings):
    """The table takes each register's own resonance, by the register's name."""
    table = tuning(clarinet, fingerings)
    for name, number in (("C#4", 1), ("G#5", 2), ("F#4", 1), ("B5", 2)):
        note = table.note(name)
        every = resonances(clarinet, note.open_holes, 2)
        assert note.status == "ok"
        assert note.sounding_hz == pytest.approx(every[number - 1], rel=1e-9)


def test_a_fingering_may_name_its_resonance(clarinet):
    """A fifth harmonic written in another register: the number in the table counts."""
    rows = [
        Fingering(
            written="D6", label=str(number), register="clarion", open_holes=("V",), resonance=number
        )
        for number in (2, 3)
    ]
    second, third = tuning(clarinet, FingeringTable(fingerings=rows)).notes
    assert third.sounding_hz / second.sounding_hz == pytest.approx(5 / 3, rel=0.05)


def five_hole_fingerings() -> list[str]:
    return ["".join(c) for n in range(6) for c in itertools.combinations("12345", n)]


def true_resonances(textbook, instrument, open_holes: str) -> list[float]:
    """Impedance maxima by a 1 Hz scan of the textbook chain, as far as they are above Zc."""
    part, air = instrument.parts[0], air_state(25.0)
    holes = [
        textbook.Hole(
            h.station_mm / 1e3, h.diameter_mm / 2e3, h.chimney_mm / 1e3, h.name in open_holes
        )
        for h in part.holes
    ]
    tube = textbook.Tube(0.4, 7.3e-3, 15e-3, holes, air)
    found = textbook.resonances(tube, 9, 1400.0)
    characteristic = float(air.density * air.speed_of_sound) / (np.pi * 7.3e-3**2)
    strong = textbook.input_impedance(tube, found).real > characteristic
    return list(found[strong])


def test_every_cross_fingering_of_a_pipe_is_counted_right(textbook, five_holes):
    """All 32 fingerings of five holes: the first two resonances are the first two.

    Below an open hole the rest of the tube has resonances of its own, narrow ones; the sweep
    must not step over them.
    """
    instrument = five_holes(climate=STILL)
    wrong = []
    for open_holes in five_hole_fingerings():
        request = request_for(instrument, [list(open_holes)] * 2, [1, 2], 1331.25)
        solved = kernels.resonances(*request)
        truth = true_resonances(textbook, instrument, open_holes)[:2]
        same = np.abs(np.asarray(solved.frequency) / truth - 1) < 1e-5
        trusted = [
            words != "several resonances crowd here; the lowest is given"
            for words in statuses(solved)
        ]
        if not np.all(same & trusted):
            wrong.append(open_holes)
    assert wrong == []


def test_a_stopped_pipe_with_an_open_hole(pipe):
    """Stopped below, one hole open: air can leave, so the first peak is a quarter wave again."""
    hole = ToneHole(name="A", station_mm=200, diameter_mm=8)
    tube = pipe(holes=[hole], bottom_end="closed")
    assert resonances(tube, ["A"], 1) == pytest.approx(peaks(tube, ["A"], 900.0)[:1], rel=0.01)


def test_a_note_beyond_the_instrument_gets_a_status_and_no_number(pipe):
    """The ninth resonance of a short pipe lies far above the search."""
    row = Fingering(written="A4", register="chalumeau", open_holes=(), resonance=9)
    note = tuning(pipe(), FingeringTable(fingerings=[row])).notes[0]
    assert note.sounding_hz is None
    assert note.cents is None
    assert note.status.startswith("no such resonance")


def test_a_faint_resonance_says_so(pipe):
    """A wide pipe high up reflects next to nothing (|R| below 0.3 above ka = 1.9)."""
    wide = pipe(top=60.0)
    row = Fingering(written="A7", register="altissimo", open_holes=(), resonance=8)
    note = tuning(wide, FingeringTable(fingerings=[row])).notes[0]
    assert "faint" in note.status
    assert 2 * np.pi * note.sounding_hz / 346 * 0.03 > 1.9
    with pytest.raises(AcousticsError, match="faint"):
        resonances(wide, [], 8)
