"""Photographs through a pinhole of their own, and scans of keys whose figures are known."""

from __future__ import annotations

import numpy as np
import pytest
import trimesh
from scipy.spatial.transform import Rotation

from borewright.errors import KeyworkError
from borewright.keywork import Mechanism
from borewright.keywork.clicked import Target, numbers_from_scan
from borewright.keywork.facets import facets
from borewright.keywork.numbers import Number, key_frame, numbers_of
from borewright.keywork.photographs import Photograph, circle_of
from borewright.keywork.pieces import pieces_of
from borewright.keywork.scans import scanned_key, scanned_mesh, scanned_points, thinned
from borewright.model.keys import Touch


def shown(point, distance, focal_px=4000.0, middle=(2000.0, 1500.0)):
    """A pinhole over the scale's plane z = 0 at a distance, rows downwards."""
    x, y, z = point
    return middle[0] + focal_px * x / (distance - z), middle[1] - focal_px * y / (distance - z)


@pytest.mark.parametrize("distance", [500.0, 1000.0, 1500.0, 2000.0])
def test_parallax_is_taken_back(distance):
    photograph = Photograph(
        scale_px=(shown((-50, -20, 0), distance), shown((50, -20, 0), distance)),
        scale_mm=100.0,
        middle_px=(2000.0, 1500.0),
        distance_mm=distance,
    )
    point = (90.0, 12.0, 8.0)
    pixel = shown(point, distance)
    assert photograph.place_mm(pixel, 8.0) == pytest.approx((90.0, 12.0), abs=1e-9)
    # Left alone it shows as far off as the handbook's table says: 1.46 at 500, 0.36 at 2000.
    off = photograph.place_mm(pixel)[0] - 90.0
    assert off == pytest.approx({500: 1.46, 1000: 0.73, 1500: 0.48, 2000: 0.36}[distance], abs=6e-3)
    assert photograph.uncertainty_mm(pixel, 8.0) < photograph.uncertainty_mm(pixel, 8.0, 4.0)


def test_clicks_scatter_as_the_uncertainty_says():
    random = np.random.default_rng(11)
    ends, point = ((-50, 0, 0), (50, 0, 0)), (60.0, 5.0, 6.0)
    found = []
    for _ in range(400):
        scale = tuple(tuple(np.add(shown(e, 1000.0), random.normal(0, 1.06, 2))) for e in ends)
        photograph = Photograph(scale, 100.0, (2000.0, 1500.0), 1000.0)
        pixel = tuple(np.add(shown(point, 1000.0), random.normal(0, 1.06, 2)))
        found.append(photograph.place_mm(pixel, 6.0 + random.normal(0, 0.5)))
    scatter = float(np.linalg.norm(np.std(found, axis=0)))
    assert scatter == pytest.approx(photograph.uncertainty_mm(pixel, 6.0), rel=0.25)


def test_a_rim_is_a_circle_and_nonsense_is_refused():
    turn = np.radians([10, 130, 200, 330])
    rim = np.column_stack([3 + 6.5 * np.cos(turn), -2 + 6.5 * np.sin(turn)])
    assert circle_of(rim) == pytest.approx((3.0, -2.0, 6.5))
    with pytest.raises(KeyworkError, match="three points"):
        circle_of([[0, 0], [1, 1], [2, 2]])
    with pytest.raises(KeyworkError, match="one and the same"):
        Photograph(((1, 1), (1, 1)), 100, (0, 0), 1000).place_mm((5, 5))
    with pytest.raises(KeyworkError, match="behind the lens"):
        Photograph(((0, 0), (100, 0)), 100, (0, 0), 500).place_mm((5, 5), 600)


