"""Blanks and jigs measured back from their meshes, without the kernel that made them."""

from __future__ import annotations

import json
import math
import shutil
from pathlib import Path

import numpy as np
import pytest
import trimesh

from borewright.errors import PrintingError
from borewright.keywork import Body, Mechanism, key_figures, screw_places, stand_on
from borewright.model import KeySet
from borewright.model.keys import Cup, Post, Ring, Spring, Stop
from borewright.printing import key_fit_blanks
from borewright.solids import Bush, jig_solid, plan_jigs
from borewright.solids.jig import shortest_arc
from borewright.tasks.printing.key_fit_springs import spring_holes
from borewright.words import Reader


@pytest.fixture(scope="module")
def made(example, tmp_path_factory):
    """The command's answer for one linked pair of keys, its folder, and its meshes."""
    from typer.testing import CliRunner

    from borewright.cli import app

    folder = shutil.copytree(example, tmp_path_factory.mktemp("fit") / "clarinet")
    file = folder / "clarinet.toml"
    text = file.read_text(encoding="utf-8")
    if "\nkeys = " not in text:
        text = text.replace("[instrument]\n", '[instrument]\nkeys = "keys.csv"\n', 1)
        text = text.replace("[pitch]", "[body]\npost_base_mm = 4.4\n\n[pitch]", 1)
        file.write_text(text, encoding="utf-8")
    words = ["key-fit", str(file), "--output", str(folder / "fit"), "--key", "A", "--json"]
    result = CliRunner().invoke(app, words)
    assert result.exit_code == 0, result.output
    told = json.loads(result.stdout)
    meshes = {part["part"]: trimesh.load_mesh(part["stl"]) for part in told["solids"]["parts"]}
    return told, folder / "fit", meshes


def inside(mesh, points):
    """Whether points lie in a closed mesh: the solid angle it fills seen from each.

    Van Oosterom and Strackee, IEEE Trans. Biomed. Eng. 30 (1983) 125; 4π inside, 0 outside.
    """
    corners = mesh.triangles[None] - np.asarray(points)[:, None, None]
    a, b, c = corners[:, :, 0], corners[:, :, 1], corners[:, :, 2]
    la, lb, lc = (np.linalg.norm(each, axis=-1) for each in (a, b, c))
    above = np.einsum("ijk,ijk->ij", a, np.cross(b, c))
    below = (
        la * lb * lc
        + np.einsum("ijk,ijk->ij", a, b) * lc
        + np.einsum("ijk,ijk->ij", b, c) * la
        + np.einsum("ijk,ijk->ij", c, a) * lb
    )
    return np.abs(2 * np.arctan2(above, below).sum(axis=1)) > 2 * math.pi


def in_space(station, bearing_deg, height):
    """As bodies stand: front at -y, the player's left at -x, z down."""
    turn = math.radians(bearing_deg)
    return np.array([-height * math.sin(turn), -height * math.cos(turn), station])


def post_line(keys, name):
    post = next(each for each in keys.elements if each.name == name)
    foot, head = (
        in_space(p.station_mm, p.bearing_deg, p.height_mm) for p in (post.first, post.second)
    )
    return foot, (head - foot) / np.linalg.norm(head - foot)


def ring_round(middle, way, radius):
    side = np.cross(way, [0.3, 0.2, 0.9])
    side /= np.linalg.norm(side)
    other = np.cross(way, side)
    turn = np.linspace(0, 2 * math.pi, 12, endpoint=False)[:, None]
    return middle + radius * (np.cos(turn) * side + np.sin(turn) * other)


def test_what_is_driven_comes_along_and_files_are_closed(made):
    told, folder, meshes = made
    assert [blank["keys"] for blank in told["blanks"]] == [["A", "GS"]]
    assert told["jigs"][0]["posts"] == ["P-A1", "P-A2", "P-GS1", "P-GS2"]
    assert told["findings"] == []
    assert all(mesh.is_watertight for mesh in meshes.values())
    for part in told["solids"]["parts"]:
        assert Path(part["step"]).exists()
        assert Path(part["3mf"]).exists()
        volume = meshes[part["part"]].volume
        assert volume == pytest.approx(part["volume_mm3"], rel=5e-3)
        row = next(r for r in told["estimate"]["parts"] if r["part"] == part["part"])
        assert row["mass_g"] == pytest.approx(volume / 1000 * 1.24, rel=5e-3)
    assert (folder / "what-to-try.pdf").read_bytes().startswith(b"%PDF")


