"""Writing: the old file or the new one, never half of either, and nothing left lying about."""

from __future__ import annotations

import os

import pytest

from borewright.errors import ModelError
from borewright.model import write_bytes, write_text


def test_text_is_written_as_given(tmp_path):
    path = tmp_path / "a.txt"
    write_text(path, "½ mm\r\n\n")
    assert path.read_bytes() == "½ mm\r\n\n".encode()
    assert [entry.name for entry in tmp_path.iterdir()] == ["a.txt"]


def test_a_link_stays_a_link(tmp_path):
    real = tmp_path / "folder" / "real.toml"
    real.parent.mkdir()
    real.write_text("old", encoding="utf-8")
    link = tmp_path / "link.toml"
    link.symlink_to(real)
    write_text(link, "new")
    assert link.is_symlink()
    assert real.read_text(encoding="utf-8") == "new"


def test_permissions_stay(tmp_path):
    path = tmp_path / "a.txt"
    path.write_text("old", encoding="utf-8")
    path.chmod(0o640)
    write_text(path, "new")
    assert path.stat().st_mode & 0o777 == 0o640


def test_a_failed_write_leaves_the_old_file(tmp_path, monkeypatch):
    path = tmp_path / "a.txt"
    path.write_text("old", encoding="utf-8")

    def full_disk(descriptor):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full_disk)
    with pytest.raises(ModelError, match="No space left"):
        write_text(path, "new")
    assert path.read_text(encoding="utf-8") == "old"
    assert [entry.name for entry in tmp_path.iterdir()] == ["a.txt"]


def blocked(tmp_path, kind):
    (tmp_path / "file").write_text("x", encoding="utf-8")
    (tmp_path / "loop").symlink_to(tmp_path / "loop")
    return {
        "a file as its folder": tmp_path / "file" / "a.txt",
        "a folder as its file": tmp_path,
        "a link that goes round": tmp_path / "loop",
        "a name too long": tmp_path / ("x" * 5000),
        "a name with a zero byte": tmp_path / "a\0b",
        "a long folder": tmp_path / ("y" * 300) / "a.txt",
    }[kind]


@pytest.mark.parametrize(
    "kind",
    [
        "a file as its folder",
        "a folder as its file",
        "a link that goes round",
        "a name too long",
        "a name with a zero byte",
        "a long folder",
    ],
)
def test_what_cannot_be_written_gets_one_message(tmp_path, kind):
    before = sorted(entry.name for entry in tmp_path.iterdir())
    with pytest.raises(ModelError) as caught:
        write_bytes(blocked(tmp_path, kind), b"new")
    assert "cannot be written" in str(caught.value.cause)
    assert caught.value.place
    assert caught.value.remedy
    left = {entry.name for entry in tmp_path.iterdir()} - {"file", "loop"}
    assert sorted(left) == before


def test_a_long_but_allowed_name_is_written(tmp_path):
    path = tmp_path / ("n" * 250)
    write_text(path, "x")
    assert path.read_text(encoding="utf-8") == "x"
