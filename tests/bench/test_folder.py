"""The folder service: saved whole or not at all, undone, noticed, never overwritten."""

from __future__ import annotations

import contextlib
import errno
import json
import os

import pytest

from borewright.bench.folder import ChangedElsewhereError, Kind, OpenFolder
from borewright.errors import BenchError, ModelError
from borewright.words import Reader, say


@pytest.fixture
def folder(tmp_path):
    made = OpenFolder(tmp_path / "work")
    yield made
    made.close()


def reopened(folder: OpenFolder) -> OpenFolder:
    folder.close()
    return OpenFolder(folder.root)


def text(folder: OpenFolder, name: str = "a.csv") -> str:
    return (folder.root / name).read_text(encoding="utf-8")


def test_undo_and_redo_go_through_every_state(folder):
    for words in ("one", "two", "three"):
        folder.save("a.csv", words.encode(), f"write {words}")
    assert folder.can_undo == "write three"
    assert folder.undo() == ["a.csv"]
    assert text(folder) == "two"
    folder.undo()
    assert folder.can_redo == "write two"
    folder.undo()
    assert not (folder.root / "a.csv").exists()  # the first step made it
    assert folder.undo() == []
    for words in ("one", "two", "three"):
        folder.redo()
        assert text(folder) == words
    assert folder.redo() == []


def test_a_new_step_after_undo_drops_what_was_undone(folder):
    folder.save("a.csv", b"one", "1")
    folder.save("a.csv", b"two", "2")
    folder.undo()
    folder.save("a.csv", b"other", "3")
    assert folder.can_redo == ""
    folder.undo()
    assert text(folder) == "one"


def test_history_outlives_the_process(folder):
    folder.save("a.csv", b"one", "1")
    folder.save("a.csv", b"two", "2")
    again = reopened(folder)
    assert again.can_undo == "2"
    again.undo()
    assert text(again) == "one"
    again.close()


def test_saving_the_same_content_is_no_step(folder):
    folder.save("a.csv", b"one", "1")
    folder.save("a.csv", b"one", "2")
    assert folder.can_undo == "1"


def test_another_programs_change_is_never_overwritten(folder):
    folder.save("a.csv", b"mine", "mine")
    (folder.root / "a.csv").write_text("theirs", encoding="utf-8")
    with pytest.raises(ChangedElsewhereError, match="changed by another program"):
        folder.save("a.csv", b"mine again", "again")
    with pytest.raises(ChangedElsewhereError):
        folder.undo()
    assert text(folder) == "theirs"
    assert folder.look() == ["a.csv"]
    assert str(folder.can_undo) == "changed by another program"
    folder.undo()
    assert text(folder) == "mine"
    folder.redo()
    assert text(folder) == "theirs"


def test_a_change_while_the_bench_was_closed_can_be_undone_too(folder):
    folder.save("a.csv", b"mine", "mine")
    folder.close()
    (folder.root / "a.csv").write_text("theirs", encoding="utf-8")
    again = OpenFolder(folder.root)
    assert str(again.can_undo) == "changed by another program"
    again.undo()
    assert text(again) == "mine"
    again.close()


def test_a_copy_beside_keeps_both_versions(folder):
    folder.save("a.csv", b"mine", "mine")
    name = folder.copy_beside("a.csv", b"other", "copy")
    assert name == "a copy 1.csv"
    assert folder.copy_beside("a.csv", b"third", "copy") == "a copy 2.csv"
    assert (text(folder), text(folder, name)) == ("mine", "other")


def test_revisions_bring_a_state_back_and_can_be_undone(folder):
    folder.save("a.csv", b"one", "1")
    folder.save("b.csv", b"ten", "2")
    folder.name_revision("  first   print ")
    folder.save("a.csv", b"two", "3")
    assert [each.name for each in folder.revisions()] == ["first print"]
    assert folder.restore("first print") == ["a.csv"]
    assert (text(folder), text(folder, "b.csv")) == ("one", "ten")
    folder.undo()
    assert text(folder) == "two"
    with pytest.raises(BenchError, match="no such revision"):
        folder.restore("second print")


@pytest.mark.parametrize("name", ["", "   ", "x" * 61, "a\nb\x07"])
def test_revisions_need_a_readable_name(folder, name):
    if name == "a\nb\x07":
        name = "a\x07"
    with pytest.raises(BenchError, match="1 to 60 letters"):
        folder.name_revision(name)


@pytest.mark.parametrize("at", ["content", "timeline", "file"])
def test_a_full_disk_loses_nothing_and_says_so(folder, monkeypatch, at):
    folder.save("a.csv", b"old", "old")
    real = os.replace
    wanted = {"content": "contents", "timeline": "timeline.json", "file": "a.csv"}[at]

    def full(source, target):
        if wanted in str(target):
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        real(source, target)

    monkeypatch.setattr(os, "replace", full)
    with pytest.raises(ModelError, match="No space left on device"):
        folder.save("a.csv", b"new", "new")
    monkeypatch.undo()
    assert text(folder) == "old"
    assert folder.can_undo == "old"
    assert not list(folder.root.rglob(".writing-*"))
    folder.save("a.csv", b"new", "new")
    again = reopened(folder)
    assert (text(again), again.can_undo) == ("new", "new")
    again.close()


