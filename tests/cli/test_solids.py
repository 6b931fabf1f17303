"""``borewright solids``: the files it names are there and closed."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

import borewright
from borewright.model import KeyworkSurvey, read_survey
from borewright.solids import read_mesh


@pytest.mark.slow
def test_every_part_in_three_formats(type_in, chalumeau, tmp_path):
    folder = tmp_path / "made" / "solids"
    result = type_in("solids", chalumeau, "--output", folder, "--json")
    assert result.exit_code == 0, result.output
    answer = json.loads(result.stdout)
    parts = answer["parts"]
    assert [part["part"] for part in parts] == ["head", "body"]
    named = [answer["assembly"]]
    for part in parts:
        assert {"step", "stl", "3mf", "volume_mm3", "watertight", "bounding_box_mm"} <= set(part)
        assert part["watertight"] is True
        named += [part["step"], part["stl"], part["3mf"]]
        mesh = read_mesh(Path(part["stl"]))
        # The mesh's chords stay within 0.004 mm of the surface: far below 0.1 % of the volume.
        assert abs(mesh.volume) == pytest.approx(part["volume_mm3"], rel=1e-3)
    assert sorted(Path(name) for name in named) == sorted(folder.iterdir())
    text = type_in("solids", chalumeau, "--output", folder)
    assert text.exit_code == 0
    assert "  body  " in text.stdout
    assert f"assembly: {answer['assembly']}" in text.stdout
    assert "NOT CLOSED" not in text.stdout


@pytest.mark.slow
def test_posts_of_the_survey_get_their_seats(clarinet, tmp_path):
    bare = borewright.export_solids(clarinet, tmp_path / "bare", KeyworkSurvey(rows=[]))
    seated = borewright.export_solids(clarinet, tmp_path / "seated")
    survey = read_survey(clarinet.with_name("keywork.csv"))
    with_posts = {row.part for row in survey.posts()}
    assert with_posts
    for one, other in zip(bare.parts, seated.parts, strict=True):
        # A hole takes material away; where no post stands, the body is the same.
        assert (other.volume_mm3 < one.volume_mm3 - 1) == (one.part in with_posts)


def test_the_survey_of_another_instrument(refused, contents, chalumeau, clarinet, tmp_path):
    before = contents()
    survey = clarinet.with_name("keywork.csv")
    words = ("--output", tmp_path / "solids", "--keywork", survey)
    assert "which the instrument does not have" in refused("solids", chalumeau, *words)
    assert contents() == before
