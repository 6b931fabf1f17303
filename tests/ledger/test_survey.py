"""Statistics of several sets, weighed scores with their arithmetic, scatter of pitch, set-up."""

from __future__ import annotations

import math
import statistics

import pytest
from hypothesis import given
from hypothesis import strategies as st

from borewright.errors import LedgerError
from borewright.ledger import (
    Criterion,
    feature_statistics,
    modified_z_scores,
    pooled_scatter_mm,
    set_up_sheet,
    standings,
    survey_statistics,
    tuning_scatter,
)
from borewright.model import SensitivityMap


def test_mean_scatter_and_the_odd_one():
    readings = {f"set {n}": [value] for n, value in enumerate([10.0, 10.1, 9.9, 10.0, 12.0])}
    found = feature_statistics("FC", "station", readings, 10.0)
    assert found.mean_mm == pytest.approx(10.4)
    assert found.scatter_mm == pytest.approx(statistics.stdev([10.0, 10.1, 9.9, 10.0, 12.0]))
    assert found.off_nominal_mm == pytest.approx(0.4)
    assert found.outliers == ("set 4",)


def test_modified_z_score_by_its_definition():
    # Iglewicz and Hoaglin (1993): 0.6745 (x - median) / MAD; here median 3, MAD 1.
    assert modified_z_scores([1, 2, 3, 4, 100]) == pytest.approx(
        [-1.349, -0.6745, 0, 0.6745, 65.4265]
    )
    # More than half alike: the mean absolute deviation takes the place of the median's.
    assert modified_z_scores([5, 5, 5, 5, 7])[-1] == pytest.approx(2 / (0.4 * 1.253314))
    assert modified_z_scores([5, 5, 5]) == [0, 0, 0]


def test_a_set_measured_five_times_weighs_as_one():
    found = feature_statistics("A", "station", {"1": [10.0] * 5, "2": [11.0]}, None)
    assert found.mean_mm == 10.5
    assert found.count == 2
    assert found.outliers == ()


@given(st.lists(st.floats(1, 500), min_size=4, max_size=12), st.floats(-5, 5))
def test_moving_all_readings_moves_only_the_mean(values, shift):
    before = feature_statistics("A", "s", {str(i): [v] for i, v in enumerate(values)}, None)
    moved = feature_statistics("A", "s", {str(i): [v + shift] for i, v in enumerate(values)}, None)
    assert moved.mean_mm == pytest.approx(before.mean_mm + shift, abs=1e-9)
    assert moved.scatter_mm == pytest.approx(before.scatter_mm, abs=1e-9)


def test_the_survey_of_a_source(ledger):
    ledger.add_many("source", [{"code": "Q"}, {"code": "other"}], who="Ada")
    ledger.add_many("sample", [{"code": c, "source": "Q"} for c in "ABC"], who="Ada")
    rows = [
        {"sample": c, "feature": "FC", "measure": "station", "nominal_mm": 20, "value_mm": v}
        for c, v in zip("ABC", (20.1, 20.3, 20.2), strict=True)
    ]
    ledger.add_many("measurement", rows, who="Ada")
    (found,) = survey_statistics(ledger, "Q")
    assert (found.count, found.name) == (3, "FC station")
    assert found.off_nominal_mm == pytest.approx(0.2)
    assert pooled_scatter_mm([found]) == pytest.approx(0.1)
    with pytest.raises(LedgerError, match="no sample of source 'other'"):
        survey_statistics(ledger, "other")
    odd = {"sample": "A", "feature": "FC", "measure": "station", "nominal_mm": 21, "value_mm": 20}
    ledger.add("measurement", odd, who="Ada")
    with pytest.raises(LedgerError, match="different nominal values: 20, 21 mm"):
        survey_statistics(ledger, "Q")


