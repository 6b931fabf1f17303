"""Families of barrels and bells: every member heard in the batch sounds as when heard alone."""

import numpy as np
import pytest

from borewright.acoustics import tuning
from borewright.errors import FitError, ModelError
from borewright.fit.families import barrel_family, bell_family, choose, map_family
from borewright.fit.families.mapping import with_piece
from borewright.model import Use


def mean_change(instrument, other, fingerings):
    pairs = zip(tuning(instrument, fingerings).notes, tuning(other, fingerings).notes, strict=True)
    return np.mean([b.cents - a.cents for a, b in pairs if a.use is Use.STANDARD])


@pytest.fixture(scope="module")
def barrels(clarinet):
    instrument, fingerings, _ = clarinet
    family = barrel_family(instrument, lengths_mm=[63, 65, 67])
    return family, map_family(instrument, fingerings, family)


def test_members_sound_as_alone(clarinet, barrels):
    instrument, fingerings, _ = clarinet
    family, table = barrels
    for number in (1, len(family.pieces) // 2):
        piece = family.pieces[number]
        alone = mean_change(instrument, with_piece(instrument, family.part, piece), fingerings)
        # Slices of the bore are cut elsewhere when heard alone: 0.05 cent at most.
        assert table.members[number - 1].pitch_cents == pytest.approx(alone, abs=0.05)


def test_members_tell_every_note_low_e_and_its_twelfth_first(clarinet, barrels):
    """Each note moves as it does when the member is heard alone."""
    instrument, fingerings, _ = clarinet
    family, table = barrels
    piece = family.pieces[len(family.pieces) // 2]
    member = table.members[len(family.pieces) // 2 - 1]
    assert [note.fingering for note in member.notes[:4]] == ["E3", "B4", "F3", "C5"]
    alone = tuning(with_piece(instrument, family.part, piece), fingerings).notes
    cents = {note.fingering: note.cents for note in alone}
    for note in member.notes:
        assert note.cents == pytest.approx(cents[note.fingering], abs=0.2)
    assert np.mean([note.by_cents for note in member.notes]) == pytest.approx(member.pitch_cents)


def test_longer_is_flatter_and_a_wider_bottom_widens_twelfths(barrels):
    """Longer lowers, as any tube; the direction for twelfths is the sensitivity map's."""
    _, table = barrels
    own = [m for m in table.members if m.shape == "taper"
           and (m.top_mm, m.bottom_mm) == (14.95, 14.85)]  # fmt: skip
    assert [member.length_mm for member in own] == [63, 65, 67]
    pitches = [member.pitch_cents for member in own]
    assert pitches == sorted(pitches, reverse=True)
    assert pitches[1] == pytest.approx(0, abs=0.01)
    assert table.in_place.pitch_cents == 0


def test_three_span_the_range(barrels):
    _, table = barrels
    found = choose(table, -8.0, 8.0)
    assert [each.wanted_cents for each in found.chosen] == [-8, 0, 8]
    assert len({each.member for each in found.chosen}) == 3
    for each in found.chosen:
        assert abs(each.misses_by_cents) < 2.0
        pitch = found.members[each.member].pitch_cents
        assert pitch == pytest.approx(each.wanted_cents + each.misses_by_cents)
    assert found.notices == []
    twelfths = choose(table, -3.0, 3.0, by="twelfths")
    for each in twelfths.chosen:
        assert abs(found.members[each.member].twelfths_cents - each.wanted_cents) < 1.5
    assert "wider than this family reaches" in str(choose(table, -90, 90).notices[0])


@pytest.mark.parametrize(
    ("low", "high", "by", "count", "words"),
    [
        (5, -5, "pitch", 3, "is no range"),
        (-5, 5, "colour", 3, "spans nothing"),
        (-5, 5, "pitch", 1, "cannot be chosen"),
        (-5, float("nan"), "pitch", 3, "is no range"),
    ],
)
def test_what_cannot_be_chosen_is_refused(barrels, low, high, by, count, words):
    with pytest.raises(FitError, match=words):
        choose(barrels[1], low, high, by, count)


@pytest.mark.slow
def test_bells_of_every_shape(clarinet):
    instrument, fingerings, _ = clarinet
    family = bell_family(instrument, lengths_mm=[98, 102], rims_mm=[56, 60])
    table = map_family(instrument, fingerings, family)
    assert {m.shape for m in table.members} == {
        "as it is", "cone", "exponential", "late flare", "very late flare",
    }  # fmt: skip
    piece = family.pieces[-1]
    alone = mean_change(instrument, with_piece(instrument, "bell", piece), fingerings)
    assert table.members[-1].pitch_cents == pytest.approx(alone, abs=0.05)


def test_what_cannot_be_a_family_is_refused(clarinet, chalumeau):
    instrument, fingerings, _ = clarinet
    with pytest.raises(FitError, match="has no bell"):
        bell_family(chalumeau[0])
    with pytest.raises(FitError, match="'square' is unknown"):
        barrel_family(instrument, shapes=["square"])
    with pytest.raises(FitError, match="is impossible"):
        barrel_family(instrument, lengths_mm=[-3])
    with pytest.raises(FitError, match="cannot have a rim"):
        bell_family(instrument, rims_mm=[15])
    with pytest.raises(FitError, match="2000 members at most"):
        barrel_family(instrument, lengths_mm=list(range(40, 340)))
    with pytest.raises(ModelError, match="reaches the outside"):
        map_family(instrument, fingerings, barrel_family(instrument, tops_mm=[40.0]))
