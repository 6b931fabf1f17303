"""``borewright climates`` and ``borewright tune --error-bars`` print what was found."""

from __future__ import annotations

import json

import pytest

from borewright.acoustics import climate_tables, error_bars
from borewright.acoustics.model_levels import LEVEL_CENTS
from borewright.acoustics.side_holes import SideHoles
from borewright.model import load, read_fingerings


def figures(result) -> dict:
    assert result.exit_code == 0, result.output
    assert result.stderr == ""
    return json.loads(result.stdout)


@pytest.fixture
def both(chalumeau):
    return load(chalumeau), read_fingerings(chalumeau.with_name("fingerings.csv"))


def test_rooms_warm_up_and_effects(type_in, chalumeau, both):
    data = figures(type_in("climates", chalumeau, "--json"))
    expected = climate_tables(*both)
    assert list(data["rooms"]) == list(expected) == ["cold start", "warm", "hot room"]
    for name, table in expected.items():
        found = [note["cents"] for note in data["rooms"][name]["notes"]]
        assert found == pytest.approx([note.cents for note in table.notes], abs=1e-9)
    pitches = [point["mean_cents"]["chalumeau"] for point in data["warm_up"]]
    assert pitches == sorted(pitches)
    assert {effect["parameter"] for effect in data["effects"]} >= {"room temperature"}
    text = type_in("climates", chalumeau).stdout
    first = data["rooms"]["cold start"]["notes"][0]["cents"]
    assert f"{first:+.1f}" in text
    assert "warm-up: mean cents after minutes of playing" in text
    assert "model: side holes in 3-D" in text


def test_error_bars_with_their_split(type_in, chalumeau, both):
    data = figures(type_in("tune", chalumeau, "--error-bars", "--json"))
    expected = error_bars(*both)
    found = data["error_bars"]
    # Whoever held this body to whole resonators before is told so in the bars.
    assert found["model_level"] == str(expected.model_level)
    assert found["model_level"].startswith(data["model_level"])
    assert data["model_level"] == "side holes in 3-D"
    assert len(found["bars"]) == len(data["notes"])
    parts = ("dimensions_cents", "climate_cents", "player_cents", "model_cents")
    for bar, own in zip(found["bars"], expected.bars, strict=True):
        assert bar["total_cents"] == pytest.approx(own.total_cents)
        squares = sum(bar[part] ** 2 for part in parts)
        assert bar["total_cents"] ** 2 == pytest.approx(squares)
    # A known departure is told beside, and only where there is one.
    plain = type_in("tune", chalumeau, "--closed-forms", "--error-bars").stdout
    assert "the bar stands round" in plain
    assert " known" in plain.split("error bars:")[1]
    line = next(
        line
        for line in type_in("tune", chalumeau, "--error-bars")
        .stdout.split("error bars:")[1]
        .splitlines()
        if line.strip().startswith(expected.bars[0].fingering)
    )
    assert f"{expected.bars[0].total_cents:.1f}" in line
    assert "error_bars" not in figures(type_in("tune", chalumeau, "--json"))


def test_without_the_solver_the_answer_says_what_falls_back(
    type_in, chalumeau, tmp_path, monkeypatch
):
    """The closed forms are not put in their place without a word."""
    monkeypatch.setenv("BOREWRIGHT_CACHE", str(tmp_path / "cache"))
    import importlib.util

    find_spec = importlib.util.find_spec
    monkeypatch.setattr(
        importlib.util,
        "find_spec",
        lambda name, *a: None if name in ("ngsolve", "netgen") else find_spec(name, *a),
    )
    result = type_in("tune", chalumeau)
    assert result.exit_code == 0
    assert "closed form of the bottom end, since NGSolve is not installed" in result.stdout


def test_closed_forms_for_study(type_in, chalumeau):
    data = figures(type_in("tune", chalumeau, "--closed-forms", "--json"))
    assert data["model_level"] == "closed forms"


def test_error_bars_with_solved_holes_solve_nothing_that_the_surrogate_covers(
    type_in, chalumeau, tmp_path, monkeypatch
):
    from borewright.acoustics import solved

    monkeypatch.setenv("BOREWRIGHT_CACHE", str(tmp_path / "cache"))
    real, asked = solved.solve_holes, []

    def coarse(shapes, progress=None):
        asked.append(len(shapes))
        return real(shapes, progress, mesh=solved.MeshDetail(order=2, edge_layers=0), processes=1)

    monkeypatch.setattr(solved, "solve_holes", coarse)
    data = figures(type_in("tune", chalumeau, "--error-bars", "--json"))
    assert asked == []
    assert data["model_level"] == "side holes in 3-D"
    assert data["error_bars"]["model_level"].startswith(data["model_level"])
    bars = data["error_bars"]["bars"]
    assert {bar["model_cents"] for bar in bars} == {LEVEL_CENTS[SideHoles.SOLVED]}
