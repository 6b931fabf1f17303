"""``borewright blowing`` and ``borewright sound`` as a user types them."""

from __future__ import annotations

import json

import pytest


def test_a_note_is_blown(type_in, clarinet, tmp_path):
    words = ("blowing", clarinet, "--note", "C4", "--output", tmp_path / "out")
    text = type_in(*words)
    assert text.exit_code == 0
    assert "onset" in text.stdout
    assert "C4" in text.stdout
    answer = json.loads(type_in(*words[:4], "--json").stdout)
    [note] = answer["notes"]
    assert note["speaking"] == "speaks"
    assert 1 / 3 < note["thresholds"][0]["pressure"] < 0.4
    assert {path.name for path in (tmp_path / "out").iterdir()} == {"blowing.svg", "blowing.png"}


def test_two_designs_are_rendered(type_in, clarinet, tmp_path):
    other = clarinet.with_name("other.toml")
    other.write_text(clarinet.read_text(encoding="utf-8"), encoding="utf-8")
    folder = tmp_path / "out"
    result = type_in("sound", clarinet, "--notes", "C4", "--against", other, "--output", folder,
                     "--json")  # fmt: skip
    assert result.exit_code == 0
    answer = json.loads(result.stdout)
    first, second = answer["files"]
    assert abs(first["loudness_lufs"] - second["loudness_lufs"]) < 0.01
    assert first["notes"] == second["notes"]  # the same design twice
    names = {path.name for path in folder.iterdir()}
    assert names == {"A-clarinet.wav", "B-other.wav", "listening-sheet.html", "listening-sheet.pdf"}
    sheet = (folder / "listening-sheet.html").read_text(encoding="utf-8")
    assert "turn the volume down" in sheet
    assert "cannot tell" in sheet


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["--notes", "E3", "--scale"], "told twice"),
        ([], "not told"),
        (["--notes", "Q7"], "no fingering for 'Q7'"),
        (["--notes", "E3", "--pressure", "2"], "pressure is 2"),
        (["--notes", "E3", "--seconds", "99"], "99 s"),
        (["--midi", "none.mid"], "is not a file"),
    ],
)
def test_what_cannot_be_rendered(refused, contents, clarinet, tmp_path, words, told):
    before = contents()
    assert told in refused("sound", clarinet, "--output", tmp_path / "out", *words)
    assert contents() == before


def test_a_note_that_is_not_there(refused, clarinet):
    assert "no note 'Q7'" in refused("blowing", clarinet, "--note", "Q7")