def test_a_jig_guides_every_post_at_its_angle_and_clears_the_body(made, keys, instrument):
    told, _, meshes = made
    jig, bush = meshes["jig 1"], Bush()
    radius = bush.outside_mm / 2
    for name in told["jigs"][0]["posts"]:
        foot, way = post_line(keys, name)
        for height in (0.6, 3.0, 6.0, 7.8):
            on_axis = foot + height * way
            assert not inside(jig, [on_axis])[0], (name, height)
            assert not inside(jig, ring_round(on_axis, way, radius - 0.06)).any(), (name, height)
        # The bush is held all round over most of its length.
        held = ring_round(foot + 6.5 * way, way, radius + 0.12)
        assert inside(jig, held).all(), name
        # By 0.5 mm of a wall at the least, where bosses meet a window.
        walled = ring_round(foot + 6.5 * way, way, radius + bush.wall_mm - 0.2)
        assert inside(jig, walled).all(), name
    # Nowhere nearer to the axis than the body's outside: 29.6 over these stations.
    corners = jig.vertices
    assert np.hypot(corners[:, 0], corners[:, 1]).min() > 14.8 + 0.1 - 0.01
    pin = next(
        h for h in instrument.part("upper joint").holes if h.name == told["jigs"][0]["pin_hole"]
    )
    assert told["jigs"][0]["pin_mm"] == pin.diameter_mm
    way = in_space(0.0, pin.bearing_deg, 1.0)
    middle = in_space(pin.station_mm, pin.bearing_deg, 14.8)
    for height in (0.5, 3.0, 6.0):
        assert not inside(
            jig, ring_round(middle + height * way, way, pin.diameter_mm / 2 - 0.05)
        ).any()
    assert inside(jig, ring_round(middle + 5.5 * way, way, pin.diameter_mm / 2 + 0.3)).all()


def test_a_jig_lifts_off_straight(made, keys, instrument):
    meshes = made[2]
    jig = plan_jigs(Mechanism(keys, instrument), Body(instrument), ["A", "GS"])[0]
    off = in_space(0.0, jig.middle_deg, 1.0)
    part = instrument.part("upper joint")
    for hole in part.holes:
        if hole.chimney_mm <= 0:
            continue
        way = in_space(0.0, hole.bearing_deg, 1.0)
        rim = in_space(hole.station_mm, hole.bearing_deg, 14.8 + hole.chimney_mm)
        for lift in (0.0, 0.5, 1.0, 2.0):
            edge = ring_round(rim - 0.02 * way, way, hole.diameter_mm / 2 + 1.2) - lift * off
            assert not inside(meshes["jig 1"], edge).any(), (hole.name, lift)


def test_a_blank_has_the_joint_s_seats_and_post_holes(made, keys, instrument):
    told, _, meshes = made
    blank, mesh = told["blanks"][0], meshes["blank 1"]
    start = blank["start_mm"]
    assert np.ptp(mesh.vertices[:, 2]) == pytest.approx(blank["end_mm"] - start, abs=1e-3)
    for name in ("A", "GS"):
        hole = next(h for h in instrument.part("upper joint").holes if h.name == name)
        rim = 14.8 + hole.chimney_mm
        way = in_space(0.0, hole.bearing_deg, 1.0)
        seat = in_space(hole.station_mm - start, hole.bearing_deg, rim)
        land = hole.diameter_mm / 2 + 0.3
        assert inside(mesh, ring_round(seat - 0.05 * way, way, land)).all(), name
        assert not inside(mesh, ring_round(seat + 0.05 * way, way, land)).any(), name
        assert not inside(mesh, [seat - 3.0 * way])[0]
    for name in ("P-A1", "P-GS2"):
        foot, way = post_line(keys, name)
        foot = foot - [0.0, 0.0, start]
        radial = foot.copy()
        radial[2] = 0.0
        radial /= np.linalg.norm(radial)
        assert not inside(mesh, [foot - 4.5 * radial])[0], name
        assert inside(mesh, [foot - 5.8 * radial])[0], name


