"""Bore curves: the textbook's cosine, the engine solved anew, and the sum of all bumps.

Rayleigh ("The Theory of Sound", section 265): a closed-open cylinder's mode with wavenumber k
shifts by d ln f = -(1/L) ∫ (dS/S) cos 2kx dx, x from the closed end. For a bump of the diameter,
high w at x0 and falling off linearly over h either way, the integral is
(2 w / D) h sinc²(k h) cos 2 k x0 with sinc z = sin z / z (half a bump at the ends).
"""

from __future__ import annotations

import numpy as np
import pytest

from borewright.acoustics import Air, kernels
from borewright.acoustics.character import bore_perturbation, with_stations
from borewright.acoustics.character.perturbation import heard_stations
from borewright.acoustics.request import request_of_table
from borewright.errors import AcousticsError
from borewright.model import Fingering, FingeringTable, dimensions

CENTS_PER_LOG = 1200 / np.log(2)
STEP = 40.0


def test_a_closed_open_cylinder_follows_rayleigh(pipe, tabled):
    """1e-6 of the largest: the tube is lossless and ends ideally, nothing is left out.

    Each mode is sampled by table rows that name resonances 1 to 3.
    """
    length, bore, step = 600.0, 14.6, 5.0
    table = tabled(("D3", "chalumeau", ()), ("A4", "clarion", ()), ("F#5", "altissimo", ()))
    instrument = pipe(length=length, top=bore, bottom_end="ideal")
    air = Air(speed_of_sound=346.0, density=1.18, losses=False)
    curves = bore_perturbation(instrument, table, step_mm=step, air=air)
    places = np.array([station.position_mm for station in curves.stations])
    assert places == pytest.approx(np.arange(0, length + 1, step))
    for row, mode in zip(curves.cents, (1, 3, 5), strict=True):
        k = mode * np.pi / 2 / length
        whole = np.sinc(k * step / np.pi) ** 2 * np.cos(2 * k * places)
        bump = -CENTS_PER_LOG * (2 * 0.05 / bore) * step / length * whole
        # At the ends the bump is cut in half; inside it is whole.
        assert row[1:-1] == pytest.approx(bump[1:-1], abs=1e-6 * np.max(np.abs(bump)))
        assert row[0] == pytest.approx(bump[0] / 2, rel=2e-3)
        assert row[-1] == pytest.approx(bump[-1] / 2, rel=2e-3)
    # The classic shape: a wide top lowers every mode, a wide bottom raises it.
    assert all(row[0] < 0 < row[-1] for row in curves.cents)


class SolvedAnew:
    """Pitches (cents) of an instrument whose diameters are moved, cut into the same slices.

    Slices must stay: a bump may make a straight piece count as a taper, which is then cut more
    finely, and the 0.01 cent of that is no affair of the curves.
    """

    def __init__(self, instrument, table):
        self.request = request_of_table(with_stations(instrument, STEP), table)
        self.stations, self.groups = heard_stations(with_stations(instrument, STEP))

    def __call__(self, indices, by: float) -> np.ndarray:
        values = np.array(self.request.numbers.values)
        for index in indices:
            values[self.groups[index]] += by
        numbers = self.request.numbers._replace(values=values)
        solved = kernels.resonances(*self.request._replace(numbers=numbers))
        return CENTS_PER_LOG * np.log(np.asarray(solved.frequency))


@pytest.fixture(scope="module")
def five(five_holes, tabled):
    """A tube with five holes, and fingerings of two registers."""
    table = tabled(
        ("G#3", "chalumeau", ()),
        ("C4", "chalumeau", "5"),
        ("F4", "chalumeau", "345"),
        ("A4", "chalumeau", "135"),
        ("F5", "clarion", "5"),
        ("C6", "clarion", "345"),
    )
    return five_holes(), table


@pytest.fixture(scope="module")
def little(clarinet, fingerings):
    return clarinet, fingerings


