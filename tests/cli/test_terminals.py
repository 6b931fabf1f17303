"""Pipes that close, terminals of any width, colour and encoding."""

from __future__ import annotations

import json
import os
import subprocess
import sys

import pytest

from borewright.doors import answering, progress
from borewright.words import ENGLISH, given, say


def test_a_reader_that_leaves_is_no_fault(chalumeau):
    # The child's standard output is a pipe whose reading end is closed before it prints.
    reading, writing = os.pipe()
    script = "import sys; sys.stdin.read(); from borewright.cli import main; main()"
    with subprocess.Popen(
        [sys.executable, "-c", script, "tune", str(chalumeau)],
        stdin=subprocess.PIPE,
        stdout=writing,
        stderr=subprocess.PIPE,
    ) as child:
        os.close(writing)
        os.close(reading)
        _, said = child.communicate(b"")
    assert said == b""


@pytest.mark.parametrize("words", [["--help"], ["--version"]])
def test_a_reader_that_leaves_before_little_is_said(words):
    reading, writing = os.pipe()
    script = "import sys; sys.stdin.read(); from borewright.cli import main; main()"
    with subprocess.Popen(
        [sys.executable, "-c", script, *words],
        stdin=subprocess.PIPE,
        stdout=writing,
        stderr=subprocess.PIPE,
    ) as child:
        os.close(writing)
        os.close(reading)
        _, said = child.communicate(b"")
    assert said == b""


def test_an_output_that_is_closed(in_shell, chalumeau):
    done = in_shell("check", chalumeau, code="import sys; sys.stdout = None")
    assert done.stderr == b""
    assert done.returncode == 0


@pytest.mark.parametrize("encoding", ["ascii", "latin-1", "utf-8"])
def test_any_encoding(in_shell, chalumeau, encoding):
    text = chalumeau.read_text(encoding="utf-8")
    name = 'name = "Class chalumeau"'
    assert name in text
    chalumeau.write_text(text.replace(name, 'name = "Schülerrohr „å“"'), encoding="utf-8")
    environment = {"PYTHONIOENCODING": encoding, "NO_COLOR": "1", "COLUMNS": "20"}
    done = in_shell("tune", chalumeau, environment=environment)
    assert done.returncode == 0, done.stderr
    assert done.stderr == b""
    first = done.stdout.decode(encoding).splitlines()[0]
    expected = "Schülerrohr „å“".encode(encoding, "replace").decode(encoding)
    assert first.startswith(expected)
    done = in_shell("tune", chalumeau, "--json", environment=environment)
    data = json.loads(done.stdout.decode(encoding))
    assert data["instrument"] == "Schülerrohr „å“"  # JSON loses nothing in any encoding


def test_a_wrong_name_in_a_narrow_encoding(in_shell, tmp_path):
    done = in_shell("tune", tmp_path / "ü.toml", environment={"PYTHONIOENCODING": "ascii"})
    assert done.returncode == 2
    assert b"?.toml: does not exist" in done.stderr


def test_progress_is_for_people_only(capsys):
    with progress.bar(ENGLISH, say("fitting")) as show:
        assert show is None
    assert capsys.readouterr().err == ""


@pytest.mark.parametrize("colour", [{}, {"NO_COLOR": "1"}, {"TERM": "dumb"}])
def test_progress_at_a_terminal(monkeypatch, capsys, colour):
    for name, value in colour.items():
        monkeypatch.setenv(name, value)
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True)
    with progress.bar(ENGLISH, say("fitting")) as show:
        show(None, say("round {number}", number=1))
        show(0.5, say("round {number}", number=2))
        show(1.0, given("[bold]bell"))  # a name that looks like markup
    assert capsys.readouterr().out == ""


def test_json_never_holds_what_json_lacks():
    with pytest.raises(ValueError, match="JSON"):
        answering.print_json({"cents": float("nan")})
