"""No path leaves the folder, however it is written."""

from __future__ import annotations

import pytest

from borewright.bench.folder import inside
from borewright.bench.folder.paths import plain_name
from borewright.errors import BenchError

TRICKS = [
    "",
    "..",
    "../secret.toml",
    "a/../../secret.toml",
    "/etc/passwd",
    "//etc/passwd",
    "C:\\secret.toml",
    "C:secret.toml",
    "..\\secret.toml",
    "a\\..\\b.csv",
    "%2e%2e/secret.toml",
    "%252e%252e%252fsecret.toml",
    "..%2fsecret.toml",
    "a%00.toml",
    "a\x00.toml",
    "a\n.toml",
    ".bench/timeline.json",
    "a/.hidden",
    "~/secret.toml",
    "con.toml",
    "a//b.csv",
    "a/./b.csv",
    "x" * 300,
    "‮lmot.exe",
    "a.csv:stream",
    "a. ",
]


@pytest.mark.parametrize("name", TRICKS)
def test_tricks_are_refused(tmp_path, name):
    (tmp_path / "secret.toml").write_text("x", encoding="utf-8")
    root = tmp_path / "root"
    root.mkdir()
    with pytest.raises(BenchError, match="does not belong to the open folder"):
        inside(root.resolve(), name)


def test_links_that_lead_out_are_refused(tmp_path):
    root = (tmp_path / "root").resolve()
    root.mkdir()
    (tmp_path / "secret.toml").write_text("x", encoding="utf-8")
    (root / "link.toml").symlink_to(tmp_path / "secret.toml")
    (root / "way").symlink_to(tmp_path)
    (root / "loop.toml").symlink_to(root / "loop.toml")
    (root / "real.toml").write_text("x", encoding="utf-8")
    (root / "near.toml").symlink_to(root / "real.toml")
    for name in ("link.toml", "way/secret.toml", "loop.toml"):
        with pytest.raises(BenchError):
            inside(root, name)
    assert inside(root, "near.toml") == root / "near.toml"


@pytest.mark.parametrize(
    "name", ["a.toml", "bodies/upper joint.step", "Größe 2 (neu).csv", "α.csv"]
)
def test_ordinary_names_pass(tmp_path, name):
    assert inside(tmp_path.resolve(), name) == tmp_path.resolve() / name


def test_an_uploads_name_is_its_last_step():
    assert plain_name("C:\\my takes\\take 1.wav") == "take 1.wav"
    assert plain_name("/a/b/take.wav") == "take.wav"
    for name in ("..", "a/..", ".hidden", "", "a%2fb.wav"):
        with pytest.raises(BenchError):
            plain_name(name)
