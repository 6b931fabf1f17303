"""A hot room raises every pitch as the square root of temperature, weighed along the bore."""

from __future__ import annotations

import numpy as np
import pytest

from borewright.acoustics import climate_tables, resonances
from borewright.acoustics.air import air_state
from borewright.acoustics.climates import ROOMS, in_climate
from borewright.model import Climate, Instrument, ToneHole

#: Warm air also drags more, which takes back up to so many cents of a rise by 12 °C.
LOSSES_CENTS = 1.0


def speed_of_sound(climate: Climate, below_reed_mm: np.ndarray) -> np.ndarray:
    """Speed of sound (m/s) in the exponential profile from reed end to room."""
    share = np.exp(-below_reed_mm / climate.decay_mm)
    celsius = climate.room_c + (climate.reed_end_c - climate.room_c) * share
    state = air_state(
        celsius, climate.relative_humidity, climate.carbon_dioxide, climate.pressure_hpa * 100
    )
    return np.asarray(state.speed_of_sound)


def dry(room_c: float, reed_end_c: float, decay_mm: float = 100.0) -> Climate:
    return Climate(
        room_c=room_c,
        reed_end_c=reed_end_c,
        decay_mm=decay_mm,
        relative_humidity=0,
        carbon_dioxide=0.0004,
    )


def test_every_note_rises_between_the_least_and_the_most_warmed_air(clarinet, fingerings):
    """A pitch follows a mean of the speed of sound along the bore, so it keeps its bounds."""
    warm, hot = (
        in_climate(clarinet, room_c=room, reed_end_c=reed_end)
        for room, reed_end in (ROOMS["warm"], ROOMS["hot room"])
    )
    above = clarinet.mouthpiece.bore_length_mm
    places = np.linspace(0.0, clarinet.length_mm + above, 200)
    rises = 1200 * np.log2(
        speed_of_sound(hot.climate, places) / speed_of_sound(warm.climate, places)
    )
    tables = climate_tables(clarinet, fingerings)
    pairs = zip(tables["warm"].notes, tables["hot room"].notes, strict=True)
    shift = np.array([after.cents - before.cents for before, after in pairs])
    # By 3 °C at the reed and 11 °C in the room: 5 and 32 cents, and the vapour's share.
    assert rises.min() > 4
    assert rises.max() < 45
    assert np.all(shift > rises.min() - LOSSES_CENTS)
    assert np.all(shift < rises.max())


@pytest.mark.parametrize("after", [dry(33.0, 33.0), dry(21.0, 33.0), dry(33.0, 21.0)])
def test_a_tube_weighs_the_air_by_its_flow(pipe, cents, after):
    """Rayleigh: only kinetic energy knows the density, and its share at x goes as sin² kx.

    Static pressure is the same throughout, so that rho c² is (but for the ratio of heats) and
    warm air is merely lighter: d ln f is the mean of d ln c under sin² kx, with k of the
    closed and ideally open tube. To first order; the second is below 0.2 cent here.
    """
    length = 300.0
    tube: Instrument = pipe(length=length, bottom_end="ideal", climate=dry(21.0, 21.0))
    shift = cents(
        resonances(tube.model_copy(update={"climate": after}), [], count=3),
        resonances(tube, [], count=3),
    )
    places = (np.arange(2000) + 0.5) / 2000 * length
    rise = 1200 * np.log2(speed_of_sound(after, places) / speed_of_sound(dry(21, 21), places))
    flow = [np.sin((number - 0.5) * np.pi * places / length) ** 2 for number in (1, 2, 3)]
    expected = np.array([2 * np.mean(rise * weight) for weight in flow])
    assert np.all(shift < expected + 0.2)
    assert shift == pytest.approx(expected, abs=LOSSES_CENTS)
    if after.room_c == 21.0:
        # Warm at the top alone, where the lowest resonance has hardly any flow.
        assert shift[0] + 3 < shift[2]


def test_a_solved_hole_follows_the_law_too(pipe, cents, tmp_path, monkeypatch):
    """What is solved in 3-D are lengths, which no temperature changes."""
    monkeypatch.setenv("BOREWRIGHT_CACHE", str(tmp_path))
    hole = ToneHole(name="1", station_mm=250, diameter_mm=8)
    cold, hot = (pipe(length=400, holes=[hole], climate=dry(t, t)) for t in (21.0, 33.0))
    law = 600 * np.log2((33.0 + 273.15) / (21.0 + 273.15))
    for opened in ([], ["1"]):
        found = [
            resonances(tube, opened, count=2, side_holes="solved in 3-D") for tube in (cold, hot)
        ]
        plain = resonances(cold, opened, count=2)
        # Not the closed forms once more: those have another series length.
        assert np.abs(cents(found[0], plain)).max() > 0.1
        shift = cents(found[1], found[0])
        assert shift == pytest.approx(law, abs=LOSSES_CENTS)
        assert np.all(shift < law)
