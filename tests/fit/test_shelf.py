"""Taper reamers on the shelf: what they cut, by other arithmetic, and what a fit makes of it."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from borewright.errors import FitError
from borewright.fit import body_findings, fit
from borewright.fit.shelf import misfit, straight_tapers
from borewright.model import read_values
from borewright.model.reamers import TaperReamer


def bored(instrument, points, **wishes):
    """The chalumeau with another bore in its body, and other wishes."""
    parts = [
        part.model_copy(update={"bore": points}) if part.name == "body" else part
        for part in instrument.parts
    ]
    wished = instrument.fit.model_copy(update=wishes)
    return instrument.model_copy(update={"parts": parts, "fit": wished})


def cut_by(reamer, diameter_at, bottom, wide_mm, wide_station):
    """The bore after a reamer went in from the top until it is wide_mm wide at a station.

    Sampled every 0.05 mm: nothing but the reamer's own two ends and straight edges between them.
    """
    stations = np.arange(0.0, bottom, 0.05)
    ends = [reamer.small_mm, reamer.widest_mm]
    tip = wide_station + (wide_mm - reamer.small_mm) * reamer.length_mm / (ends[1] - ends[0])
    # From its tip upwards it grows; above its wide end comes a shank no wider than that.
    edges = np.interp(tip - stations, [0.0, reamer.length_mm], ends, left=0.0)
    drawn = np.array([diameter_at(station) for station in stations])
    return stations, drawn, np.maximum(drawn, edges)


@settings(max_examples=150, deadline=None)
@given(
    narrow=st.floats(12.8, 13.2),
    grown=st.floats(0.1, 0.6),
    above=st.floats(0.0, 0.4),
    begin=st.floats(10.0, 40.0),
    length=st.floats(25.0, 70.0),
    small_off=st.floats(-0.4, 0.2),
    wide_off=st.floats(-0.2, 0.5),
    slope_off=st.sampled_from([0.0, 0.0, 0.1, -0.2]),
)
def test_a_reamer_cuts_what_it_leaves_as_drawn(
    chalumeau, narrow, grown, above, begin, length, small_off, wide_off, slope_off
):
    """It cuts a taper where, pushed in to its mark, it leaves every diameter as it is drawn."""
    wide, end = narrow + grown, begin + length
    points = [(0.0, wide + above), (begin, wide + above), (begin, wide), (end, narrow),
              (160.0, narrow)]  # fmt: skip
    points = points[1:] if above < 1e-3 else points
    if above < 1e-3:
        points = [(0.0, wide), *points[1:]]
    instrument = bored(chalumeau[0], points)
    part = instrument.part("body")
    small, large = narrow + small_off, wide + wide_off
    assume(large - small > 0.05)
    rate = grown / length * (1 + slope_off)
    reamer = TaperReamer(small_mm=small, large_mm=large, length_mm=(large - small) / rate)
    (taper,) = straight_tapers(instrument)
    told = misfit(reamer, taper, read_values(instrument))

    stations, drawn, cut = cut_by(reamer, part.bore_diameter_at, 160.0, wide, begin)
    # Within the taper the reamer must have touched everything, elsewhere nothing.
    inside = (stations > begin + 0.1) & (stations < end - 0.1)
    covers = small <= narrow + 0.01 and large >= wide - 0.01
    by_reamer = wide - rate * (stations - begin)
    off = np.max(np.abs(by_reamer - drawn)[inside])
    opened = np.max((cut - drawn)[stations < begin], initial=0.0)
    for figure, limit in ((off, 0.02), (opened, 0.02)):
        assume(abs(figure - limit) > 2e-3)  # too near the edge to be told by samples
    assume(abs(small - narrow - 0.01) > 1e-3 and abs(wide - large - 0.01) > 1e-3)
    assert (not told.said) == (covers and off < 0.02 and opened < 0.02)


def test_the_wide_end_is_given_once():
    for wrong in ({}, {"large_mm": 15.0, "slope": 0.01}, {"large_mm": 14.0}):
        with pytest.raises(ValidationError):
            TaperReamer(small_mm=14.5, length_mm=100.0, **wrong)
    one = TaperReamer(small_mm=14.5, length_mm=100.0, slope=0.005)
    assert one.widest_mm == pytest.approx(15.0)
    assert TaperReamer(small_mm=14.5, length_mm=100.0, large_mm=15.0).taper == pytest.approx(0.005)


THROAT = [(0.0, 13.3), (50.0, 13.0), (160.0, 13.0)]


def test_check_names_the_nearest_reamer(chalumeau):
    near = TaperReamer(name="near", small_mm=12.8, slope=0.005, length_mm=200.0)
    far = TaperReamer(name="far", small_mm=12.8, slope=0.02, length_mm=200.0)
    instrument = bored(chalumeau[0], THROAT, taper_reamers=[far, near], reamers=[13.5])
    told = [str(each.what) for each in body_findings(instrument) if "shelf" in str(each.what)]
    assert len(told) == 3  # the head's cylinder, the body's, and its taper
    assert "cylinder of 13.00 mm; the nearest is that of 13.5 mm" in told[0]
    assert "the nearest is 'near'" in told[2]
    # 0.005 mm/mm over 50 mm are 0.25 mm; the throat has 0.3.
    assert "it grows by 0.25 mm over that length, the taper by 0.30 mm" in told[2]
    own = TaperReamer(small_mm=12.9, slope=0.006, length_mm=80.0)
    fits = bored(chalumeau[0], THROAT, taper_reamers=[far, own])
    assert not [each for each in body_findings(fits) if "shelf" in str(each.what)]
    bent = bored(chalumeau[0], [(0.0, 13.6), (20.0, 13.2), (50.0, 13.0), (160.0, 13.0)],
                 taper_reamers=[own])  # fmt: skip
    assert "is not straight" in str(body_findings(bent)[-1].what)


def test_a_fit_ends_at_tapers_that_reamers_cut(chalumeau):
    instrument, fingerings = chalumeau
    free = [*instrument.fit.free, "body.upper_end", "body.throat_end", "body.cylinder"]
    shelf = [
        TaperReamer(name="slow", small_mm=12.6, slope=0.0045, length_mm=250.0),
        TaperReamer(name="steep", small_mm=12.9, slope=0.05, length_mm=40.0),
    ]
    drawing = bored(instrument, THROAT, free=free, taper_reamers=shelf, reamers=[12.9, 13.1])
    reamed, result = fit(drawing, fingerings)
    (_, top), (end, bottom), _ = reamed.part("body").bore
    assert bottom in (12.9, 13.1)
    assert (top - bottom) / end == pytest.approx(0.0045, abs=0.02 / end)
    limits = {move.measure: str(move.limit) for move in result.moved if not move.hole}
    assert "'slow'" in limits["upper_end"]
    assert "'slow'" in limits["throat_end"]
    # The head is held: its cylinder of 13.0 mm is told, not moved.
    told = [each for each in result.findings if "shelf" in str(each.what)]
    assert [each.place[0] for each in told] == ["head"]
    again, _ = fit(reamed, fingerings)
    there, here = read_values(again), read_values(reamed)
    assert max(abs(a - b) for a, b in zip(there, here, strict=True)) <= 0.01
    steep = bored(instrument, THROAT, free=free, taper_reamers=shelf[1:])
    with pytest.raises(FitError, match=r"no taper reamer on the shelf cuts this .*'steep'"):
        fit(steep, fingerings)