@pytest.mark.parametrize("subject", ["five", pytest.param("little", marks=pytest.mark.slow)])
def test_solved_anew_the_rest_is_of_second_order(request, subject):
    """Halving the bump quarters what the curve leaves out (3.6 to 4.4: terms of third order)."""
    instrument, table = request.getfixturevalue(subject)
    curves = bore_perturbation(instrument, table, step_mm=STEP, widening_mm=1.0)
    pitches = SolvedAnew(instrument, table)
    assert curves.stations == pitches.stations
    still = pitches([], 0.0)
    count = len(curves.stations)
    for index in (1, count // 3, count // 2, count - 3):
        slope = np.array([row[index] for row in curves.cents])
        left = [pitches([index], by) - still - slope * by for by in (0.1, 0.05)]
        # Fifty microns, the curves' own measure: within a fiftieth of the largest shift.
        assert left[1] == pytest.approx(0, abs=0.02 * np.max(np.abs(slope * 0.05)))
        strong = np.abs(left[1]) > 1e-5
        assert np.any(strong)
        ratio = left[0][strong] / left[1][strong]
        assert np.median(ratio) == pytest.approx(4.0, abs=0.4)


def test_bumps_add_up_to_a_bore_widened_all_along(five):
    """To first order: 0.001 of the largest, with differences of 0.002 mm."""
    instrument, table = five
    curves = bore_perturbation(instrument, table, step_mm=STEP, widening_mm=1.0)
    whole = np.sum(curves.cents, axis=1)
    pitches = SolvedAnew(instrument, table)
    every = range(len(curves.stations))
    slope = (pitches(every, 0.002) - pitches(every, -0.002)) / 0.004
    assert whole == pytest.approx(slope, abs=1e-3 * np.max(np.abs(slope)))


def test_stations_lie_where_the_sound_meets_the_bore(clarinet):
    finer = with_stations(clarinet, 20.0)
    stations, groups = heard_stations(finer)
    places = [station.position_mm for station in stations]
    assert places == sorted(places)
    assert max(np.diff(places)) <= 20.0 + 1e-9
    # Every part is met, and the lengths that the bumps stand for cover the body but for the
    # rings between tenons and socket floors (0.4 + 0.5 mm).
    assert {station.part for station in stations} == {"barrel", "joint", "bell"}
    covered = sum(station.width_mm for station in stations)
    assert covered == pytest.approx(clarinet.length_mm - 0.9)
    names = [(d.part, d.measure) for d in dimensions(finer)]
    for station, group in zip(stations, groups, strict=True):
        assert {names[column] for column in group} == {(station.part, "bore_diameter")}


def test_narrowing_is_the_opposite(five):
    instrument, table = five
    wider = bore_perturbation(instrument, table, step_mm=STEP)
    narrower = bore_perturbation(instrument, table, step_mm=STEP, widening_mm=-0.05)
    assert np.array(narrower.cents) == pytest.approx(-np.array(wider.cents))
    assert wider.curve("C4") == wider.cents[1]
    with pytest.raises(KeyError):
        wider.curve("Z9")


@pytest.mark.parametrize(
    "wrong", [{"step_mm": 0.5}, {"step_mm": 500.0}, {"widening_mm": 0.0}, {"widening_mm": 2.0}]
)
def test_what_makes_no_sense_is_refused(five, wrong):
    instrument, table = five
    with pytest.raises(AcousticsError, match=next(iter(wrong))):
        bore_perturbation(instrument, table, **wrong)


def test_a_note_without_a_resonance_is_named(five, tabled):
    instrument, _ = five
    table = FingeringTable(
        fingerings=[
            *tabled(("G#3", "chalumeau", ())).fingerings,
            Fingering(written="A3", register="chalumeau", open_holes=(), resonance=9),
        ]
    )
    with pytest.raises(AcousticsError, match="no resonance was found for A3"):
        bore_perturbation(instrument, table, step_mm=STEP)
