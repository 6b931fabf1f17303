"""The assembled bore: parts in order, joints as the sound meets them, nothing lost or doubled."""

from __future__ import annotations

import jax
import numpy as np
import pytest

from borewright.acoustics.geometry import slices_and_holes
from borewright.acoustics.structure import numbers_of, structure_of
from borewright.model import Instrument, Part, ToneHole, read_values, with_values

assemble = jax.jit(slices_and_holes, static_argnums=0)


def assembled(instrument: Instrument):
    slices, holes, ends, where = assemble(structure_of(instrument), numbers_of(instrument))
    return slices, holes, ends, np.asarray(where)


def test_slices_join_without_gap_from_reed_to_bell(clarinet):
    slices, _, ends, _ = assembled(clarinet)
    lengths, middles = np.asarray(slices.length), np.asarray(slices.middle)
    assert np.all(lengths >= 0)
    bottoms, tops = middles + lengths / 2, middles - lengths / 2
    assert tops[0] == pytest.approx(-clarinet.mouthpiece.bore_length_mm / 1e3)
    assert tops[1:] == pytest.approx(bottoms[:-1], abs=1e-12)
    assert bottoms[-1] == pytest.approx(clarinet.length_mm / 1e3)
    assert float(ends.bore_radius) == pytest.approx(25e-3)
    assert float(ends.outer_radius) == pytest.approx(28e-3)


@pytest.mark.parametrize(
    ("place_mm", "diameter"),
    [
        (-20.0, 15.0),  # in the mouthpiece
        (30.0, 15.0 - 0.2 * 30 / 64),  # in the barrel
        (51.8, 22.4),  # the ring below its socket's floor: 51.6 to 52
        (55.0, 14.9),  # in the joint's tenon, whose bore goes on with its first diameter
        (64 + 115.0, 14.7 - 0.1 * 85 / 170),  # in the joint
        (64 + 268.0, 16.0),  # in its lower tenon
        (64 + 272.3, 24.4),  # the ring above the bell's socket floor: 272 to 272.5
        (64 + 280.0, 17.0 + 5 * 20 / 40),  # in the bell
    ],
)
def test_the_bore_is_that_of_the_part_the_sound_meets(clarinet, place_mm, diameter):
    """Read off the drawing by hand: shoulders at 64 and 324, tenons of 12."""
    slices, _, _, _ = assembled(clarinet)
    middles, lengths = np.asarray(slices.middle), np.asarray(slices.length)
    inside = np.flatnonzero(np.abs(place_mm / 1e3 - middles) < lengths / 2)
    assert len(inside) == 1
    top = middles[inside] - lengths[inside] / 2
    radius = np.asarray(slices.radius_top)[inside] + np.asarray(slices.slope)[inside] * (
        place_mm / 1e3 - top
    )
    assert 2e3 * radius == pytest.approx(diameter, abs=1e-9)


def test_holes_stand_at_the_tops_of_slices(clarinet):
    slices, holes, _, where = assembled(clarinet)
    tops = np.asarray(slices.middle) - np.asarray(slices.length) / 2
    placed = clarinet.placed_holes()
    assert sorted(where[where < len(placed)]) == list(range(len(placed)))
    for index, (part, hole, position_mm) in enumerate(placed):
        (row,) = np.flatnonzero(where == index)
        assert tops[row] == pytest.approx(position_mm / 1e3)
        assert 2e3 * float(holes.bore_radius[index]) == pytest.approx(
            part.bore_diameter_at(hole.station_mm)
        )
        assert 1e3 * float(holes.height[index]) == pytest.approx(part.tube_height_mm(hole))
        assert 2e3 * float(holes.body_radius[index]) == pytest.approx(
            part.outside_diameter_at(hole.station_mm)
        )


def test_another_barrel_moves_everything_below_it(clarinet):
    """2 mm more of barrel: every hole and the bell's end 2 mm further from the reed."""
    values = read_values(clarinet)
    values[0] += 2.0
    _, before, ends_before, _ = assembled(clarinet)
    _, after, ends_after, _ = assembled(with_values(clarinet, values))
    shift = np.asarray(after.position) - np.asarray(before.position)
    assert shift == pytest.approx(2e-3, abs=1e-12)
    assert float(ends_after.length - ends_before.length) == pytest.approx(2e-3, abs=1e-12)


def test_parts_butted_together_are_one_part():
    """A bore cut in two at a shoulder is the same bore."""

    def hole(station: float) -> ToneHole:
        return ToneHole(name="A", station_mm=station, diameter_mm=7)

    def part(name: str, length: float, bore, holes=()) -> Part:
        outside = [(0, 30), (length, 30)]
        return Part(name=name, length_mm=length, bore=bore, outside=outside, holes=list(holes))

    whole = Instrument(
        parts=[part("body", 200, [(0, 15), (80, 14), (200, 20)], [hole(130)])], invented=True
    )
    halves = Instrument(
        parts=[
            part("upper", 80, [(0, 15), (80, 14)]),
            part("lower", 120, [(0, 14), (120, 20)], [hole(50)]),
        ],
        invented=True,
    )
    one, two = assembled(whole), assembled(halves)
    for first, second in zip(one[0], two[0], strict=True):
        assert np.asarray(first) == pytest.approx(np.asarray(second), abs=1e-12)
    for first, second in zip(one[1], two[1], strict=True):
        assert np.asarray(first) == pytest.approx(np.asarray(second), abs=1e-12)


def test_a_step_in_the_bore_keeps_both_diameters():
    part = Part(
        name="body",
        length_mm=100,
        bore=[(0, 15), (40, 15), (40, 14), (100, 14)],
        outside=[(0, 30), (100, 30)],
    )
    slices, _, _, _ = assembled(Instrument(parts=[part], invented=True))
    # Both cylinders are cut in two, at most 36 mm long, since the air cools along them.
    assert 2e3 * np.asarray(slices.radius_top) == pytest.approx([15, 15, 14, 14])
    assert 1e3 * np.asarray(slices.length) == pytest.approx([20, 20, 30, 30])
