"""Dimensions are called what a maker calls them, and no two of one body alike."""

from __future__ import annotations

import pytest

from borewright.model import Instrument, dimensions, load
from borewright.model.bores.dimension_words import dimension_words
from borewright.tasks.examples import Example, copy_example


def body(*bore: tuple[float, float]) -> Instrument:
    part = {"name": "upper joint", "length_mm": bore[-1][0], "bore": bore}
    part["outside"] = [(0, 30), (bore[-1][0], 30)]
    return Instrument.model_validate({"name": "tube", "parts": [part]})


def test_a_stepped_bore_in_the_makers_words():
    stepped = body((0, 15), (80, 15), (80, 14.8), (160, 14.8), (160, 14.6), (200, 14.6))
    told = [str(words) for words in dimension_words(stepped)]
    assert told == [
        "upper joint length",
        "upper joint, upper end, place",
        "upper joint, upper step, upper side, place",
        "upper joint, upper step, lower side, place",
        "upper joint, lower step, upper side, place",
        "upper joint, lower step, lower side, place",
        "upper joint, lower end, place",
        "upper joint, upper end",
        "upper joint, upper step, upper side",
        "upper joint, upper step, lower side",
        "upper joint, lower step, upper side",
        "upper joint, lower step, lower side",
        "upper joint, lower end",
    ]


def test_points_between_two_edges_are_called_by_their_place():
    flared = body((0, 15), (100, 15), (120, 15.6), (140, 17), (160, 20))
    told = [str(words) for words in dimension_words(flared)][6:]
    assert told == [
        "upper joint, upper end",
        "upper joint, flare start",
        "upper joint, bore at 120 mm",
        "upper joint, bore at 140 mm",
        "upper joint, lower end",
    ]


def test_every_point_of_a_measured_bore_has_its_own_name():
    stations = [5.0 * n for n in range(25)]
    measured = body(*((at, 15 + 0.01 * (n % 3)) for n, at in enumerate(stations)), (120, 15.4))
    told = [str(words) for words in dimension_words(measured)]
    assert len(set(told)) == len(told) == len(dimensions(measured))


@pytest.mark.parametrize("example", list(Example))
def test_no_two_dimensions_of_an_example_are_called_alike(example, tmp_path):
    instrument = load(copy_example(example, tmp_path)[0])
    told = [str(words) for words in dimension_words(instrument)]
    assert len(set(told)) == len(told) == len(dimensions(instrument))
