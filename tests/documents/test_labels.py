"""Labels in a row: none covers another, each near its place."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from borewright.documents._labels import spread


def test_labels_with_room_stay_where_they_are_wanted() -> None:
    assert spread([10.0, 30.0, 50.0], [8.0] * 3, 0.0, 60.0) == ([10.0, 30.0, 50.0], [0, 0, 0])


def test_crowded_labels_share_the_distance_they_give_way() -> None:
    # Three labels 6 wide wanted at one place: least squares puts them at -6, 0, +6 about it.
    centres, tiers = spread([30.0] * 3, [6.0] * 3, 0.0, 60.0)
    assert centres == pytest.approx([24.0, 30.0, 36.0])
    assert tiers == [0, 0, 0]


def test_labels_that_do_not_fit_side_by_side_take_two_tiers() -> None:
    centres, tiers = spread([5.0, 6.0, 7.0, 8.0], [10.0] * 4, 0.0, 30.0)
    assert tiers == [0, 1, 0, 1]
    assert centres[2] - centres[0] >= 10.0 - 1e-9
    assert centres[3] - centres[1] >= 10.0 - 1e-9


@given(
    st.lists(st.floats(0, 100), min_size=1, max_size=25),
    st.floats(1.0, 7.5),
)
def test_no_label_covers_another_of_its_tier(wanted: list[float], width: float) -> None:
    # 25 labels of 7.5 need 187.5: at most two tiers of the 110 that the row has.
    centres, tiers = spread(sorted(wanted), [width] * len(wanted), -5.0, 105.0)
    for tier in (0, 1):
        row = [c for c, t in zip(centres, tiers, strict=True) if t == tier]
        assert all(b - a >= width - 1e-6 for a, b in itertools.pairwise(row))
    assert centres[0] >= -5.0 + width / 2 - 1e-6
    assert centres[-1] <= 105.0 - width / 2 + 1e-6
