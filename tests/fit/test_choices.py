"""A family of designs: each the best for its price; one taken, or part of one."""

from __future__ import annotations

import itertools

import pytest

from borewright.acoustics import tuning
from borewright.errors import FitError
from borewright.fit.choices import design_family, part_taken, taken
from borewright.model import drawn, read_values


@pytest.fixture(scope="module")
def family(clarinet):
    return design_family(*clarinet)


def test_cents_are_bought_with_steps_from_the_drawing(family):
    inside = [design for design in family.designs if design.within_limits]
    assert len(family.designs) == 10
    assert inside[0].away_steps == 0.0
    for nearer, further in itertools.pairwise(inside):
        assert further.away_steps >= nearer.away_steps - 0.5
        assert further.rms_cents <= nearer.rms_cents + 0.05
    # L1 alone, from 6.5 down to 5 mm, has a range of its own.
    assert max(design.largest_hole_share for design in inside) <= 1.5 / 6.5 + 1e-9


def test_the_far_end_shows_what_holding_to_a_body_costs(family):
    far = family.designs[-1]
    assert not far.within_limits
    assert far.rms_cents <= 1.8
    assert far.largest_hole_share > 0.15
    assert "not a body to build" in str(far.gains)


def test_a_design_is_taken_as_it_was_shown(clarinet, family):
    instrument, fingerings, _ = clarinet
    design = family.designs[6]
    made = taken(instrument, design)
    assert tuning(made, fingerings).summary.rms_cents == pytest.approx(design.rms_cents, abs=0.02)
    assert drawn(made) == instrument.model_copy(update={"side_holes": made.side_holes})


def test_part_of_a_design_is_taken_and_the_rest_fitted_around_it(clarinet, family):
    instrument, fingerings, survey = clarinet
    design = family.designs[6]
    owners = ["L1", "L2", "barrel"]
    made, result = part_taken(instrument, design, owners, fingerings, survey)
    whole = taken(instrument, design)
    assert made.part("barrel") == whole.part("barrel")
    for name in ("L1", "L2"):
        assert made.part("upper joint").hole(name) == whole.part("upper joint").hole(name)
    # Part of a fit alone made things worse than before; with the rest around it, it does not.
    assert result.after.summary.rms_cents < 3.0
    assert len(read_values(made)) == len(read_values(whole))
    with pytest.raises(FitError, match="no part or hole 'X9'"):
        part_taken(instrument, design, ["X9"], fingerings, survey)