def test_a_blank_is_a_thin_shell_that_a_maker_prints_first(made, keys, instrument):
    told, _, meshes = made
    blank, mesh = told["blanks"][0], meshes["blank 1"]
    start, shell = blank["start_mm"], blank["shell_mm"]
    # Half of what the whole round of it was, and less: within the hour, a few grams.
    assert blank["arc_deg"] < 180
    cost = next(row for row in told["estimate"]["parts"] if row["part"] == "blank 1")
    assert cost["hours"] < 1.0
    assert cost["mass_g"] < 8.0
    # Beside posts there is a shell and nothing below it.
    turn = blank["middle_deg"] - blank["arc_deg"] / 2 + 8.0
    for height, solid in (
        (14.8 - 0.1, True),
        (14.8 - shell + 0.1, True),
        (14.8 - shell - 0.2, False),
    ):
        assert inside(mesh, [in_space(2.0, turn, height)])[0] == solid, height
    # All round a post's hole there is wall, down to its floor.
    for name in ("P-A1", "P-A2", "P-GS1", "P-GS2"):
        foot, _ = post_line(keys, name)
        radial = np.array([*foot[:2], 0.0]) / np.hypot(*foot[:2])
        floor = foot - [0.0, 0.0, start] - 4.9 * radial
        assert inside(mesh, ring_round(floor, radial, 1.3 + 1.4)).all(), name
    # The jig's pin goes through a hole of this very slice, and the stops have something to meet.
    pin = next(
        h for h in instrument.part("upper joint").holes if h.name == told["jigs"][0]["pin_hole"]
    )
    through = [in_space(pin.station_mm - start, pin.bearing_deg, r) for r in (12.5, 13.5, 14.5)]
    assert not inside(mesh, through).any()
    assert inside(
        mesh, ring_round(through[0], through[1] - through[0], pin.diameter_mm / 2 + 0.5)
    ).all()
    for stop in (each for each in keys.of(Stop) if each.key in ("A", "GS")):
        place = stop.second
        on_it = in_space(place.station_mm - start, place.bearing_deg, 14.8 - 0.5)
        assert inside(mesh, [on_it])[0], stop.name


def test_slices_of_a_whole_set_carry_every_post_seat_stop_and_pin(keys, instrument):
    made = key_fit_blanks(instrument, keys)
    assert sorted(key for blank in made.blanks for key in blank.keys) == sorted(keys.keys)
    posts = {post.name: post for post in made.posts}
    assert len(posts) == len(made.posts) == len(keys.of(Post))
    whole = sum(blank.end_mm - blank.start_mm for blank in made.blanks)
    for blank in made.blanks:
        part = made.instrument.part(blank.name)
        there = {hole.name for hole in part.holes}
        radius = part.outside_diameter_at(part.length_mm / 2) / 2

        def on_it(station, bearing, reach, blank=blank, radius=radius):
            off = abs((bearing - blank.middle_deg + 180) % 360 - 180)
            along = blank.start_mm + reach <= station <= blank.end_mm - reach
            return along and (
                blank.arc_deg == 360 or off + math.degrees(reach / radius) < blank.arc_deg / 2
            )

        for key in blank.keys:
            assert {each.hole for each in keys.of_key(key) if isinstance(each, Cup | Ring)} <= there
            for post in keys.posts_of(keys.hinge(key).hinge):
                place = post.first
                assert on_it(place.station_mm, place.bearing_deg, post.head_mm / 2), post.name
                assert posts[post.name].part == blank.name
            for stop in (each for each in keys.of_key(key) if isinstance(each, Stop)):
                assert on_it(stop.second.station_mm, stop.second.bearing_deg, 1.0), stop.name
        assert {jig.pin_hole for jig in blank.jigs} <= there
    guided = [place.post for blank in made.blanks for jig in blank.jigs for place in jig.posts]
    assert sorted(guided) == sorted(posts)
    assert whole < 620  # and most of it is not all round


def test_all_posts_are_guided_and_bushes_never_meet(keys, instrument):
    mechanism = Mechanism(keys, instrument)
    jigs = plan_jigs(mechanism, Body(instrument))
    guided = [place.post for jig in jigs for place in jig.posts]
    assert sorted(guided) == sorted(p.name for p in keys.elements if p.kind.value == "post")
    for jig in jigs:
        assert jig.arc_deg < 178
        lines = [post_line(keys, place.post) for place in jig.posts]
        for i, (a, u) in enumerate(lines):
            for b, v in lines[:i]:
                for height in (0.0, 4.0, 8.0):
                    assert np.linalg.norm(a + u * height - b - v * height) > 5.0 + 1.2


