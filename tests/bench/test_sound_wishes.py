"""Choices of the Sound view that were kept: a broken note of them does no harm."""

from __future__ import annotations

import pytest

from borewright.bench.sound.wishes import SoundWishes, wishes_of
from borewright.model.bores import FEATURES


class Bench:
    def __init__(self, kept):
        self.settings = {"sound": kept}


@pytest.mark.parametrize(
    "kept",
    [None, 3, {}, {"listen_notes": 3, "shares": "50"}, {"shares": [1]}, {"shares": ["x"] * 7}],
)
def test_what_cannot_be_a_choice_goes_back_to_the_usual(kept):
    assert wishes_of(Bench(kept)) == SoundWishes()


def test_what_was_kept_comes_back_within_its_range():
    kept = {"listen_against": "other.toml", "shares": [0, 100, 250, -3, 5, 6, 7]}
    found = wishes_of(Bench(kept))
    assert found.listen_against == "other.toml"
    assert found.shares == (0, 100, 100, 0, 5, 6, 7)
    assert len(found.shares) == len(FEATURES)