def test_scores_are_the_weighed_mean_with_arithmetic_shown():
    criteria = [Criterion("price", 3, True), Criterion("stiffness", 1, False)]
    values = {
        "A": {"price": 100.0, "stiffness": 8.0},
        "B": {"price": 150.0, "stiffness": 12.0},
        "C": {"price": 200.0, "stiffness": 8.0},
    }
    first, second, third = standings(criteria, values)
    # Each has its share of the best: B costs 150 where A costs 100.
    assert [s.source for s in (first, second, third)] == ["A", "B", "C"]
    assert [s.total for s in (first, second, third)] == pytest.approx([110 / 12, 7.5, 65 / 12])
    assert str(second.arithmetic) == "(3 × 6.67 + 1 × 10.00) / 4 = 7.50"
    assert str(second.weighed[0].arithmetic) == "10 × 100 / 150 = 6.67"


def test_a_small_difference_between_two_costs_little():
    one, other = standings(
        [Criterion("price", 1, True)], {"A": {"price": 199.0}, "B": {"price": 200.0}}
    )
    assert (one.total, other.total) == (10.0, pytest.approx(9.95))
    # Nothing is divided by a score of nought: then points lie in proportion.
    low = {"A": {"flaws": 0.0}, "B": {"flaws": 1.0}, "C": {"flaws": 4.0}}
    assert [s.total for s in standings([Criterion("flaws", 1, True)], low)] == [10.0, 7.5, 0.0]


def test_scores_need_values_and_weights():
    with pytest.raises(LedgerError, match="'B' has no value for price"):
        standings([Criterion("price", 1, True)], {"A": {"price": 1.0}, "B": {}})
    with pytest.raises(LedgerError, match="no criterion has a weight"):
        standings([Criterion("price", 0, True)], {"A": {"price": 1.0}})


SENSITIVITY = SensitivityMap(
    instrument="invented",
    fingerings=["G3", "B4"],
    dimensions=["FC station", "EB station", "FC lift"],
    cents_per_tenth_mm=[[-0.6, 0.0, 0.2], [-0.3, 0.4, 0.1]],
    model_level="invented",
    climate="invented",
)


def test_scatter_of_sets_becomes_scatter_of_pitch():
    scatter = {"FC station": 0.2, "EB station": 0.1, "no such thing": 1.0}
    found = tuning_scatter(scatter, SENSITIVITY)
    g3, b4 = found.notes
    # Cents per mm are ten times those per 0.1 mm; variances add.
    assert g3.cents == pytest.approx(6 * 0.2)
    assert b4.cents == pytest.approx(math.hypot(3 * 0.2, 4 * 0.1))
    assert b4.together_cents == pytest.approx(3 * 0.2 + 4 * 0.1)
    assert (b4.largest, found.unknown) == ("FC station", ("no such thing",))
    with pytest.raises(LedgerError, match="none of the surveyed dimensions"):
        tuning_scatter({"x": 1.0}, SENSITIVITY)


def test_set_up_sheet_follows_from_levers(ledger):
    ledger.add("source", {"code": "Q"}, who="Ada")
    ledger.add("sample", {"code": "S", "source": "Q"}, who="Ada")
    lever = {"sample": "S", "key": "F key", "hole": "FC", "touch_arm_mm": 40, "pad_arm_mm": 20,
             "lift_mm": 3.5, "spring_at_pad_g": 100, "rest": "open", "touch_height_mm": 9,
             "lowest_touch_mm": 4, "highest_touch_mm": 8, "end_play_mm": 0.09}  # fmt: skip
    ledger.add("lever", lever, who="Ada")
    (key,) = set_up_sheet(ledger, "S", {"FC": 12.0}, SENSITIVITY)
    assert key.least_lift_mm == pytest.approx(4.0)
    assert key.lever_ratio == 2
    assert key.touch_travel_mm == 7
    assert key.touch_force_g == 50  # the finger's arm is twice as long, so half the force
    # 0.5 mm below the least lift at 2 cents per mm for G3.
    assert (key.pitch_effect_cents, key.pitch_effect_note) == (pytest.approx(-1.0), "G3")
    assert tuple(map(str, key.remarks)) == (
        "raise the lift by 0.50 mm",
        "set the spring lighter, 25 to 40 g at the touch",
        "touch is above the owner's 8 mm",
        "take up the end play, it will click",
    )
    with pytest.raises(LedgerError, match="covers hole 'FC'"):
        set_up_sheet(ledger, "S", {"EB": 12.0})
