"""Posts from keys: sets on other bodies, drilling directions, places that would do, warmth."""

from __future__ import annotations

import math

import numpy as np
import pytest

from borewright.keywork import Body, Check, Mechanism, key_findings
from borewright.keywork.gate import LIMITS
from borewright.keywork.gate.hinges import nearest_place, post_findings
from borewright.keywork.gate.pads import pad_findings
from borewright.keywork.growth import play_ranges
from borewright.keywork.standing import hinge_beside_pad, post_places, stand_on
from borewright.model.keys import Cup, Hinge, Post


def with_hole(instrument, name, **fields):
    """The instrument with one hole changed."""
    parts = [
        part.model_copy(
            update={
                "holes": [
                    hole.model_copy(update=fields) if hole.name == name else hole
                    for hole in part.holes
                ]
            }
        )
        for part in instrument.parts
    ]
    return instrument.model_copy(update={"parts": parts})


def test_a_set_on_its_own_body_stays_within_a_fifth_of_a_millimetre(keys, instrument):
    stood = stand_on(keys, instrument)
    assert all(np.abs(move).max() <= 0.2001 for move in stood.moved_mm.values())
    before, after = ({f.check for f in key_findings(instrument, k)} for k in (keys, stood.keys))
    assert after <= before


@pytest.mark.parametrize(
    ("hole", "fields"),
    [
        ("CG", {"chimney_mm": -0.2}),  # a hinge along
        ("AE", {"chimney_mm": -1.5, "station_mm": 118.4}),
        ("S2", {"bearing_deg": -73.0}),  # a hinge across
        ("RV", {"chimney_mm": 1.6}),
    ],
)
def test_a_moved_seat_asks_posts_anew_and_the_pad_lies_flat(keys, instrument, hole, fields):
    changed = with_hole(instrument, hole, **fields)
    body = Body(changed)
    cup = keys.over(hole)
    bad = {
        f.check
        for f in pad_findings(Mechanism(keys, changed), body, LIMITS)
        if cup.name in f.elements
    }
    assert bad & {Check.CUP_HEIGHT, Check.CHIMNEY_TOO_HIGH, Check.PAD_TILT}
    stood = stand_on(keys, changed).keys
    mechanism = Mechanism(stood, changed)
    found = [f for f in pad_findings(mechanism, body, LIMITS) if cup.name in f.elements]
    assert found == []
    # The key itself is stiff: every distance between its own points is as before.
    before = Mechanism(keys, changed)
    names = [
        e.name
        for e in keys.of_key(cup.key)
        if not isinstance(e, Post) and e.kind.value not in ("spring", "stop")
    ]
    old = np.concatenate([before.points[n] for n in names])
    new = np.concatenate([mechanism.points[n] for n in names])
    assert np.linalg.norm(new[:, None] - new[None], axis=-1) == pytest.approx(
        np.linalg.norm(old[:, None] - old[None], axis=-1), abs=1e-6
    )


def test_a_hinge_along_stands_where_the_hand_formula_puts_it(keys, instrument):
    # R = √((s + h)² + m²), Δ = atan2(m, s + h), m and h measured on the key.
    changed = with_hole(instrument, "CG", chimney_mm=-0.2)
    stood = Mechanism(stand_on(keys, changed).keys, changed)
    line = stood.points["H-CG"][0]
    before = Mechanism(keys, instrument)
    face, tube = before.points["C-CG"][0], before.points["H-CG"][0]
    out = Body(instrument).rims["CG"].out
    side = np.cross([1.0, 0, 0], out)
    m, h = abs((tube - face) @ side), float((tube - face) @ out)
    radius, turn = hinge_beside_pad(m, h, 14.6)
    assert math.hypot(line[1], line[2]) == pytest.approx(radius, abs=1e-3)
    bearing = math.degrees(math.atan2(line[1], line[2]))
    assert abs(bearing - 50.0) == pytest.approx(turn, abs=1e-2)


def test_posts_are_drilled_square_on_a_cylinder_and_told_on_a_cone(keys, instrument):
    places = {p.post: p for p in post_places(Mechanism(keys, instrument), Body(instrument))}
    assert len(places) == 40
    assert places["P-TP1"].off_square_deg == pytest.approx(0.0, abs=1e-6)
    # The flare: 3.5 mm of diameter on 94 mm, half of it on the radius.
    assert places["P-EB2"].off_square_deg == pytest.approx(
        math.degrees(math.atan(1.75 / 94)), abs=1e-3
    )
    assert places["P-EB1"].height_mm == pytest.approx(4.25, abs=1e-3)
    assert places["P-EB2"].height_mm == pytest.approx(2.87, abs=5e-3)


def test_the_nearest_place_would_really_do(keys, instrument, bending):
    # Straight over the second finger's hole: 6.5 mm wide, the post needs 3 and 1.5 of wall.
    post = next(p for p in keys.of(Post) if p.name == "P-LP2")
    made = bending.with_moved(keys, ["P-LP2"], along=-7.0, round_deg=-46.0)
    mechanism, body = Mechanism(made, instrument), Body(instrument)
    bad = next(p for p in made.of(Post) if p.name == "P-LP2")
    findings = [f for f in post_findings(mechanism, body, LIMITS) if "P-LP2" in f.elements]
    assert {Check.POST_IN_HOLE, Check.POST_UNDER_RING} <= {f.check for f in findings}
    place = nearest_place(mechanism, body, bad, LIMITS)
    assert place is not None
    assert f"station {place.station_mm:.2f} mm" in str(findings[0].remedy)
    there = bending.with_moved(made, ["P-LP2"], along=place.along_mm)
    after = post_findings(Mechanism(there, instrument), body, LIMITS)
    assert not [f for f in after if "P-LP2" in f.elements]
    assert post.hinge == bad.hinge


def test_long_hinges_bind_when_cold_and_none_rattles(keys, instrument):
    by = {r.hinge: r for r in play_ranges(Mechanism(keys, instrument))}
    # Worked out by hand: 0.03/(51e-6 × 118) = 4.985 K below 21 °C.
    assert by["H-EB"].binds_below_c == pytest.approx(21 - 4.985, abs=0.01)
    assert by["H-EB"].warm_mm == pytest.approx(0.03 + 51e-6 * 118 * 9, abs=1e-6)
    assert by["H-A"].cold_mm == by["H-A"].warm_mm
    assert all(r.rattles_above_c is None for r in by.values())
    wet = {r.hinge: r for r in play_ranges(Mechanism(keys, instrument), swelling=0.001)}
    assert wet["H-EB"].rattles_above_c is not None


def test_the_example_has_as_many_hinges_as_rods(keys):
    assert len({h.hinge for h in keys.of(Hinge)}) == 20
    assert len(keys.of(Cup)) == 17
