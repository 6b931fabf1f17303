"""``borewright demo``: the whole way, in a folder of its own."""

from __future__ import annotations

from pathlib import Path

import pytest

from borewright.errors import ModelError
from borewright.model import load
from borewright.tasks.making import make_solids
from borewright.tasks.own_folder import MARK, OwnFolder
from borewright.tasks.running import meanwhile


def write(folder: Path, name: str, text: str) -> Path:
    (folder / name).parent.mkdir(parents=True, exist_ok=True)
    (folder / name).write_text(text, encoding="utf-8")
    return folder / name


@pytest.mark.parametrize("former", [False, True])
def test_files_of_others_are_left_alone(refused, contents, tmp_path, former):
    if former:
        own = OwnFolder(tmp_path)
        own.add([write(tmp_path, "clarinet.toml", "made here")])
    write(tmp_path, "clarinet/notes.txt", "mine")
    before = contents()
    line = refused("demo", tmp_path)
    assert "holds files that the demo did not make (clarinet/notes.txt)" in line
    assert contents() == before


def test_what_was_changed_since_is_the_owners(tmp_path):
    own = OwnFolder(tmp_path / "demo")
    made = own.add([write(tmp_path / "demo", "clarinet.toml", "made here")])[0]
    made.write_text("made here, then changed by hand", encoding="utf-8")
    with pytest.raises(ModelError, match=r"clarinet\.toml"):
        OwnFolder(tmp_path / "demo")
    assert made.read_text(encoding="utf-8").endswith("by hand")


def test_files_of_a_former_run_make_room(tmp_path):
    own = OwnFolder(tmp_path / "demo")
    own.add([write(tmp_path / "demo", "solids/bell.stl", "made here")])
    OwnFolder(tmp_path / "demo")
    left = [path.name for path in (tmp_path / "demo").rglob("*") if path.is_file()]
    assert left == [MARK]


@pytest.mark.parametrize("text", ["", "[]", '{"notes.txt": 1}', "no list"])
def test_a_list_that_says_nothing_protects_everything(tmp_path, text):
    write(tmp_path, MARK, text)
    write(tmp_path, "notes.txt", "mine")
    with pytest.raises(ModelError, match=r"notes\.txt"):
        OwnFolder(tmp_path)
    assert (tmp_path / "notes.txt").read_text(encoding="utf-8") == "mine"


def test_a_link_in_the_folder_is_not_followed(tmp_path):
    outside = write(tmp_path, "outside/notes.txt", "mine")
    (tmp_path / "demo").mkdir()
    (tmp_path / "demo" / "link").symlink_to(outside.parent)
    with pytest.raises(ModelError, match="link"):
        OwnFolder(tmp_path / "demo")
    assert outside.read_text(encoding="utf-8") == "mine"


def test_solids_that_cannot_be_made_are_told_in_their_own_words(tmp_path):
    absent = tmp_path / "absent.toml"
    with (
        pytest.raises(ModelError, match=r"absent\.toml: does not exist"),
        meanwhile(make_solids, absent, tmp_path / "solids") as made,
    ):
        made()
    assert not (tmp_path / "solids").exists()


@pytest.mark.slow
def test_the_whole_way_twice(type_in, tmp_path):
    folder = tmp_path / "demo"
    for _ in range(2):  # the second time over the files of the first
        result = type_in("demo", folder)
        assert result.exit_code == 0, result.output
        lines = result.stdout.splitlines()
        listed = [Path(line.strip()) for line in lines[lines.index("files:") + 1 : -1]]
        there = {path for path in folder.rglob("*") if path.is_file()} - {folder / MARK}
        assert set(listed) == there
        for words in ("copied", "tuned", "fitted", "checked", "made solids", "wrote the report"):
            assert f" s  {words}" in result.stdout
    assert load(folder / "clarinet-fitted.toml").invented
    page = (folder / "report.html").read_text(encoding="utf-8")
    assert page.count("<svg") == 7
    assert "clarinet-fitted.toml" in page
    assert "solids/bell.step" in page
    assert str(tmp_path) not in page  # nothing of this machine goes into a report
    assert lines[-1] == f"Open the report: {folder / 'report.html'}"
