"""Equal things are rarely called different; a 4-cent shift is found at the advised number."""

from __future__ import annotations

import numpy as np
import pytest

from borewright.errors import PlayingError
from borewright.playing import blind_order, compare, pairs_needed
from borewright.playing.records import Record

NOTES = 12
#: Scatter (cents) of a take and of a note in it: together 4.5, as take to take (from memory).
TAKE, NOTE = 2.2, 4.0


def campaign(rng, pairs, shift=0.0, tones=True, pattern=None, brighter=0.0):
    """Pairs by two players on two days; everything scatters as ordinary takes do."""
    found = []
    profile = rng.normal(0, 5, NOTES)
    for pair in range(pairs):
        player = rng.normal(0, 6)
        for place, name in enumerate("AB"):
            take = rng.normal(0, TAKE)
            bright = rng.normal(0, 0.03)
            for note in range(NOTES):
                own = {
                    "centroid_hz": 900 * np.exp(bright + rng.normal(0, 0.05) + brighter * place),
                    "odd_even_db": 8 + rng.normal(0, 1.5),
                    "slope_db_per_octave": -9 + rng.normal(0, 0.8),
                    "attack_ms": 50 * np.exp(rng.normal(0, 0.3)),
                }
                extra = pattern[note] if pattern is not None else 0.0
                found.append(
                    Record(
                        instrument=name,
                        player=f"p{pair % 2}",
                        day=f"d{pair // 2 % 2}",
                        take=f"{2 * pair + place}",
                        note=f"n{note}",
                        cents=profile[note] + player + take + rng.normal(0, NOTE)
                        + place * (shift + extra),
                        **(own if tones else {}),
                    )
                )  # fmt: skip
    return found


def advised():
    """Pairs advised for 4 cents in this scatter."""
    return pairs_needed(np.sqrt(2 * (TAKE**2 + NOTE**2 / NOTES)), 4.0)


@pytest.mark.parametrize("tones", [True, False])
def test_equal_things_are_rarely_called_different(tones):
    wrong = sum(
        compare(campaign(np.random.default_rng(seed), 8, tones=tones), "A", "B").verdict
        == "different"
        for seed in range(100)
    )
    assert wrong <= 5


def test_four_cents_are_found_at_the_advised_number():
    pairs = advised()
    assert 5 < pairs < 40
    found = 0
    for seed in range(100):
        result = compare(campaign(np.random.default_rng(seed), pairs, shift=4.0), "A", "B")
        pitch = result.differences[0]
        found += pitch.different
        assert not pitch.different or str(pitch.words) == "higher"
    assert found >= 90


def test_not_different_and_cannot_tell():
    many = compare(campaign(np.random.default_rng(1), 40), "A", "B")
    assert many.verdict == "not different"
    assert "less than the 4 cents" in str(many.sentence)
    few = compare(campaign(np.random.default_rng(3), 3, shift=2.5), "A", "B")
    assert few.verdict == "cannot tell"
    assert str(few.sentence).startswith("Cannot tell from these takes")
    assert few.pairs_advised > few.pairs


def test_a_pattern_without_a_shift_is_found():
    pattern = np.where(np.arange(NOTES) == 3, 12.0, -12.0 / 11)
    result = compare(campaign(np.random.default_rng(2), 20, pattern=pattern), "A", "B")
    assert result.verdict == "different"
    assert "most at n3" in str(result.sentence)
    assert [note.quantity for note in result.notes if note.different] == ["n3"]


def test_a_brighter_tone_is_found_and_said_in_players_words():
    result = compare(campaign(np.random.default_rng(3), 15, brighter=0.15), "A", "B")
    assert "brighter by" in str(result.sentence)
    centroid = next(each for each in result.differences if each.quantity == "centroid_hz")
    assert centroid.value.low < 15.0 < centroid.value.high


def test_takes_without_a_partner_are_left_out():
    records = campaign(np.random.default_rng(0), 8)
    result = compare([record for record in records if record.take != "15"], "A", "B")
    assert result.pairs == 7
    assert [str(each) for each in result.notices] == ["1 takes had no partner and were left out"]


def test_a_blind_list_is_balanced_and_repeatable():
    takes = blind_order("old barrel", "new barrel", 12, seed=5)
    assert takes == blind_order("old barrel", "new barrel", 12, seed=5)
    assert takes != blind_order("old barrel", "new barrel", 12, seed=6)
    assert [take.take for take in takes] == list(range(1, 25))
    for pair in range(12):
        assert {take.thing for take in takes[2 * pair : 2 * pair + 2]} == {
            "old barrel",
            "new barrel",
        }
    assert sum(take.thing == "old barrel" for take in takes[::2]) == 6


@pytest.mark.parametrize(
    ("act", "cause"),
    [
        (lambda records: compare(records, "A", "C"), "no takes of 'C'"),
        (lambda records: compare(records, "A", "A"), "cannot be compared"),
        (lambda records: compare(records[: 2 * NOTES * 2], "A", "B"), "too few"),
        (lambda records: pairs_needed(5.0, 0.0), "cannot be looked for"),
        (lambda records: blind_order("a", "a", 3, 0), "with itself"),
        (lambda records: blind_order("a", "b", 0, 0), "cannot be listed"),
    ],
)
def test_what_cannot_be_compared(act, cause):
    with pytest.raises(PlayingError, match=cause):
        act(campaign(np.random.default_rng(0), 8))
