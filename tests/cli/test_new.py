"""``borewright new``: examples to start from; nothing of the owner's is ever replaced."""

from __future__ import annotations

from pathlib import Path

import pytest

import borewright
from borewright.model import load, read_survey
from borewright.tasks.examples import Example


@pytest.mark.parametrize("example", list(Example))
def test_an_example_is_copied_whole(type_in, tmp_path, example):
    folder = tmp_path / "deep" / "mine"
    result = type_in("new", folder, "--example", example.value)
    assert result.exit_code == 0
    *listed, following = result.stdout.splitlines()
    assert sorted(Path(line) for line in listed) == sorted(folder.iterdir())
    instrument = load(listed[0])
    assert instrument.invented
    assert following == f"Next: borewright tune {listed[0]}"
    assert borewright.tuning(borewright.load(listed[0])).summary.worst_note
    if instrument.keywork:
        read_survey(folder / instrument.keywork).check_against(instrument)


def test_the_clarinet_is_the_one_to_start_from(type_in, tmp_path):
    type_in("new", tmp_path / "mine")
    assert (tmp_path / "mine" / "clarinet.toml").is_file()


def test_one_file_in_the_way_and_nothing_is_copied(refused, contents, tmp_path):
    (tmp_path / "keywork.csv").write_text("mine", encoding="utf-8")
    before = contents()
    assert "keywork.csv: is there already" in refused("new", tmp_path)
    assert contents() == before


def test_other_files_may_be_there(type_in, tmp_path):
    (tmp_path / "notes.txt").write_text("mine", encoding="utf-8")
    assert type_in("new", tmp_path, "--example", "chalumeau").exit_code == 0
    assert (tmp_path / "notes.txt").read_text(encoding="utf-8") == "mine"


def test_a_file_is_no_folder(refused, contents, tmp_path):
    (tmp_path / "mine").write_text("mine", encoding="utf-8")
    before = contents()
    assert "is not a folder" in refused("new", tmp_path / "mine")
    assert contents() == before
