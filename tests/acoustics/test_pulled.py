"""A joint drawn apart is a ring of the socket's width between the two bores."""

from __future__ import annotations

import pytest

from borewright.acoustics import resonances
from borewright.errors import BorewrightError
from borewright.model import Instrument, Part, Socket, Tenon


def jointed(pulled):
    upper = Part(
        name="barrel", length_mm=65.0, bore=[(0, 15.0), (65, 15.0)], outside=[(0, 31), (65, 31)],
        socket_bottom=Socket(depth_mm=16.0, diameter_mm=22.4),
    )  # fmt: skip
    lower = Part(
        name="joint", length_mm=300.0, bore=[(0, 14.8), (300, 14.8)],
        outside=[(0, 30), (300, 30)],
        tenon_top=Tenon(length_mm=16.0, diameter_mm=21.8),
    )  # fmt: skip
    return Instrument(parts=[upper, lower], pulled=pulled)


def ringed(by_mm):
    """The same drawn as one part: barrel's bore, ring, the tenon's bore and on."""
    floor, end = 49.0, 365.0 + by_mm
    bore = [(0, 15.0), (floor, 15.0), (floor, 22.4), (floor + by_mm, 22.4),
            (floor + by_mm, 14.8), (end, 14.8)]  # fmt: skip
    part = Part(name="all", length_mm=end, bore=bore, outside=[(0, 30), (end, 30)])
    return Instrument(parts=[part])


@pytest.mark.parametrize("by_mm", [0.5, 2.0])
def test_a_pulled_joint_is_a_wide_ring(by_mm):
    drawn = resonances(ringed(by_mm), [], 3)
    # The slices differ, and with them where the air's temperature is taken: 1e-5 is 0.02 cent.
    assert resonances(jointed({"barrel": by_mm}), [], 3) == pytest.approx(drawn, rel=1e-5)
    assert all(resonances(jointed({}), [], 3) > drawn)


def test_the_lowest_part_names_the_joint_above_it():
    assert jointed({"joint": 1.0}).joint_gaps_mm() == [1.0, 0.0]
    assert jointed({"barrel": 1.0}).joint_gaps_mm() == [1.0, 0.0]


def test_a_joint_holds_half_of_its_tenon():
    with pytest.raises(ValueError, match="holds only up to 8 mm"):
        jointed({"barrel": 9.0})
    with pytest.raises(ValueError, match="no such part"):
        jointed({"bell": 1.0})


def test_the_whole_resonator_is_drawn_apart_too():
    from borewright.acoustics.solved.whole.body import body_length_mm, body_of

    home, apart = (body_of(jointed(pulled), []) for pulled in ({}, {"barrel": 1.5}))
    for outline in ("bore", "outside"):
        before, after = getattr(home, outline)[-1], getattr(apart, outline)[-1]
        assert after == (pytest.approx(before[0] + 1.5), before[1])
    assert body_length_mm(jointed({"barrel": 1.5})) == pytest.approx(apart.length_mm)


def test_pulled_is_told_as_a_person_writes_it():
    from borewright.tasks.pulling import with_pulled

    home = jointed({})
    assert with_pulled(home, ["barrel=1,5"]).pulled == {"barrel": 1.5}
    assert with_pulled(home, []) is home
    for text in ("barrel", "=2", "barrel=far", "barrel=-1", "barrel=nan"):
        with pytest.raises(BorewrightError, match="--pulled"):
            with_pulled(home, [text])
