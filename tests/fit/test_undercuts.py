"""An undercut is how much wider a hole is at the bore, with a range of its own by its job."""

from __future__ import annotations

import numpy as np
import pytest

from borewright.errors import FitError
from borewright.fit import body_findings, fit
from borewright.fit.freedom import freedoms
from borewright.fit.spacing import spacings
from borewright.fit.undercuts import begun
from borewright.model import (
    Instrument,
    dimensions,
    drawn,
    load,
    read_values,
    save_as,
    with_values,
)
from borewright.model.fit_wishes import StatedRange
from borewright.model.hole import Undercut


def wishing(instrument: Instrument, **wishes) -> Instrument:
    wished = instrument.fit.model_copy(update=wishes)
    return instrument.model_copy(update={"fit": wished})


def undercut(instrument: Instrument, **cuts: tuple[float, float]) -> Instrument:
    """Some holes with an undercut: its diameter at the bore and its depth."""
    parts = []
    for part in instrument.parts:
        holes = [
            hole.model_copy(
                update={
                    "undercut": Undercut(
                        diameter_mm=cuts[hole.name][0], depth_mm=cuts[hole.name][1]
                    )
                }
            )
            if hole.name in cuts
            else hole
            for hole in part.holes
        ]
        parts.append(part.model_copy(update={"holes": holes}))
    return instrument.model_copy(update={"parts": parts})


def mouths(instrument: Instrument) -> dict[str, float]:
    return {
        hole.name: hole.mouth_diameter_mm - hole.diameter_mm
        for part in instrument.parts
        for hole in part.holes
    }


def test_its_range_goes_by_the_job_of_the_hole(clarinet):
    instrument, _, survey = clarinet
    free = begun(wishing(instrument, free=["hole.undercut"]))
    ranges = {each.dimension.hole: each for each in freedoms(free, survey)}
    assert "RV" not in ranges  # a lined vent is not undercut
    assert {each.low.value for each in ranges.values()} == {0.0}
    most = {name: each.high.value for name, each in ranges.items()}
    # A finger hole, an open pad, a closed one.
    assert (most["L3"], most["R1"], most["FC"], most["A"]) == (2.0, 2.0, 1.5, 1.0)


def test_the_maker_states_a_range_for_several_holes(clarinet):
    instrument, _, survey = clarinet
    stated = {
        "R1, R2, R3.undercut": StatedRange(from_mm=0.5, to_mm=1.2, because="my cutter"),
        "hole.undercut except L1": StatedRange(from_mm=0.0, to_mm=0.8),
    }
    free = begun(wishing(instrument, free=["hole.undercut except CG"], ranges=stated))
    found = {each.dimension.hole: each for each in freedoms(free, survey)}
    assert "CG" not in found
    assert [found[name].high.value for name in ("R1", "R3", "L2", "L1")] == [1.2, 1.2, 0.8, 2.0]
    assert str(found["R2"].low.words) == "my cutter"
    deeper = undercut(instrument, L1=(9.5, 2.0))
    (own,) = freedoms(wishing(deeper, free=["L1.undercut"]), survey)
    # Drawn 3 mm wider than the hole: the drawing goes before what is usual.
    assert (own.drawn, own.high.value) == (3.0, 3.0)


def test_an_undercut_goes_with_its_hole(chalumeau):
    instrument, fingerings = chalumeau
    cut = undercut(instrument, L2=(6.5, 2.5), R1=(7.0, 2.5))
    fitted, result = fit(wishing(cut, free=["hole.diameter"]), fingerings)
    moved = {move.hole: move.to - move.from_ for move in result.moved}
    assert abs(moved["L2"]) > 0.05
    for name, wider in mouths(cut).items():
        assert mouths(fitted)[name] == pytest.approx(wider, abs=1e-6)


def test_a_fit_undercuts_what_pays_and_rests(chalumeau, tmp_path):
    instrument, fingerings = chalumeau
    wishes = wishing(instrument, free=["hole.undercut"], keep_close=0.5, largest_finger_hole_mm=7.0)
    fitted, result = fit(wishes, fingerings)
    wider = mouths(fitted)
    cut = {name for name, mm in wider.items() if mm > 0}
    assert 0 < len(cut) < len(wider)
    assert result.after.summary.rms_cents < result.before.summary.rms_cents - 1.0
    for part in fitted.parts:
        for hole in part.holes:
            # What came to nothing is drawn straight; the rest leaves a straight tube above.
            assert (hole.undercut is not None) == (hole.name in cut)
            if hole.undercut:
                assert 0.1 <= wider[hole.name] <= 2.0 + 1e-9
                assert part.tube_height_mm(hole) - hole.undercut.depth_mm > 1.0
    assert body_findings(fitted) == body_findings(instrument)
    save_as(fitted, tmp_path / "fitted.toml")
    read = load(tmp_path / "fitted.toml")
    assert all(mm == 0 for mm in mouths(drawn(read)).values())
    again, _ = fit(read, fingerings)
    assert mouths(again) == pytest.approx(wider, abs=0.01)


def test_the_tube_keeps_a_straight_piece_and_the_bore_its_edge(clarinet):
    """Both limits by the geometry itself: chimney down, and mouth out, until they break."""
    instrument, _, survey = clarinet
    cut = undercut(instrument, R3=(11.0, 4.0))
    (part,) = (part for part in cut.parts if "R3" in [hole.name for hole in part.holes])
    names = [str(dimension.words) for dimension in dimensions(cut)]
    limits = {str(each.words): each for each in spacings(cut, survey)}
    for name, words, by in (
        ("R3 chimney", "tube of R3 above its undercut", -1.0),
        ("R3 undercut diameter", "bore below the undercut of R3", 1.0),
    ):
        values = np.array(read_values(cut))
        gap, _ = limits[words].evaluate(values)
        assert gap > 0
        values[names.index(name)] += by * gap
        edge = with_values(cut, list(values)).part(part.name).hole("R3")
        if by < 0:
            straight = part.tube_height_mm(edge) - edge.undercut.depth_mm
            assert straight == pytest.approx(1.2)
        else:
            bore = part.bore_diameter_at(edge.station_mm)
            assert edge.mouth_diameter_mm == pytest.approx(0.9 * bore)
        assert limits[words].evaluate(values)[0] == pytest.approx(0.0, abs=1e-9)


def test_a_vent_alone_frees_nothing(clarinet):
    instrument, fingerings, survey = clarinet
    with pytest.raises(FitError, match=r"'RV\.undercut' matches nothing"):
        fit(
            wishing(instrument, free=["RV.undercut"]), fingerings, survey, side_holes="closed forms"
        )
