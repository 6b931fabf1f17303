"""Blending as geometry: parents come back whole, features move alone, odd pairs are refused."""

import math
from importlib.resources import files

import pytest

from borewright.errors import ModelError
from borewright.model import load
from borewright.model.bores import (
    FEATURES,
    Fractions,
    assembled_bore,
    blend_instruments,
    bore_features,
    overlay_table,
    with_bore,
)
from borewright.model.bores.morphing import Stretch, morph

EXAMPLES = files("borewright") / "examples"


@pytest.fixture(scope="module")
def parents():
    return tuple(load(EXAMPLES / name / "clarinet.toml") for name in ("loan-clarinet", "wide-bore"))


def test_no_share_and_the_whole_share_give_the_parents(parents):
    for fraction, parent in zip((0.0, 1.0), parents, strict=True):
        assert blend_instruments(*parents, Fractions.all(fraction)).parts == parent.parts


def test_a_trifle_of_a_share_changes_a_trifle(parents):
    first, _ = parents
    blend = blend_instruments(*parents, Fractions.all(1e-6))
    table = overlay_table([assembled_bore(first), assembled_bore(blend)], every_mm=1.0)
    assert max(abs(each) for each in table.most_wider_mm) < 1e-3


def test_half_way_lies_half_way(parents):
    one, other = (bore_features(each) for each in parents)
    half = bore_features(blend_instruments(*parents, Fractions.all(0.5)))
    for name in ("flare_start", "flare_growth", "throat_length", "throat_widening", "rim"):
        middle = (getattr(one, name) + getattr(other, name)) / 2
        assert getattr(half, name) == pytest.approx(middle, abs=2e-4), name


@pytest.mark.parametrize(
    ("feature", "figure"),
    [
        ("flare_start", "flare_start"),
        ("throat", "throat_length"),
        ("flare", "flare_growth"),
        ("bell", "rim"),
        ("barrel", "barrel_top"),
    ],
)
def test_each_feature_moves_alone(parents, feature, figure):
    first, second = (bore_features(each) for each in parents)
    made = bore_features(blend_instruments(*parents, Fractions.all(0.0, **{feature: 1.0})))
    assert getattr(made, figure) == pytest.approx(getattr(second, figure), abs=2e-4)
    assert getattr(made, figure) != pytest.approx(getattr(first, figure), abs=0.05)
    others = {
        "flare_start": "flare_growth",
        "throat": "flare_start",
        "flare": "flare_start",
        "bell": "flare_growth",
        "barrel": "throat_length",
    }
    kept = others[feature]
    assert getattr(made, kept) == pytest.approx(getattr(first, kept), abs=2e-4)


def test_the_cylinder_alone_carries_throat_and_flare_with_it(parents):
    first, second = (bore_features(each) for each in parents)
    made = bore_features(blend_instruments(*parents, Fractions.all(0.0, cylinder=1.0)))
    wider = [pair[1] for pair in second.cylinders]
    assert [pair[1] for pair in made.cylinders] == pytest.approx(wider, abs=2e-4)
    assert made.throat_widening == pytest.approx(first.throat_widening, abs=2e-4)
    assert made.flare_growth == pytest.approx(first.flare_growth, abs=2e-4)


def test_a_morph_keeps_steps():
    one = [(0.0, 15.0), (50.0, 15.0), (50.0, 14.0), (100.0, 14.0)]
    other = [(0.0, 15.0), (100.0, 15.0)]
    made = morph(one, other, [Stretch((0, 100), (0, 100), (0, 100), 0.5)])
    assert made == [(0.0, 15.0), (50.0, 15.0), (50.0, 14.5), (100.0, 14.5)]


def test_fractions_outside_their_range_are_refused():
    with pytest.raises(ValueError, match="less than or equal to 1"):
        Fractions(bell=1.5)
    assert set(Fractions.model_fields) == set(FEATURES)


def test_instruments_of_other_parts_are_refused(parents):
    first, second = parents
    short = second.model_copy(update={"parts": second.parts[:-1]})
    with pytest.raises(ModelError, match="not made of the same parts"):
        blend_instruments(first, short, Fractions.all(0.5))


def test_other_holes_are_refused_unless_the_first_ones_stay(parents):
    first, second = parents
    upper = second.part("upper joint")
    fewer = upper.model_copy(update={"holes": upper.holes[1:]})
    changed = second.model_copy(
        update={"parts": [fewer if p.name == upper.name else p for p in second.parts]}
    )
    with pytest.raises(ModelError, match="only one of the two has the hole 'RV'"):
        blend_instruments(first, changed, Fractions.all(0.5))
    blend = blend_instruments(first, changed, Fractions.all(0.5, holes=0.0))
    assert blend.hole_names() == first.hole_names()


def test_the_assembled_bore_follows_tenons(parents):
    first, _ = parents
    line = assembled_bore(first)
    # The bell's own bore begins below the tenon of the lower joint, 16 mm inside it.
    bell = first.offset_mm("bell")
    assert line.diameter_mm(bell + 16, -1) == pytest.approx(21.6)
    assert line.diameter_mm(bell + 50) == pytest.approx(first.part("bell").bore_diameter_at(50))
    assert line.span_mm == (0.0, first.length_mm)
    assert [name for _, name in line.joints] == [part.name for part in first.parts]
    stations = [station for station, _ in line.points]
    assert stations == sorted(stations)


def test_overlay_gives_deviations_at_common_stations(parents):
    lines = [assembled_bore(each, "lower joint") for each in parents]
    table = overlay_table(lines, every_mm=20.0)
    rows = {row.station_mm: row.wider_mm[0] for row in table.rows}
    assert rows[100.0] == pytest.approx(0.1)
    assert math.isclose(table.most_wider_mm[0], max(rows.values(), key=abs))
    with pytest.raises(ModelError, match="nothing to compare"):
        overlay_table(lines[:1])
    with pytest.raises(ModelError, match="too little to be true"):
        overlay_table(lines, every_mm=0)


def test_a_bore_goes_into_a_part(parents):
    first, _ = parents
    made = with_bore(first, "lower joint", [(20.0, 14.7), (150.0, 14.7), (250.0, 21.0)])
    # From 20 mm up the cylinder goes on to the shoulder.
    assert made.part("lower joint").bore[0] == (0.0, 14.7)
    assert made.part("upper joint") == first.part("upper joint")
    with pytest.raises(ModelError, match="has no part 'lower'"):
        with_bore(first, "lower", [(0.0, 14.7), (250.0, 21.0)])
    with pytest.raises(ModelError, match=r"ends 94\.0 mm before the end"):
        with_bore(first, "lower joint", [(0.0, 14.7), (150.0, 14.7)])
    with pytest.raises(ModelError, match="reaches the outside"):
        with_bore(first, "lower joint", [(0.0, 14.7), (250.0, 60.0)])