def test_arcs_and_unknown_keys(keys, instrument):
    assert shortest_arc([170.0, -170.0]) == (180.0 - 360.0, 20.0)
    middle, width = shortest_arc([-30.0, 10.0, 40.0], 5.0)
    assert (middle, width) == (5.0, 80.0)
    with pytest.raises(PrintingError, match="no key 'Q'"):
        key_fit_blanks(instrument, keys, ["Q"])


def with_spring_on_body(keys):
    """The set with the spring of A held by a screw in the body, its free end under the key."""
    elements = [
        each.model_copy(
            update={
                "first": each.first.model_copy(update={"height_mm": 15.0}),
                "second": each.second.model_copy(update={"height_mm": 17.0}),
            }
        )
        if each.name == "S-A"
        else each
        for each in keys.elements
    ]
    return KeySet(elements=tuple(elements))


def test_a_spring_screwed_to_the_body_is_guided_too_and_no_other(keys, instrument):
    mechanism, body = Mechanism(keys, instrument), Body(instrument)
    assert screw_places(mechanism, body) == []  # all of the set are screwed to their keys
    screwed = Mechanism(with_spring_on_body(keys), instrument)
    (place,) = screw_places(screwed, body)
    assert (place.post, place.station_mm, place.bearing_deg) == ("S-A", 64.5, 0.0)
    part = instrument.part("upper joint")
    wall = (part.outside_diameter_at(64.5) - part.bore_diameter_at(64.5)) / 2
    assert place.depth_mm == pytest.approx(min(wall - 2.0, instrument.body.post_depth_mm))
    jigs = plan_jigs(screwed, body, ["A", "GS"])
    (jig,) = [each for each in jigs if "S-A" in [one.post for one in each.posts]]
    assert sum(len(each.posts) for each in jigs) == 5
    solid = jig_solid(instrument, body, jig)
    way = in_space(0.0, 0.0, 1.0)
    foot = in_space(64.5, 0.0, part.outside_diameter_at(64.5) / 2)
    for height in (0.6, 3.0, 6.0, 7.8):
        assert not solid.is_inside(tuple(foot + height * way)), height
        for point in ring_round(foot + height * way, way, 2.5 - 0.06):
            assert not solid.is_inside(tuple(point)), height
    assert all(solid.is_inside(tuple(p)) for p in ring_round(foot + 6.5 * way, way, 2.5 + 0.12))
    # On a body whose hole A lies elsewhere, the screw goes along and stays on the outside.
    holes = [
        hole.model_copy(update={"station_mm": hole.station_mm + 1.0}) if hole.name == "A" else hole
        for hole in part.holes
    ]
    moved = part.model_copy(update={"holes": holes})
    other = instrument.model_copy(
        update={"parts": [moved if p.name == part.name else p for p in instrument.parts]}
    )
    stood = stand_on(with_spring_on_body(keys), other)
    spring = next(each for each in stood.keys.of(Spring) if each.name == "S-A")
    assert spring.first.station_mm == pytest.approx(64.5 + stood.moved_mm["H-A"][0], abs=1e-6)
    assert spring.first.height_mm == pytest.approx(15.0, abs=1e-6)


def test_the_list_says_what_springs_and_stops_ask_to_be_drilled(keys, instrument):
    def words_of(survey):
        mechanism = Mechanism(survey, instrument)
        figures = key_figures(mechanism, Body(instrument))
        return spring_holes(mechanism, instrument, figures, Reader())

    told = words_of(keys)
    points = " ".join(Reader().tell(each) for each in told.points)
    assert "no jig guides" in points
    assert "Keys: RV S4 S3 A GS" in points
    assert "nothing is drilled for them" in points
    assert len(told.tables) == 1
    told = words_of(with_spring_on_body(keys))
    points = " ".join(Reader().tell(each) for each in told.points)
    assert "Keys: RV S4 S3 GS" in points
    assert "a jig guides their holes" in points
    assert [row[:3] for row in told.tables[1].rows] == [["S-A", "upper joint", "64.50"]]
