"""What no instrument can have is refused with the likely slip; what the trade makes passes."""

from __future__ import annotations

from importlib.resources import files

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic_core import PydanticCustomError

from borewright.errors import ModelError, RefusedValue
from borewright.model import load
from borewright.model.bounds import BOUNDS, slip_of, within

CLARINET = files("borewright") / "examples" / "loan-clarinet" / "clarinet.toml"

REFUSED = (RefusedValue, PydanticCustomError)

SLIPS = [
    ("chamber_mm3 = 2900.0", "chamber_mm3 = 2.9", "cubic centimetres", "Write 2900 (mm³)"),
    ("resonance_hz = 2300.0", "resonance_hz = 2.3", "kilohertz", "Write 2300 (Hz)"),
    ("[180, 29.6]]", "[180, 500]]", "lost decimal point", "Write 50 (mm)"),
    ("diameter_mm = 22.4 }      #", "diameter_mm = 224 } #", "lost decimal point", "Write 22.4"),
    ("[body]", "[body]\npost_depth_mm = 50", "lost decimal point", "Write 5 (mm)"),
]


@pytest.mark.parametrize(("old", "new", "looks", "remedy"), SLIPS)
def test_a_slip_is_named_with_what_would_be_right(tmp_path, old, new, looks, remedy):
    text = CLARINET.read_text(encoding="utf-8")
    if old == "[body]" and old not in text:
        text += "\n[body]\n"
    assert old in text
    file = tmp_path / "clarinet.toml"
    file.write_text(text.replace(old, new, 1), encoding="utf-8")
    with pytest.raises(ModelError) as caught:
        load(file)
    message = str(caught.value)
    assert "clarinet.toml, line" in message
    assert looks in message
    assert remedy in message


@given(st.sampled_from(sorted(BOUNDS)), st.floats(0, 1))
def test_what_the_trade_makes_passes_and_bounds_hold_it(name, share):
    low, high = BOUNDS[name].usual
    value = low + share * (high - low)
    assert within(name)(value) == value
    assert BOUNDS[name].low < low < high < BOUNDS[name].high


@given(st.sampled_from(sorted(BOUNDS)), st.floats(0, 1), st.integers(0, 9))
def test_a_slipped_figure_is_led_back_to_a_usual_one(name, share, number):
    """A usual figure written in another unit: refused or usual still, never led astray."""
    bounds = BOUNDS[name]
    if not bounds.slips:
        return
    low, high = bounds.usual
    slip = bounds.slips[number % len(bounds.slips)]
    wrong = (low + share * (high - low)) / slip.factor + slip.shift
    if bounds.low <= wrong <= bounds.high:
        assert within(name)(wrong) == wrong
        return
    with pytest.raises(REFUSED):
        within(name)(wrong)
    found = slip_of(bounds, wrong)
    assert found is not None
    # As near as a decimal can come: the least slip that leads among the usual.
    assert low <= float(f"{found.right(wrong):.12g}") <= high


def test_nought_means_none_where_it_may():
    assert within("chamber_mm3")(0.0) == 0.0
    with pytest.raises(REFUSED):
        within("post_depth_mm")(0.0)
