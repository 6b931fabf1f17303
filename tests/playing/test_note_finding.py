"""All notes of clean takes; most of noisy ones; wrong, missing, repeated and swapped notes."""

from __future__ import annotations

import numpy as np
import pytest

from borewright.model import note_name
from borewright.playing import analyse_take

CHROMATIC = [note_name(number) for number in range(52, 85)]


@pytest.fixture
def played(recorded, scale, b_flat):
    def play(names, order=None, cents=0.0, seed=0, **shape):
        rng = np.random.default_rng(seed)
        samples = scale([(name, cents) for name in names], rng, **shape)
        take, _ = analyse_take(
            recorded(samples), pitch=b_flat, temperature_c=20, order=order, tones=False
        )
        return take

    return play


def found(take):
    return [(note.name, str(note.status)) for note in take.notes]


@pytest.mark.parametrize("gap", [0.0, 0.15])
def test_every_note_of_a_clean_scale(played, gap):
    take = played(CHROMATIC, CHROMATIC, gap=gap, cents=-12.0, glide_cents=8.0)
    assert found(take) == [(name, "ok") for name in CHROMATIC]
    assert take.missing == []
    assert take.takes == 1


def test_free_naming_needs_no_plan(played):
    take = played(["C5", "E5", "C5"], cents=10.0)
    assert found(take) == [("C5", "ok"), ("E5", "ok"), ("C5", "repeated")]


def test_notes_among_noise_breaths_and_vibrato(played):
    right = total = 0
    for seed in range(4):
        # Room noise 30 dB below the tone, breaths 10 dB below it, vibrato of a quarter tone.
        take = played(
            CHROMATIC, CHROMATIC, seed=seed, noise=0.003, breaths=True, vibrato_cents=25.0
        )
        good = {note.name for note in take.notes if note.status == "ok"}
        right += len(good & set(CHROMATIC))
        total += len(CHROMATIC)
        assert all(abs(note.cents) < 5 for note in take.notes if note.status == "ok")
    assert right / total >= 0.95


def test_two_takes_in_one_file(played):
    order = CHROMATIC[:12]
    take = played(order + order, order)
    assert take.takes == 2
    assert [note.take for note in take.notes] == [1] * 12 + [2] * 12


def test_missing_repeated_and_swapped_notes(played):
    order = ["E3", "F3", "F#3", "G3", "G#3", "A3", "Bb3", "B3"]
    heard = ["E3", "F#3", "F3", "G3", "G3", "A3", "B3"]
    take = played(heard, order)
    assert take.missing == ["G#3", "Bb3"]
    by_name = {note.name: str(note.status) for note in take.notes}
    assert by_name["G3"] == "repeated"
    assert sorted([by_name["F3"], by_name["F#3"]]) == ["ok", "out of order"]
    assert take.takes == 1


@pytest.mark.parametrize(("low", "twelfth"), [("A3", "E5"), ("D4", "A5")])
def test_a_squeak_is_the_wrong_register(played, low, twelfth):
    take = played(["G3", twelfth, "C4"], ["G3", low, "C4"])
    assert found(take) == [("G3", "ok"), (low, "wrong register"), ("C4", "ok")]


def test_tongued_repetitions_are_two_notes(played):
    take = played(["C5", "C5", "C5"], gap=0.05)
    assert len(take.notes) == 3


def test_something_else_is_unplanned(played):
    take = played(["E3", "C#5", "F3"], ["E3", "F3"])
    assert found(take)[1] == ("", "unplanned")


@pytest.mark.parametrize("common", [-145.0, -110.0, 95.0, 140.0])
def test_a_whole_instrument_off_keeps_the_names_of_its_notes(played, common):
    """A chromatic scale that lies a semitone off is one fact, not other notes."""
    order = CHROMATIC[:12]
    take = played(order, order, cents=common, glide_cents=8.0)
    assert found(take) == [(name, "ok") for name in order]
    assert np.median([note.cents for note in take.notes]) == pytest.approx(common, abs=1.0)
    assert any("all notes lie" in str(each) for each in take.notices)


def test_a_note_left_out_is_no_shift_of_all_others(played):
    order = CHROMATIC[:12]
    take = played(order[1:], order, glide_cents=8.0)
    assert found(take) == [(name, "ok") for name in order[1:]]
    assert take.missing == [order[0]]
    assert take.notices == []


@pytest.mark.parametrize("off", [85.0, -85.0, 115.0])
def test_a_wrong_note_enters_no_average(recorded, scale, b_flat, off):
    """One note of a chromatic scale fingered wrongly: near its neighbour, but no repetition."""
    order = CHROMATIC[:9]
    notes = [(name, off if number == 4 else 0.0) for number, name in enumerate(order)]
    samples = scale(notes, np.random.default_rng(1))
    take, _ = analyse_take(
        recorded(samples), pitch=b_flat, temperature_c=20, order=order, tones=False
    )
    assert order[4] in take.missing
    counting = [note for note in take.notes if note.status.counts]
    assert [note.name for note in counting] == [*order[:4], *order[5:]]
    assert all(abs(note.cents) < 3 for note in counting)


def test_a_squeak_beside_the_right_note_is_not_counted_as_another_note(played):
    """G3 overblown to D5, which is planned later, then G3 played right."""
    order = ["E3", "G3", "A3", "C5", "D5", "E5"]
    take = played(["E3", "D5", "G3", "A3", "C5", "D5", "E5"], order)
    assert found(take)[:3] == [("E3", "ok"), ("G3", "wrong register"), ("G3", "ok")]
    assert [note.name for note in take.notes if note.status.counts] == order
