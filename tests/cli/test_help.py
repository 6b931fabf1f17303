"""Help and version: every command explains itself, quickly and in the trade's words."""

from __future__ import annotations

import re
import subprocess
import sys
from importlib.metadata import version

import pytest
import typer

from borewright.cli import app

STEPS = ["check", "demo", "fit", "new", "sensitivity", "solids", "tune"]
COMMANDS = sorted(typer.main.get_command(app).commands)
HEAVY = (
    "OCP borewright.model build123d clarabel jax lib3mf matplotlib numpy rich scipy trimesh typst"
)


def test_a_command_a_step():
    assert set(STEPS) <= set(COMMANDS)


@pytest.mark.parametrize("command", STEPS)
def test_every_command_explains_itself(type_in, command):
    result = type_in(command, "--help")
    assert result.exit_code == 0
    assert result.stdout.startswith("Usage: ")
    options = result.stdout.split("Options:")[1]
    lines = [line for line in options.splitlines() if line.strip()]
    for line, following in zip(lines, [*lines[1:], "  --"], strict=True):
        if line.startswith("  --"):  # its words stand behind it, or on the next line
            behind = len(re.split(r"\s{2,}", line.strip())) > 1
            assert behind or not following.startswith("  --"), line


def test_help_lists_every_command_with_words_that_are_not_cut(type_in):
    result = type_in("--help")
    assert result.exit_code == 0
    listed = result.stdout.split("Commands:")[1].splitlines()
    for command in COMMANDS:
        [line] = [line for line in listed if line.startswith(f"  {command} ")]
        assert command not in STEPS or not line.endswith("...")


def test_nothing_typed_is_answered_with_help(type_in):
    assert "Commands:" in type_in().output


@pytest.mark.parametrize("words", [["--help"], ["fit", "--help"], ["--version"]])
def test_help_loads_nothing_heavy(words):
    script = (
        "import sys\nfrom borewright.cli import app\n"
        "try: app(sys.argv[1:])\nexcept SystemExit as end: assert end.code == 0\n"
        f"print('loaded:', *sorted(set(sys.modules) & set({HEAVY.split()!r})))"
    )
    done = subprocess.run(
        [sys.executable, "-c", script, *words], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    assert done.stdout.splitlines()[-1].strip() == "loaded:"


def test_version(type_in):
    assert type_in("--version").stdout == f"borewright {version('borewright')}\n"


def test_the_module_is_the_same_command():
    done = subprocess.run(
        [sys.executable, "-m", "borewright", "--version"],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.stdout == f"borewright {version('borewright')}\n"


@pytest.mark.parametrize(
    "words",
    [
        ["carve"],
        ["tune"],
        ["tune", "a.toml", "--loud"],
        ["tune", "a.toml", "b.toml"],
        ["solids", "a.toml"],
        ["new", "folder", "--example", "oboe"],
    ],
)
def test_what_cannot_be_meant_ends_with_2(type_in, words):
    result = type_in(*words)
    assert result.exit_code == 2
    assert "Usage: " in result.stderr
