"""The mixed model against campaigns whose truth is planted."""

from __future__ import annotations

import numpy as np
import pytest

from borewright.errors import PlayingError
from borewright.model.results.campaign import Scatter
from borewright.playing import measured_notes, read_records, separate, takes_needed, write_records
from borewright.playing.records import Record

PLAYER, DAY, TAKE, NOTE = 6.0, 2.0, 2.0, 3.0


def campaign(rng, offset=4.0, players=3, days=2, repeats=2, notes=6, instruments=2) -> list[Record]:
    """Every player plays every instrument on every day; scatter of 3 to 6 cents."""
    profile = rng.normal(0, 5, notes)
    found = []
    for player in range(players):
        own = rng.normal(0, PLAYER)
        for day in range(days):
            today = rng.normal(0, DAY)
            for instrument in range(instruments):
                for repeat in range(repeats):
                    take = rng.normal(0, TAKE)
                    found += [
                        Record(
                            instrument="AB"[instrument],
                            player=f"p{player}",
                            day=f"d{day}",
                            take=str(repeat),
                            note=f"n{note}",
                            cents=offset * instrument + profile[note] + own + today + take
                            + rng.normal(0, NOTE),
                        )
                        for note in range(notes)
                    ]  # fmt: skip
    return found


@pytest.mark.slow
def test_planted_differences_lie_within_their_intervals():
    """At least 93 of 100 campaigns, for intervals that promise 95."""
    inside = 0
    for seed in range(100):
        rng = np.random.default_rng(seed)
        planted = rng.uniform(-10, 10)
        found = separate(campaign(rng, planted)).offsets[1].difference_cents
        inside += found.low <= planted <= found.high
    assert inside >= 93


def test_scatter_is_told_apart():
    rng = np.random.default_rng(5)
    result = separate(campaign(rng, players=12, days=2, repeats=3))
    # Twelve players give a standard deviation to about 20 %; days and takes to 25 %.
    assert result.scatter.player == pytest.approx(PLAYER, rel=0.5)
    assert result.scatter.day == pytest.approx(DAY, rel=0.6)
    assert result.scatter.take == pytest.approx(TAKE, rel=0.4)
    assert result.scatter.note == pytest.approx(NOTE, rel=0.1)
    assert (result.players, result.takes, result.notes) == (12, 144, 6)
    # A mean hangs on the players, a difference does not.
    mean, difference = result.offsets[1].mean_cents, result.offsets[1].difference_cents
    assert mean.high - mean.low > 2 * (difference.high - difference.low)


def test_one_player_one_day(tmp_path):
    rng = np.random.default_rng(2)
    records = campaign(rng, players=1, days=1, repeats=6)
    result = separate(records)
    assert result.scatter.player is None
    assert result.scatter.day is None
    assert result.offsets[1].difference_cents.value == pytest.approx(4.0, abs=4.0)
    # The same from a file.
    write_records(records, tmp_path / "notes.csv")
    again = separate(read_records(tmp_path / "notes.csv"))
    assert again.offsets[1].difference_cents.value == pytest.approx(
        result.offsets[1].difference_cents.value, abs=0.01
    )


def test_takes_needed_give_the_wanted_certainty():
    """Simulated: the half-width of the interval at that number of takes is the one wanted."""
    scatter = Scatter(player=None, day=None, take=TAKE, note=NOTE)
    count = takes_needed(scatter, 2.0, notes=6)
    assert takes_needed(scatter, 1.0, notes=6) > 2.5 * count
    rng = np.random.default_rng(0)
    variance = TAKE**2 + NOTE**2 / 6
    inside = [
        abs(np.diff(rng.normal(0, np.sqrt(variance / count), 2))[0]) < 2.0 for _ in range(4000)
    ]
    assert np.mean(inside) == pytest.approx(0.96, abs=0.02)


def test_notes_of_one_instrument_with_their_errors():
    rng = np.random.default_rng(3)
    notes, shared = measured_notes(campaign(rng, players=4, days=3, repeats=2), "A")
    assert len(notes) == 6
    errors = [value.error for value in notes.values()]
    assert errors == pytest.approx([NOTE / np.sqrt(24)] * 6, rel=0.15)
    assert shared > 0.5
    with pytest.raises(PlayingError, match="no takes of 'C'"):
        measured_notes(campaign(rng), "C")


def test_a_single_take_gets_the_usual_scatter():
    records = [Record(instrument="A", take="1", note=f"n{n}", cents=float(n)) for n in range(5)]
    notes, shared = measured_notes(records, "A")
    assert notes["n3"] == (3.0, 4.5)
    assert shared == 4.5


@pytest.mark.parametrize(
    ("records", "cause"),
    [
        ([], "no notes"),
        ([Record(instrument="A", take="1", note="E3", cents=0.0)], "too few"),
    ],
)
def test_too_little(records, cause):
    with pytest.raises(PlayingError, match=cause):
        separate(records)


def test_instruments_that_share_no_notes():
    rng = np.random.default_rng(0)
    records = [
        Record(instrument=name, take=str(take), note=f"{name}{note}", cents=rng.normal())
        for name in "AB" for take in range(3) for note in range(3)
    ]  # fmt: skip
    with pytest.raises(PlayingError, match="shares no notes"):
        separate(records)