@pytest.mark.parametrize("killed_at", range(1, 5))
@pytest.mark.parametrize("way", ["save", "undo", "redo"])
def test_killed_in_mid_save_the_step_is_finished_when_opened_again(
    folder, monkeypatch, killed_at, way
):
    """Killed at the n-th write: the file is whole, and the history agrees with it."""
    folder.save("a.csv", b"one", "1")
    folder.save("a.csv", b"two", "2")
    if way == "redo":
        folder.undo()
    act = {"save": lambda: folder.save("a.csv", b"three", "3")}.get(way, getattr(folder, way, None))
    writes = 0
    real = os.replace

    class Killed(BaseException):
        pass

    def counted(source, target):
        nonlocal writes
        writes += 1
        if writes >= killed_at:
            raise Killed  # from here on, nothing of this process reaches the disk
        real(source, target)

    monkeypatch.setattr(os, "replace", counted)
    with contextlib.suppress(Killed):
        act()
    monkeypatch.undo()
    again = reopened(folder)
    states = {"save": {"two": "2", "three": "3"}, "undo": {"two": "2", "one": "1"}}
    states["redo"] = states["undo"]
    assert again.can_undo == states[way][text(again)]
    assert not again.history.timeline.under_way
    again.save("a.csv", b"four", "4")
    again.undo()
    assert text(again) in states[way]
    again.close()


def test_one_bench_a_folder(folder):
    with pytest.raises(BenchError, match="open in another bench"):
        OpenFolder(folder.root)
    again = reopened(folder)
    again.close()


def test_a_history_that_cannot_be_read_is_told_and_left_alone(folder):
    folder.save("a.csv", b"one", "1")
    folder.close()
    (folder.keep / "timeline.json").write_text("{", encoding="utf-8")
    with pytest.raises(BenchError, match=r"history cannot be read.*'\.bench' away"):
        OpenFolder(folder.root)
    assert text(folder) == "one"


def test_contents_that_nothing_names_are_cleared_away(folder):
    folder.save("a.csv", b"one", "1")
    folder.save("a.csv", b"two", "2")
    folder.undo()
    folder.save("a.csv", b"three", "3")
    again = reopened(folder)
    kept = {path.read_bytes() for path in (again.keep / "contents").iterdir()}
    assert kept == {b"one", b"three"}
    data = json.loads((again.keep / "timeline.json").read_text(encoding="utf-8"))
    assert [step["what"] for step in data["steps"]] == ["1", "3"]
    again.close()


def test_files_are_told_by_kind(clarinet):
    (clarinet / "take.wav").write_bytes(b"RIFF")
    (clarinet / "workshop.db").write_bytes(b"SQLite")
    (clarinet / "printer.toml").write_text('name = "x"\n', encoding="utf-8")
    (clarinet / "gauge.csv").write_text("a;b\n1;2\n", encoding="utf-8")
    (clarinet / "bore.csv").write_text("# x\nstation_mm;diameter_mm\n1;2\n", encoding="utf-8")
    (clarinet / ".hidden.csv").write_text("a\n", encoding="utf-8")
    folder = OpenFolder(clarinet)
    kinds = {each.name: each.kind for each in folder.files()}
    assert kinds.pop("README.md", Kind.OTHER) is Kind.OTHER
    assert kinds == {
        "clarinet.toml": Kind.INSTRUMENT,
        "keys.csv": Kind.TABLE,
        "keywork.csv": Kind.SURVEY,
        "fingerings.csv": Kind.FINGERINGS,
        "take.wav": Kind.TAKE,
        "workshop.db": Kind.LEDGER,
        "printer.toml": Kind.SETTINGS,
        "gauge.csv": Kind.TABLE,
        "bore.csv": Kind.BORE,
    }
    folder.close()


def test_an_upload_never_replaces_a_file(folder):
    folder.receive("take.wav", b"first")
    with pytest.raises(BenchError, match="was not replaced"):
        folder.receive("take.wav", b"second")
    assert (folder.root / "take.wav").read_bytes() == b"first"
    assert [each.kind for each in folder.files()] == [Kind.TAKE]


def test_what_a_step_did_is_kept_as_data_and_told_in_any_language(tmp_path):
    folder = OpenFolder(tmp_path)
    folder.save("a.toml", b"one", say("accept '{name}'", name="upper or lower"))
    folder.close()
    again = OpenFolder(tmp_path)
    assert Reader("en").tell(again.can_undo) == "accept 'upper or lower'"
    assert Reader("de").tell(again.can_undo) == "„upper or lower“ annehmen"
    again.close()


def test_a_history_of_the_former_format_is_still_read(tmp_path):
    folder = OpenFolder(tmp_path)
    folder.save("a.toml", b"one", "write one")
    folder.close()
    file = tmp_path / ".bench" / "timeline.json"
    data = json.loads(file.read_text(encoding="utf-8"))
    assert data["steps"][0]["what"] == "write one"  # as format 1 wrote it
    file.write_text(json.dumps({**data, "format": 1}), encoding="utf-8")
    again = OpenFolder(tmp_path)
    assert again.can_undo == "write one"
    assert again.undo() == ["a.toml"]
    again.close()
