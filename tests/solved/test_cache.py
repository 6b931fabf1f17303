"""A hole is solved once; damaged entries are solved again; nothing irrelevant counts."""

from __future__ import annotations

import json
import os
from dataclasses import replace

import pytest

from borewright.acoustics.solved import (
    HoleCover,
    HoleShape,
    MeshDetail,
    cached_hole,
    hole_cache,
    known_hole,
    solve_hole,
)

PLAIN = HoleShape(7.5, 4.0, 8.0)
PADDED = replace(PLAIN, cover=HoleCover.PAD, pad_radius_mm=6.0, lift_mm=2.0)
COARSE = MeshDetail(order=2)


@pytest.fixture(autouse=True)
def folder(tmp_path, monkeypatch):
    monkeypatch.setenv("BOREWRIGHT_CACHE", str(tmp_path))
    return tmp_path / "holes"


def forbid_solving(monkeypatch):
    def solve(*_, **__):
        raise AssertionError("solved again")

    monkeypatch.setattr(hole_cache, "solve_hole", solve)


def test_the_second_time_nothing_is_solved(folder, monkeypatch):
    first = cached_hole(PLAIN, mesh=COARSE)
    assert [path.suffix for path in folder.iterdir()] == [".json"]
    forbid_solving(monkeypatch)
    assert cached_hole(PLAIN, mesh=COARSE) == first
    assert known_hole(PLAIN, mesh=COARSE) == first


def test_other_questions_have_other_answers():
    cached_hole(PLAIN, mesh=COARSE)
    assert known_hole(PLAIN, "closed", mesh=COARSE) is None
    assert known_hole(PLAIN) is None
    assert known_hole(replace(PLAIN, height_mm=8.001), mesh=COARSE) is None


def test_sizes_count_to_a_ten_thousandth():
    first = cached_hole(replace(PLAIN, height_mm=8.00001), mesh=COARSE)
    assert known_hole(PLAIN, mesh=COARSE) == first
    exact = solve_hole(PLAIN, mesh=COARSE)
    assert first.shunt_length_mm == pytest.approx(exact.shunt_length_mm, rel=1e-9)


def test_another_version_of_the_solver_starts_afresh(monkeypatch):
    cached_hole(PLAIN, mesh=COARSE)
    monkeypatch.setattr(hole_cache, "SOLVER_VERSION", hole_cache.SOLVER_VERSION + 1)
    assert known_hole(PLAIN, mesh=COARSE) is None


@pytest.mark.parametrize(
    ("state", "shape", "changes"),
    [
        ("closed", PADDED, {"lift_mm": 3.0, "pad_radius_mm": 6.5}),
        ("closed", PADDED, {"cover": HoleCover.NONE}),
        ("closed", PADDED, {"body_radius_mm": 15.0, "chimney_mm": 0.5, "chimney_wall_mm": 1.2}),
        ("open", PLAIN, {"cover": HoleCover.FINGER, "flesh_mm": 1.0}),
        ("open", PLAIN, {"lift_mm": 2.0}),
        ("open", PLAIN, {"bore_slope": 0.001}),
    ],
)
def test_what_does_not_matter_is_left_out(state, shape, changes):
    assert hole_cache.cache_path(replace(shape, **changes), state) == hole_cache.cache_path(
        shape, state
    )


@pytest.mark.parametrize(
    ("state", "shape", "changes"),
    [
        ("open", PADDED, {"lift_mm": 3.0}),
        ("open", PLAIN, {"body_radius_mm": 15.5}),
        ("closed", replace(PLAIN, cover=HoleCover.FINGER), {"flesh_mm": 0.6}),
        (
            "closed",
            replace(PLAIN, cover=HoleCover.FINGER, body_radius_mm=15.5),
            {"body_radius_mm": 16.0},
        ),
    ],
)
def test_what_matters_is_kept(state, shape, changes):
    assert hole_cache.cache_path(replace(shape, **changes), state) != hole_cache.cache_path(
        shape, state
    )


def test_the_essential_closed_shape_solves_alike():
    """What the cache leaves out changes no length of a closed hole."""
    full = HoleShape(7.3, 2.5, 6.7, body_radius_mm=14.8, chimney_mm=-0.8, chimney_wall_mm=1.2)
    full = replace(full, counterbore_radius_mm=5.25)
    bare = hole_cache.essential_shape(full, "closed")
    assert bare.body_radius_mm is None
    one, other = solve_hole(full, "closed", mesh=COARSE), solve_hole(bare, "closed", mesh=COARSE)
    assert one.series_length_mm == pytest.approx(other.series_length_mm, rel=1e-6)
    assert one.volume_mm3 == pytest.approx(other.volume_mm3, rel=1e-9)


def damaged(text: str) -> list[str]:
    entry = json.loads(text)
    other = json.loads(text)
    other["answer"]["series_length_mm"] = -0.5  # plausible, but not what was written
    lacking = json.loads(text)
    del lacking["answer"]["volume_mm3"]
    asked = json.loads(text)
    asked["question"]["state"] = "closed"
    return [
        "",
        text[: len(text) // 2],
        "[]",
        "null",
        json.dumps({"answer": entry["answer"]}),
        json.dumps(other),
        json.dumps(lacking),
        json.dumps(asked),
        text.replace("{", "\x00"),
    ]


def test_damaged_entries_are_solved_again(folder):
    first = cached_hole(PLAIN, mesh=COARSE)
    (path,) = folder.iterdir()
    sound = path.read_text(encoding="utf-8")
    for text in damaged(sound):
        path.write_text(text, encoding="utf-8")
        assert known_hole(PLAIN, mesh=COARSE) is None, text[:60]
    path.write_bytes(b"\xff\xfe\x00")
    again = cached_hole(PLAIN, mesh=COARSE)
    assert again.shunt_length_mm == pytest.approx(first.shunt_length_mm, rel=1e-9)
    assert known_hole(PLAIN, mesh=COARSE) == again


def test_a_folder_in_the_way_costs_only_time(tmp_path, monkeypatch):
    occupied = tmp_path / "file"
    occupied.write_text("not a folder", encoding="utf-8")
    monkeypatch.setenv("BOREWRIGHT_CACHE", str(occupied))
    assert cached_hole(PLAIN, mesh=COARSE).volume_mm3 > 400
    assert os.listdir(tmp_path) == ["file"]