def scan_of(mechanism, key, random, noise=0.02):
    """A scan of one key, lying any way, and the same motion for picked points."""
    a, b = mechanism.points[mechanism.turning[key].hinge.name]
    length, radius = float(np.linalg.norm(b - a)), mechanism.turning[key].hinge.tube_mm / 2
    axis = (b - a) / length
    # A scanner sees the outside alone: of the tube its skin, of what is soldered what stands out.
    side = np.cross(axis, [0.4, 0.5, 0.76])
    side /= np.linalg.norm(side)
    turns = np.linspace(0, 2 * np.pi, 48, endpoint=False)
    places = np.linspace(0, length, int(length / 0.5) + 1)
    turn, along = (each.ravel()[:, None] for each in np.meshgrid(turns, places))
    round_ = np.cos(turn) * side + np.sin(turn) * np.cross(axis, side)
    parts = [a + along * axis + radius * round_]
    for piece in pieces_of(mechanism, key):
        if not piece.turns or piece.name.startswith("hinge"):
            continue
        triangles = facets(piece)
        made = trimesh.Trimesh(
            triangles.reshape(-1, 3), np.arange(triangles.size // 3).reshape(-1, 3)
        )
        vertices, _ = trimesh.remesh.subdivide_to_size(made.vertices, made.faces, 0.8)
        skin = np.unique(vertices.round(4), axis=0)
        beside = np.linalg.norm(np.cross(skin - a, axis), axis=1)
        within = (beside < radius) & ((skin - a) @ axis > 0) & ((skin - a) @ axis < length)
        parts.append(skin[~within])
    points = np.concatenate(parts)
    turn = Rotation.random(random_state=random.integers(2**31)).as_matrix()
    shift = random.normal(0, 100, 3)

    def lay(some):
        return np.asarray(some) @ turn.T + shift

    return lay(points) + random.normal(0, noise, points.shape), lay


@pytest.mark.parametrize("key", ["TP", "EB", "A"])
def test_a_scan_gives_back_the_key(keys, instrument, key):
    mechanism = Mechanism(keys, instrument)
    random = np.random.default_rng(len(key))
    points, lay = scan_of(mechanism, key, random)
    tube = mechanism.points[mechanism.turning[key].hinge.name]
    cup = next(e for e in keys.of_key(key) if e.kind.value == "cup")
    face, top = mechanism.points[cup.name]
    out = (top - face) / np.linalg.norm(top - face)
    side = np.cross(out, [1.0, 0.1, 0.2])
    side /= np.linalg.norm(side)
    rim = [
        face + cup.pad_mm / 2 * (np.cos(t) * side + np.sin(t) * np.cross(out, side))
        for t in (0.2, 1.9, 3.1, 4.8)
    ]
    picked = lay(tube) + random.normal(0, 0.3, (2, 3))
    found = scanned_key(points, tuple(picked), lay(rim) + random.normal(0, 0.05, (4, 3)), lay(top))
    axis = (tube[1] - tube[0]) / np.linalg.norm(tube[1] - tube[0])
    arm = face - tube[0] - ((face - tube[0]) @ axis) * axis
    assert found.length_mm == pytest.approx(np.linalg.norm(tube[1] - tube[0]), abs=0.15)
    assert found.tube_mm == pytest.approx(mechanism.turning[key].hinge.tube_mm, abs=0.04)
    assert found.station_mm == pytest.approx(float((face - tube[0]) @ axis), abs=0.15)
    assert found.h_mm == pytest.approx(-float(arm @ out), abs=0.08)
    assert found.m_mm == pytest.approx(np.linalg.norm(arm + (-(arm @ out)) * out), abs=0.1)
    assert abs(found.tilt_deg) < 0.5
    assert not found.bent
    assert found.cup_residual_mm < 0.04
    if key == "TP":  # as the handbook has it
        assert found.m_mm == pytest.approx(17.25, abs=0.1)
        assert found.h_mm == pytest.approx(-7.03, abs=0.1)


@pytest.mark.parametrize("key", ["TP", "FC", "CG", "SB"])
def test_clicks_on_the_skin_near_the_ends_do_as_well(keys, instrument, key):
    mechanism = Mechanism(keys, instrument)
    points, lay = scan_of(mechanism, key, np.random.default_rng(5))
    frame, hinge = key_frame(mechanism, key), mechanism.turning[key].hinge
    cup = next(e for e in keys.of_key(key) if e.kind.value == "cup")
    face, top = mechanism.points[cup.name]
    first, second = mechanism.points[hinge.name]
    skin = hinge.tube_mm / 2 * (0.8 * frame.over + 0.6 * frame.aside)
    picked = [first + 1.0 * frame.along + skin, second - 1.2 * frame.along + skin]
    apart = float(np.linalg.norm(picked[1] - picked[0]))
    normal = (top - face) / np.linalg.norm(top - face)
    side = np.cross(normal, frame.along)
    rim = [
        face + (cup.pad_mm / 2 - 0.1) * (np.cos(t) * side + np.sin(t) * np.cross(normal, side))
        for t in (0.3, 2.2, 4.3)
    ]
    touch = next((e for e in keys.of_key(key) if isinstance(e, Touch)), None)
    hands = {Target.TOUCH: lay(mechanism.points[touch.name].mean(axis=0))} if touch else {}
    found = scanned_key(
        points,
        tuple(lay(picked)),
        lay(rim),
        lay(top),
        tube_reach_mm=4.0,
        end_reach_mm=min(4.0, apart / 3),
    )
    if key == "SB":  # levers hide most of its 7 mm: it is told that the tube does not fit
        assert found.bent
        return
    truth = numbers_of(mechanism, key)
    told = numbers_from_scan(found, hands)
    assert told.keys() >= {Number.LENGTH, Number.ARM, Number.HEIGHT, Number.PAD}
    for number, measured in told.items():
        if measured.uncertainty is not None:
            off = abs(measured.value - truth[number].value)
            assert off < 3 * measured.uncertainty, (number, measured, truth[number])
            if number.element is not Touch:
                assert off < 0.3, (number, measured, truth[number])


def test_a_bent_tube_is_told(keys, instrument):
    mechanism = Mechanism(keys, instrument)
    points, lay = scan_of(mechanism, "EB", np.random.default_rng(1))
    tube, (face, top) = lay(mechanism.points["H-EB"]), mechanism.points["C-EB"]
    axis = (tube[1] - tube[0]) / np.linalg.norm(tube[1] - tube[0])
    # A sag of 0.4 mm in the middle of its 114.
    share = np.clip((points - tube[0]) @ axis / np.linalg.norm(tube[1] - tube[0]), 0, 1)
    aside = np.cross(axis, [0.3, 0.9, 0.3])
    sagged = points + 0.4 * np.sin(np.pi * share)[:, None] * aside / np.linalg.norm(aside)
    out = (top - face) / np.linalg.norm(top - face)
    side = np.cross(out, [1.0, 0.1, 0.2])
    side /= np.linalg.norm(side)
    rim = lay([face + 7.5 * s for s in (side, np.cross(out, side), -side)])
    assert scanned_key(sagged, tuple(tube), rim, lay(top)).bent


def test_a_scan_in_other_units_is_scaled_and_rubbish_is_refused(tmp_path):
    path = tmp_path / "tube.stl"
    trimesh.creation.cylinder(0.0017, 0.030).export(path)
    points = scanned_points(path, known_mm=30.0, shown=0.030)
    assert np.ptp(points[:, 2]) == pytest.approx(30.0, rel=1e-5)
    ends = (np.array([0.0, 0.0, -15.0]), np.array([0.0, 0.0, 15.0]))
    rim = np.array([[20.0, 0, 5], [25, 5, 5], [30, 0, 5]])
    with pytest.raises(KeyworkError, match="points of the scan lie on the"):
        scanned_key(points, ends, rim, np.array([25.0, 0, 8]))
    broken = tmp_path / "broken.stl"
    broken.write_bytes(b"solid nothing")
    with pytest.raises(KeyworkError):
        scanned_key(scanned_points(broken), ends, rim, rim[0])


def test_a_scan_is_thinned_for_the_page_and_keeps_its_shape(tmp_path):
    path = tmp_path / "ball.ply"
    trimesh.creation.icosphere(subdivisions=5, radius=8.0).export(path)
    points, faces = scanned_mesh(path)
    few, fewer = thinned(points, faces, 5000)
    assert len(fewer) <= 5000 < len(faces)
    thin = trimesh.Trimesh(few, fewer)
    assert thin.volume == pytest.approx(4 / 3 * np.pi * 8.0**3, rel=0.05)
    path.write_text("ply", encoding="utf-8")
    with pytest.raises(KeyworkError, match="cannot be read"):
        scanned_mesh(path)
