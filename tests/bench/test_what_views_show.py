"""What the views hand to their drawings is what the rooms say; checked without a browser."""

from __future__ import annotations

import pytest

from borewright.bench.design.circumstances import Circumstances
from borewright.bench.design.drawing import drawing_of
from borewright.bench.design.limits import ranges
from borewright.bench.design.predicting import changed, words_of_change
from borewright.bench.fit.proposal import Proposal
from borewright.bench.fit.wishes import free_cells, wishes_from
from borewright.bench.words import read_by
from borewright.errors import BenchError, ModelError
from borewright.fit import body_findings
from borewright.fit.freedom import freedoms
from borewright.model import (
    FitResult,
    TuningSummary,
    TuningTable,
    dimensions,
    load,
    read_survey,
    read_values,
)
from borewright.words import Reader


@pytest.fixture
def instrument(clarinet):
    return load(clarinet / "clarinet.toml")


@pytest.fixture
def survey(clarinet):
    return read_survey(clarinet / "keywork.csv")


def column(instrument, hole, measure):
    return next(
        i for i, d in enumerate(dimensions(instrument)) if (d.hole, d.measure) == (hole, measure)
    )


def test_limits_are_those_of_the_fit_or_tighter(instrument, survey):
    found = ranges(instrument, survey)
    for freedom in freedoms(instrument, survey):
        if freedom.column in found:
            range_ = found[freedom.column]
            assert range_.low >= freedom.low.value - 1e-9
            assert range_.high <= freedom.high.value + 1e-9
    vent = found[column(instrument, "RV", "station")]
    assert (vent.low, vent.high) == pytest.approx((11.8, 12.8))  # 12.3 ± 0.5 in the survey
    assert "cup window RV" in str(vent.low_words)
    assert vent.beyond(11.0) == vent.low_words
    assert vent.beyond(12.0) == ""


def test_a_wall_to_the_neighbour_is_where_the_checks_begin_to_object(chalumeau):
    """T (thumb) and L2 lie at one height on opposite sides; R1 and L3 are in line."""
    instrument = load(chalumeau / "chalumeau.toml")
    wide = instrument.model_copy(
        update={"fit": instrument.fit.model_copy(update={"finger_hole_window_mm": 30.0})}
    )
    index = column(wide, "R1", "station")
    edge = ranges(wide, None)[index]
    assert "wall between L3 and R1" in str(edge.low_words)
    inside = changed(wide, {index: edge.low + 0.05})
    beyond = changed(wide, {index: edge.low - 0.2})
    assert not [f for f in body_findings(inside) if f.severity == "fault"]
    faults = [f for f in body_findings(beyond) if f.severity == "fault"]
    assert [Reader("en").place(f.place) for f in faults] == ["body, holes L3 and R1"]


def test_the_drawing_is_the_instrument_in_place(instrument, survey):
    with read_by(Reader("en")):
        drawing = drawing_of(instrument, ranges(instrument, survey))
    assert [part["name"] for part in drawing["parts"]] == [p.name for p in instrument.parts]
    assert drawing["bottom"] == pytest.approx(instrument.length_mm)
    placed = {hole.name: station for _, hole, station in instrument.placed_holes()}
    for hole in drawing["holes"]:
        value = drawing["values"][hole["station"]]
        assert hole["offset"] + value == pytest.approx(placed[hole["name"]])
    assert drawing["cut"] == pytest.approx(245.0)  # the joint between upper and lower joint


def test_changes_are_validated_and_named(instrument):
    index = column(instrument, "L3", "station")
    new = changed(instrument, {str(index): 161.0})
    said = words_of_change(instrument, new)
    assert str(said) == "L3 station 160.5 → 161 mm"
    assert Reader("de").tell(said) == "L3 Station 160,5 → 161 mm"
    with pytest.raises(ModelError, match="outside its part"):
        changed(instrument, {index: 500.0})
    for values in ({"-1": 1.0}, {"9999": 1.0}, {"x": 1.0}, {index: "1"}, {index: float("nan")}):
        with pytest.raises(BenchError, match="no dimension"):
            changed(instrument, values)


def test_circumstances_never_touch_dimensions(instrument):
    hot = Circumstances("hot room", "none", "together").seen(instrument)
    assert read_values(hot) == read_values(instrument)
    assert hot.climate.room_c == 32.0
    assert hot.reed is None
    assert hot.outside_interaction
    assert Circumstances().seen(instrument) == instrument


def test_the_grid_of_wishes_goes_there_and_back(instrument):
    free = free_cells(instrument)
    assert "L3.station" in free
    assert "barrel.length" in free
    assert "bell.length" in free
    assert "barrel.bore_station" not in free
    assert free_cells(instrument.model_copy(update={"fit": wishes_from(instrument, free)})) == free
    without = wishes_from(instrument, free - {"L3.station"})
    assert "hole.station" not in without.free
    assert "L2.station" in without.free
    assert "hole.diameter" in without.free
    again = instrument.model_copy(update={"fit": without})
    assert free_cells(again) == free - {"L3.station"}


def test_the_grid_of_wishes_leaves_out_what_the_file_excepts(instrument):
    wishes = instrument.fit.model_copy(update={"free": ["hole.chimney except CG, GS"]})
    free = free_cells(instrument.model_copy(update={"fit": wishes}))
    assert free == {f"{h}.chimney" for h in instrument.hole_names() if h not in ("CG", "GS")}


def empty_result(instrument):
    table = TuningTable(
        instrument=instrument.name, notes=[], twelfths=[], model_level="x", climate="x",
        summary=TuningSummary(rms_cents=0, worst_cents=0, worst_note=""),
    )  # fmt: skip
    return FitResult(
        instrument=instrument.name, before=table, after=table, moved=[], out_of_reach=[],
        finished=True, rounds=1, seconds=0.0,
    )  # fmt: skip


def test_a_proposal_is_taken_hole_by_hole(instrument):
    l3, r1 = column(instrument, "L3", "station"), column(instrument, "R1", "diameter")
    fitted = changed(instrument, {l3: 161.0, r1: 6.6})
    proposal = Proposal("clarinet.toml", instrument, fitted, empty_result(instrument), {"R1"})
    taken = read_values(proposal.taken(instrument))
    assert taken[l3] == 161.0
    assert taken[r1] == read_values(instrument)[r1]
    proposal.left.clear()
    assert read_values(proposal.taken(instrument)) == read_values(fitted)
    # A later fit still knows what was drawn.
    assert proposal.taken(instrument).drawing != instrument.drawing
    elsewhere = column(instrument, "EB", "diameter")
    present = changed(instrument, {elsewhere: 12.1})
    assert read_values(proposal.taken(present))[elsewhere] == 12.1  # later work stays
    fewer = instrument.model_copy(update={"parts": instrument.parts[:-1]})
    with pytest.raises(BenchError, match="Run the fit again"):
        proposal.taken(fewer)
