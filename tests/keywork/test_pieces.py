"""What is shown of keys: closed triangles, sections that turn as the keys do, ways looked up."""

from __future__ import annotations

import math

import numpy as np
import pytest
import trimesh

from borewright.keywork import Body, Mechanism, pad_motion
from borewright.keywork.facets import body_facets, chimney_facets, facets
from borewright.keywork.pieces import Stuff, pieces_of
from borewright.keywork.section import depth_mm, pad_section
from borewright.keywork.swings import SHARES, swings
from borewright.model.keys import Cup
from borewright.tasks.keys_in_the_round import keys_in_the_round


@pytest.fixture(scope="module")
def mechanism(keys, instrument):
    return Mechanism(keys, instrument)


@pytest.fixture(scope="module")
def body(instrument):
    return Body(instrument)


def mesh(triangles):
    made = trimesh.Trimesh(triangles.reshape(-1, 3), np.arange(triangles.size // 3).reshape(-1, 3))
    made.merge_vertices(digits_vertex=6)
    return made


def test_every_piece_is_closed_and_outwards(mechanism, body):
    for key in mechanism.keys.keys:
        for piece in pieces_of(mechanism, key):
            made = mesh(facets(piece))
            assert made.is_watertight, piece.name
            assert made.volume > 0, piece.name
    for part in body.instrument.parts:
        assert mesh(body_facets(body, part.name)).is_watertight
    chimney = mesh(chimney_facets(body.rims["RV"], 1.2))
    assert chimney.is_watertight
    assert chimney.volume > 0


def test_a_turned_piece_stands_where_its_key_brings_it(mechanism):
    cup = next(c for c in mechanism.keys.of(Cup) if c.hole == "EB")
    piece = next(p for p in pieces_of(mechanism, "EB") if p.name == "pad EB")
    turned = piece.at(mechanism, 10.0)
    key = mechanism.turning["EB"]
    np.testing.assert_allclose(turned.start, key.moved(mechanism.points[cup.name][0], 10.0))
    assert np.linalg.norm(turned.end - turned.start) == pytest.approx(
        np.linalg.norm(piece.end - piece.start)
    )
    post = next(p for p in pieces_of(mechanism, "EB") if p.name == "post P-EB1")
    assert post.at(mechanism, 10.0) is post


def test_in_its_section_a_pad_opens_as_far_as_in_space(mechanism, body):
    for cup in mechanism.keys.of(Cup):
        section = pad_section(mechanism, body, cup)
        turn = math.radians(section.open_deg)
        hinge = np.array(section.hinge)
        # The pad's middle is the section's origin; it turns about the hinge in the plane.
        opened = hinge + np.array(
            [[math.cos(turn), -math.sin(turn)], [math.sin(turn), math.cos(turn)]]
        ) @ (-hinge)
        out = float(np.linalg.norm(opened))
        key = mechanism.turning[cup.key]
        face = mechanism.points[cup.name][0]
        in_space = float(np.linalg.norm(key.moved(face, key.open_deg) - face))
        assert out == pytest.approx(in_space, rel=1e-6), cup.name
        assert opened[1] > 0.5, cup.name
        if abs(pad_motion(mechanism, body, cup).slide_per_lift) < 0.3:
            lift = pad_motion(mechanism, body, cup).lift_mm
            assert opened[1] == pytest.approx(lift, abs=0.3), cup.name
        pads = [cut for cut in section.cuts if cut.stuff is Stuff.PAD]
        assert len(pads) == 1
        assert np.ptp(pads[0].outline[:, 0]) == pytest.approx(cup.pad_mm, rel=0.06)
        assert section.body, cup.name


def test_material_is_where_the_body_is(body):
    rim = body.rims["EB"]
    wall = rim.centre + rim.out * -1.5
    across = np.cross(rim.out, [1.0, 0.0, 0.0])
    beside = wall + across * (rim.hole.diameter_mm / 2 + 3)
    aside = wall + np.array([rim.hole.diameter_mm / 2 + 3, 0.0, 0.0])
    bore = np.array([rim.centre[0], 0.0, 0.0])
    found = depth_mm(body, np.array([wall, aside, bore, rim.centre + rim.out]))
    assert (found > 0).tolist() == [False, True, False, False]
    assert depth_mm(body, beside[None])[0] > -1.0


def test_ways_looked_up_are_those_of_the_mechanism(mechanism, body, table):
    made = swings(mechanism, body, table)
    rest = mechanism.rest
    for name, (pressed, _covered) in made.fingerings.items():
        state = mechanism.pressed(pressed)
        for key in rest:
            off = max(
                (made.ways[p][key][-1] for p in pressed if key in made.ways[p]), key=abs, default=0
            )
            assert rest[key] + off == pytest.approx(state[key], abs=1e-9), (name, key)
    half = mechanism.pressed(["FS"], 0.5)
    assert SHARES[6] == pytest.approx(0.5)
    assert rest["FC"] + made.ways["FS"]["FC"][6] == pytest.approx(half["FC"])


def test_the_page_is_given_few_triangles(instrument, keys, table):
    # Without a graphics card a browser draws some 30 000 triangles thirty times a second.
    made = keys_in_the_round(instrument, keys, table)
    count = sum(len(each) for each in made.bodies.values())
    for key in made.keys:
        count += len(key.fixed) + sum(len(each) for each in key.turning.values())
    for hole in made.holes:
        count += len(hole.face) + (0 if hole.chimney is None else len(hole.chimney))
    assert count < 30_000
