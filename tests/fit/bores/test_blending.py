"""Blends in sound: the parents to 0.01 cent, the half-way clarinet in tune after its re-fit."""

from importlib.resources import files

import pytest

from borewright.acoustics import tuning
from borewright.fit import body_findings
from borewright.fit.blending import blend
from borewright.model import Use, load
from borewright.model.bores import Fractions, blend_instruments

EXAMPLES = files("borewright") / "examples"


@pytest.fixture(scope="module")
def wide():
    return load(EXAMPLES / "wide-bore" / "clarinet.toml")


def cents(table):
    return {note.fingering: note.cents for note in table.notes}


@pytest.mark.slow
def test_no_share_and_the_whole_share_sound_as_the_parents(clarinet, clarinet_fit, wide):
    _, fingerings, _ = clarinet
    parents = (clarinet_fit[0], wide)
    for fraction, parent in zip((0.0, 1.0), parents, strict=True):
        blended = cents(tuning(blend_instruments(*parents, Fractions.all(fraction)), fingerings))
        for name, own in cents(tuning(parent, fingerings)).items():
            assert blended[name] == pytest.approx(own, abs=0.01), name


@pytest.mark.slow
def test_the_half_way_clarinet_is_in_tune_again(clarinet, clarinet_fit, wide):
    """The main job's figures: root mean square at most 4 cents, no standard note beyond 10.

    Its holes start where the first parent has them, so the bore alone has moved.
    """
    _, fingerings, survey = clarinet
    first = clarinet_fit[0]
    made, result = blend(first, wide, Fractions.all(0.5, holes=0.0), fingerings, survey)
    assert result.blended.summary.rms_cents > result.refitted.summary.rms_cents
    table = tuning(made, fingerings)
    assert cents(table) == pytest.approx(cents(result.refitted), abs=1e-6)
    standard = [note for note in table.notes if note.use is Use.STANDARD]
    assert max(abs(note.cents) for note in standard) <= 10
    assert table.summary.rms_cents <= 4
    # The bore is the blend's, untouched by the re-fit; the holes paid.
    plain = blend_instruments(first, wide, Fractions.all(0.5, holes=0.0))
    assert [part.bore for part in made.parts] == [part.bore for part in plain.parts]
    assert [part.length_mm for part in made.parts] == [part.length_mm for part in plain.parts]
    assert result.paying
    steps = [each.steps for each in result.paying]
    assert steps == sorted(steps, reverse=True)
    for each in result.paying:
        hole = made.part(each.part).hole(each.hole)
        for move in each.moves:
            assert getattr(hole, f"{move.measure}_mm") == pytest.approx(move.refitted)
    assert [f for f in body_findings(made, survey) if f.severity == "fault"] == []
    assert made.fit == first.fit


def test_what_the_second_parent_cannot_give_is_told(chalumeau):
    instrument, fingerings = chalumeau
    louder = instrument.model_copy(
        update={
            "name": "other",
            "mouthpiece": instrument.mouthpiece.model_copy(update={"chamber_mm3": 1700.0}),
        }
    )
    made, result = blend(instrument, louder, Fractions.all(1.0), fingerings, refit=False)
    assert made.mouthpiece == instrument.mouthpiece
    assert [str(each) for each in result.notices] == [
        "of 'other' the blend does not take: mouthpiece; it keeps that of 'Class chalumeau'"
    ]
    assert result.refitted is None
    assert result.paying == []
