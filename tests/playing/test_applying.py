"""Steps done on an instrument: the model agrees with what the plan promised."""

from __future__ import annotations

import numpy as np
import pytest

from borewright.acoustics import tuning
from borewright.errors import PlayingError
from borewright.playing import Aim, MeasuredNote, as_built, corrections
from borewright.playing.applying import with_steps
from borewright.playing.readings import read_readings, reading, readings_text


@pytest.mark.parametrize("aim", list(Aim))
def test_the_instrument_moves_as_the_plan_says(chalumeau, aim):
    instrument, table = chalumeau
    rng = np.random.default_rng(4)
    flat = {f.name: MeasuredNote(float(rng.normal(-16, 8)), 0.5) for f in table.fingerings}
    plan = corrections(instrument, table, flat, aim=aim)
    assert plan.steps
    after = tuning(with_steps(instrument, plan.steps, aim), table)
    before = tuning(instrument, table)
    moved = [a.cents - b.cents for a, b in zip(after.notes, before.notes, strict=True)]
    promised = np.sum([step.effects_cents for step in plan.steps], axis=0)
    # Sizes are rounded to a thousandth: below a twentieth of a cent for any dimension. What is
    # solved of a hole follows its slopes in the plan: a twentieth of what half a millimetre does.
    assert moved == pytest.approx(promised, abs=0.05, rel=0.05)
    # Undercuts of no width, which the search adds, are not left behind.
    changed = with_steps(instrument, plan.steps[:1], aim)
    undercut = {s.hole for s in plan.steps[:1] if s.kind == "undercut"}
    own = {hole.name for _, hole, _ in instrument.placed_holes() if hole.undercut}
    now = {hole.name for _, hole, _ in changed.placed_holes() if hole.undercut}
    assert now == own | undercut


def test_a_sealed_leak_is_gone_and_a_foreign_step_is_refused(chalumeau):
    instrument, table = chalumeau
    part = instrument.placed_holes()[0][0].name
    built = as_built(instrument, table, [reading("leak", 1.2, part=part)])
    flat = {f.name: MeasuredNote(-9.0, 1.5) for f in table.fingerings}
    plan = corrections(built.instrument, built.fingerings, flat, leaks=built.leaks)
    [seal] = [step for step in plan.steps if step.kind == "seal"]
    assert with_steps(built.instrument, [seal], Aim.REWORK, built.leaks) == instrument
    with pytest.raises(PlayingError, match="cannot be done here"):
        with_steps(instrument, [seal], Aim.REWORK)


def test_readings_are_written_as_they_are_read(tmp_path):
    found = [
        reading("bore", 14.93, part="barrel", station_mm=10.0, comment="plug 15, tight"),
        reading("leak_flow", 45.0, hole="RP", pressure_hpa=20.0),
    ]
    (tmp_path / "r.csv").write_text(readings_text(found), encoding="utf-8")
    read = read_readings(tmp_path / "r.csv")
    assert [one.model_copy(update={"place": "readings"}) for one in read] == found
