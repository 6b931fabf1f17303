"""Wrong input: one line with place, cause and remedy, exit code 2, and nothing written."""

from __future__ import annotations

import pytest

READERS = ["tune", "sensitivity", "check", "fit", "solids"]


def command(name: str, file: object, tmp_path) -> list[object]:
    outputs = {
        "fit": ["--output", tmp_path / "new" / "new.toml"],
        "solids": ["--output", tmp_path / "solids"],
    }
    return [name, file, *outputs.get(name, [])]


@pytest.mark.parametrize("name", READERS)
def test_a_missing_file(refused, contents, tmp_path, name):
    line = refused(*command(name, tmp_path / "absent.toml", tmp_path))
    assert "absent.toml: does not exist" in line
    assert contents() == {}


@pytest.mark.parametrize("name", READERS)
def test_a_folder(refused, contents, tmp_path, name):
    assert ": is a folder. Name a file." in refused(*command(name, tmp_path, tmp_path))
    assert contents() == {}


@pytest.mark.parametrize("name", READERS)
def test_broken_toml(refused, contents, chalumeau, tmp_path, name):
    chalumeau.write_text("format = 1\n[instrument\n", encoding="utf-8")
    before = contents()
    assert "chalumeau.toml, line 2" in refused(*command(name, chalumeau, tmp_path))
    assert contents() == before


def test_bytes_that_are_no_text(refused, chalumeau):
    chalumeau.write_bytes(b"\xff\xff\x00\x01")
    assert "text" in refused("tune", chalumeau)


def test_an_unknown_hole_in_the_fingerings(refused, chalumeau):
    table = chalumeau.with_name("fingerings.csv")
    table.write_text("written,register,open_holes\nF4,chalumeau,Q9\n", encoding="utf-8")
    line = refused("tune", chalumeau)
    assert "fingerings.csv, line 2, open_holes" in line
    assert "'Q9'" in line
    assert "Holes are: " in line


def test_a_table_that_the_file_names_but_that_is_gone(refused, chalumeau):
    chalumeau.with_name("fingerings.csv").unlink()
    line = refused("tune", chalumeau)
    # Whoever reads this may never have heard of the table: the file that names it is told.
    assert "chalumeau.toml, [instrument] fingerings, " in line
    assert "does not exist" in line


def test_no_table_at_all(refused, chalumeau):
    text = chalumeau.read_text(encoding="utf-8").replace('fingerings = "fingerings.csv"\n', "")
    chalumeau.write_text(text, encoding="utf-8")
    line = refused("tune", chalumeau)
    assert "no fingering table is named" in line
    assert "--fingerings" in line


def test_a_note_that_is_not_there(refused, chalumeau):
    line = refused("sensitivity", chalumeau, "--note", "Q7")
    assert "there is no note 'Q7'" in line
    assert "F4 G4" in line


@pytest.mark.parametrize("name", ["fit", "check"])
def test_the_survey_of_another_instrument(refused, contents, chalumeau, clarinet, tmp_path, name):
    survey = clarinet.with_name("keywork.csv")
    before = contents()
    line = refused(*command(name, chalumeau, tmp_path), "--keywork", survey)
    assert "keywork.csv" in line
    assert "which the instrument does not have" in line
    assert contents() == before


@pytest.mark.parametrize("name", ["fit", "check"])
def test_fingerings_given_as_the_survey(refused, chalumeau, tmp_path, name):
    table = chalumeau.with_name("fingerings.csv")
    line = refused(*command(name, chalumeau, tmp_path), "--keywork", table)
    assert "fingerings.csv, line " in line
    assert "column" in line


@pytest.mark.parametrize("name", ["fit", "solids"])
def test_an_output_below_a_file(refused, contents, chalumeau, name):
    before = contents()
    line = refused(name, chalumeau, "--output", chalumeau / "deep" / "new.toml")
    assert "is not a folder" in line
    assert contents() == before


@pytest.mark.parametrize("name", ["fit", "solids"])
def test_an_output_that_may_not_be_written(refused, contents, chalumeau, monkeypatch, name):
    # An administrator may write anywhere, so the system's answer is played here.
    monkeypatch.setattr("os.access", lambda path, mode: False)
    before = contents()
    line = refused(name, chalumeau, "--output", chalumeau.parent / "deep" / "new.toml")
    assert "may not be written to" in line
    assert contents() == before


def test_a_name_that_is_too_long(refused, contents, chalumeau):
    before = contents()
    line = refused("fit", chalumeau, "--output", chalumeau.parent / ("x" * 5000) / "new.toml")
    assert "cannot be written" in line
    assert contents() == before


def test_a_message_stays_on_one_line_whatever_the_name(type_in, tmp_path):
    result = type_in("tune", tmp_path / "two\nlines\x1b[31m.toml")
    assert result.exit_code == 2
    assert result.stderr.count("\n") == 1
    assert "\x1b" not in result.stderr
    assert "two\\nlines\\x1b[31m.toml: does not exist" in result.stderr


def test_what_is_not_foreseen_is_not_swallowed(type_in, chalumeau, monkeypatch):
    def broken(*_: object, **__: object) -> None:
        raise ZeroDivisionError("a fault of the program")

    monkeypatch.setattr("borewright.acoustics.side_holes.hole_level", broken)
    with pytest.raises(ZeroDivisionError):
        type_in("tune", chalumeau)
