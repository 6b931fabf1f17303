"""``character`` and ``differences`` on the command line: figures, one note, pictures, refusals."""

from __future__ import annotations

import json
import xml.etree.ElementTree as ElementTree

import pytest

import borewright
from borewright.model import load, read_fingerings, save_as


def figures(result) -> dict:
    assert result.exit_code == 0, result.output
    assert result.stderr == ""
    return json.loads(result.stdout)


def test_json_is_what_the_python_door_returns(type_in, chalumeau):
    data = figures(type_in("character", chalumeau, "--json"))
    table = borewright.character(chalumeau)
    assert (data.pop("pictures"), data.pop("curves")) == ([], [])
    assert data == json.loads(table.model_dump_json(by_alias=True))
    written = [
        row.name for row in read_fingerings(chalumeau.with_name("fingerings.csv")).fingerings
    ]
    assert [note["fingering"] for note in data["notes"]] == written
    assert data["balance_error"] < 0.01


def test_text_shows_every_note_and_what_words_stand_on(type_in, chalumeau):
    text = type_in("character", chalumeau).stdout
    table = borewright.character(chalumeau)
    for note in table.notes:
        [line] = [line for line in text.splitlines() if line.startswith(f"  {note.fingering} ")]
        assert f"{note.peak().height_db:.1f}" in line
        assert "; ".join(map(str, note.words)) in line
    assert "common practice" in text
    assert "evenness" in text
    assert str(table.climate) in text


def test_one_note_with_its_curves_and_picture(type_in, chalumeau, tmp_path):
    folder = tmp_path / "pictures"
    data = figures(type_in("character", chalumeau, "--note", "G4", "--output", folder, "--json"))
    [note], [curve] = data["notes"], data["curves"]
    assert note["written"] == curve["fingering"] == "G4"
    at = max(range(len(curve["frequency_hz"])), key=lambda i: curve["impedance_db"][i])
    highest = max(note["peaks"], key=lambda peak: peak["height"])
    step = curve["frequency_hz"][1] - curve["frequency_hz"][0]
    assert abs(curve["frequency_hz"][at] - highest["frequency_hz"]) <= step
    names = sorted(path.name for path in folder.iterdir())
    assert names == ["character-G4.png", "character-G4.svg"]
    assert sorted(data["pictures"]) == [str(folder / name) for name in names]
    ElementTree.parse(folder / "character-G4.svg")
    text = type_in("character", chalumeau, "--note", "G4").stdout
    assert "impedance peaks" in text
    assert "sounds" in text


def test_pictures_of_the_whole_table(type_in, chalumeau, tmp_path):
    folder = tmp_path / "new" / "pictures"
    text = type_in("character", chalumeau, "--output", folder).stdout
    for name in ("character.svg", "character.png", "radiated-share.svg", "radiated-share.png"):
        assert (folder / name).stat().st_size > 5000
        assert f"picture: {folder / name}" in text


def test_two_instruments_side_by_side(type_in, chalumeau, tmp_path):
    instrument = load(chalumeau)
    parts = [
        part.model_copy(
            update={
                "holes": [
                    hole.model_copy(update={"diameter_mm": hole.diameter_mm + 0.3})
                    for hole in part.holes
                ]
            }
        )
        for part in instrument.parts
    ]
    other = chalumeau.with_name("other.toml")
    save_as(instrument.model_copy(update={"parts": parts}), other)
    folder = tmp_path / "pictures"
    data = figures(type_in("differences", chalumeau, other, "--output", folder, "--json"))
    expected = borewright.differences(chalumeau, other)
    assert data["sentences"] == [str(each) for each in expected.sentences]
    assert [note["size"] for note in data["notes"]] == [note.size for note in expected.notes]
    assert max(note["differences"]["pitch"] for note in data["notes"]) > 1
    # Both files bear one name; the answer tells them apart.
    assert data["first"].endswith(f"({chalumeau.name})")
    assert data["second"].endswith("(other.toml)")
    assert sorted(path.name for path in folder.iterdir()) == [
        "differences.png", "differences.svg",
    ]  # fmt: skip
    text = type_in("differences", chalumeau, other).stdout
    for sentence in expected.sentences:
        assert str(sentence) in text


def test_an_instrument_against_itself(type_in, chalumeau):
    text = type_in("differences", chalumeau, chalumeau).stdout
    assert "No standard note differs by what a player may plausibly notice." in text


def test_a_note_that_is_not_there_is_refused(refused, chalumeau):
    line = refused("character", chalumeau, "--note", "Z9")
    assert "there is no note 'Z9'" in line
    assert "Notes are: " in line


@pytest.mark.parametrize("words", [["character"], ["differences", "SAME"]])
def test_a_folder_that_cannot_be_written_is_refused(refused, chalumeau, words):
    blocked = chalumeau.with_name("file")
    blocked.write_text("x", encoding="utf-8")
    files = [chalumeau if word == "SAME" else word for word in words[1:]]
    line = refused(words[0], chalumeau, *files, "--output", blocked / "inside")
    assert "cannot be written" in line


def test_a_file_that_is_not_there_is_refused(refused, chalumeau):
    refused("differences", chalumeau, chalumeau.with_name("nothing.toml"))
