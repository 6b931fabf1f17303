"""Numbers and lengths as people type them."""

from __future__ import annotations

import pytest

from borewright.bench.widgets import Units, length_from, number_from
from borewright.bench.widgets.units import decimal
from borewright.bench.words import read_by
from borewright.errors import BenchError
from borewright.words import Reader


@pytest.mark.parametrize(
    ("typed", "units", "mm"),
    [
        ("12.5", Units.MM, 12.5),
        ("12,5", Units.MM, 12.5),
        (" 12,5 mm ", Units.MM, 12.5),
        ("1.2 cm", Units.MM, 12.0),
        ("1 in", Units.MM, 25.4),
        ('0.5"', Units.MM, 12.7),
        ("1", Units.INCH, 25.4),
        ("10 mm", Units.INCH, 10.0),
        ("5/8", Units.INCH, 15.875),
        ("3 1/4 in", Units.MM, 82.55),
        ("−2,5", Units.MM, -2.5),
        (".5", Units.MM, 0.5),
    ],
)
def test_lengths(typed, units, mm):
    assert length_from(typed, units) == pytest.approx(mm, abs=1e-12)  # plain arithmetic


@pytest.mark.parametrize(
    "typed", ["", "wide", "1,000,5", "1e3", "nan", "inf", "1/0", "--2", "12 yd"]
)
def test_what_is_no_length(typed):
    with pytest.raises(BenchError, match="is not a number"):
        length_from(typed, Units.MM)


def test_a_range_is_told():
    assert number_from("3", 0, 5) == 3
    with pytest.raises(BenchError, match="Between 0 and 5 is possible"):
        number_from("6", 0, 5)


def test_what_is_shown():
    with read_by(Reader("en")):
        assert Units.MM.shown(25.4) == "25.40"
        assert Units.INCH.shown(25.4) == "1.0000"
    with read_by(Reader("de")):
        assert decimal(1.25, 2) == "1,25"
