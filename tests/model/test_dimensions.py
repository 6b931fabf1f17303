"""The flat vector of dimensions: read it, change it, get the instrument back."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from borewright.errors import ModelError
from borewright.model import Instrument, Part, dimensions, read_values, with_values


def column(instrument: Instrument, part: str, measure: str, hole: str = "", index: int = -1) -> int:
    for number, dimension in enumerate(dimensions(instrument)):
        found = (dimension.part, dimension.measure, dimension.hole, dimension.index)
        if found == (part, measure, hole, index):
            return number
    raise LookupError(f"{part} {measure} {hole} {index}")


def moved(instrument: Instrument, changes: dict[int, float]) -> Instrument:
    values = read_values(instrument)
    for number, value in changes.items():
        values[number] = value
    return with_values(instrument, values)


@pytest.fixture
def full(clarinet: Instrument) -> Instrument:
    data = clarinet.model_dump()
    data["mouthpiece"] = {}
    data["parts"][1]["bore"].insert(0, (-16.0, 14.95))
    return Instrument.model_validate(data)


def test_the_same_values_give_the_same_instrument(full):
    assert with_values(full, read_values(full)) == full


def test_labels_are_words(full):
    labels = [dimension.label for dimension in dimensions(full)]
    assert len(set(labels)) == len(labels)
    assert "L2 undercut depth" in labels
    assert "barrel bore diameter 2" in labels


def test_every_dimension_moves_one_value_and_reads_back(full):
    for number, old in enumerate(read_values(full)):
        dimension = dimensions(full)[number]
        if dimension.measure in ("length", "bore_station"):
            continue  # these may move a neighbour; tested below
        new = moved(full, {number: old + 0.125})
        expected = read_values(full)
        expected[number] = old + 0.125
        assert read_values(new) == expected, dimension.label


def test_a_longer_barrel_moves_everything_below_it(full):
    new = moved(full, {column(full, "barrel", "length"): 67.0})
    before, after = full.placed_holes(), new.placed_holes()
    assert [b[2] - a[2] for a, b in zip(before, after, strict=True)] == [2.0, 2.0, 2.0]
    assert new.offset_mm("joint") == 67.0
    assert new.part("barrel").bore == [(0.0, 15.0), (67.0, 14.85)]
    assert new.part("barrel").outside[-1] == (67.0, 31.0)
    assert new.part("joint") == full.part("joint")


@given(length=st.floats(33, 200, allow_nan=False))
def test_profiles_cover_the_part_at_any_length(length):
    part = Part(
        name="barrel",
        length_mm=65.1,
        bore=[(0, 15), (65.1, 14.9), (65.1, 14.8), (81.1, 14.7)],
        outside=[(0, 31), (32.5, 34), (65.1, 31)],
    )
    new = moved(Instrument(parts=[part]), {0: length}).parts[0]
    assert new.length_mm == length
    assert new.bore[1][0] == length
    assert new.outside[-1][0] == length
    # What stands beyond the shoulder, in the tenon, keeps its distance from it.
    assert new.bore[-1][0] - length == pytest.approx(16.0, abs=1e-9)


def test_a_bottom_station_moved_with_its_length_is_taken_as_given(full):
    length = column(full, "barrel", "length")
    bottom = column(full, "barrel", "bore_station", index=1)
    new = moved(full, {length: 66.0, bottom: 66.0})
    assert new.part("barrel").bore[-1] == (66.0, 14.85)
    new = moved(full, {length: 66.0, bottom: 70.0})
    assert new.part("barrel").bore[-1] == (70.0, 14.85)


def test_a_bottom_station_moved_alone_beyond_the_end_stays(full):
    new = moved(full, {column(full, "barrel", "bore_station", index=1): 66.0})
    assert new.part("barrel").length_mm == 65.0
    assert new.part("barrel").bore[-1] == (66.0, 14.85)


def test_a_bottom_station_that_leaves_the_end_bare_is_refused(full):
    with pytest.raises(ModelError, match="covers the whole length") as caught:
        moved(full, {column(full, "barrel", "bore_station", index=1): 60.0})
    assert "barrel" in str(caught.value)


def test_values_that_make_no_instrument_get_one_message(full):
    with pytest.raises(ModelError, match="outside its part") as caught:
        moved(full, {column(full, "joint", "station", "L2"): 400.0})
    assert full.name in str(caught.value)


def test_rounding_as_a_person_would_write(full):
    values = [value + 0.123456 * (i == 0) for i, value in enumerate(read_values(full))]
    new = with_values(full, values, digits=2)
    assert new.parts[0].length_mm == 65.12
    assert new.parts[0].bore[-1][0] == 65.12
    assert new.parts[1] == full.parts[1]


def test_the_wrong_number_of_values_is_refused(full):
    with pytest.raises(ValueError, match="shorter"):
        with_values(full, read_values(full)[:-1])


def test_a_part_may_not_be_taken_for_the_mouthpiece(full):
    data = full.model_dump()
    data["parts"][0]["name"] = "mouthpiece"
    with pytest.raises(ValueError, match="mouthpiece"):
        Instrument.model_validate(data)
