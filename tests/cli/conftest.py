"""The command line as a user types it: in this process, or in a shell of its own."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner, Result

from borewright.cli import app
from borewright.tasks.examples import Example, copy_example

Type = Callable[..., Result]


@pytest.fixture
def type_in() -> Type:
    """Type a command; anything but an orderly end (an exception that escapes) is raised here."""

    def type_it(*words: object) -> Result:
        return CliRunner().invoke(app, [str(word) for word in words], catch_exceptions=False)

    return type_it


@pytest.fixture
def refused(type_in: Type) -> Callable[..., str]:
    """The one line on standard error that a wrong command gets; its JSON must say the same."""

    def try_it(*words: object) -> str:
        result = type_in(*words)
        assert result.exit_code == 2, result.output
        assert result.stdout == ""
        line = result.stderr
        assert line.startswith("borewright: ")
        assert line.count("\n") == 1
        if words[0] not in ("new", "demo"):
            answer = type_in(*words, "--json")
            assert answer.exit_code == 2
            assert answer.stderr == ""
            assert error_line(json.loads(answer.stdout)) == line
        return line

    return try_it


def error_line(answer: dict[str, Any]) -> str:
    """The line of text that an error in JSON stands for; its shape is checked on the way."""
    assert set(answer) == {"error"}
    error = answer["error"]
    assert set(error) == {"kind", "place", "cause", "remedy"}
    assert error["kind"].endswith("Error")
    assert error["cause"]
    assert error["remedy"].endswith(".")
    return f"borewright: {error['place']}: {error['cause'].rstrip('.')}. {error['remedy']}\n"


@pytest.fixture
def chalumeau(tmp_path: Path) -> Path:
    """The smaller example in a folder of its own."""
    return copy_example(Example.CHALUMEAU, tmp_path / "chalumeau")[0]


@pytest.fixture
def clarinet(tmp_path: Path) -> Path:
    """The larger example, with keywork, in a folder of its own."""
    return copy_example(Example.CLARINET, tmp_path / "clarinet")[0]


@pytest.fixture
def contents(tmp_path: Path) -> Callable[[], dict[str, bytes]]:
    """Everything under the test's folder, to see that a refused command left it alone."""

    def read() -> dict[str, bytes]:
        return {
            str(path.relative_to(tmp_path)): path.read_bytes()
            for path in sorted(tmp_path.rglob("*"))
            if path.is_file()
        }

    return read


@pytest.fixture
def in_shell() -> Callable[..., subprocess.CompletedProcess[bytes]]:
    """Run ``borewright`` in a process of its own; ``code`` runs before it, for a test's trap."""

    def run_it(
        *words: object, environment: dict[str, str] | None = None, code: str = "pass"
    ) -> subprocess.CompletedProcess[bytes]:
        script = f"{code}\nfrom borewright.cli import main\nmain()"
        return subprocess.run(
            [sys.executable, "-c", script, *[str(word) for word in words]],
            capture_output=True,
            env={**os.environ, **(environment or {})},
            check=False,
        )

    return run_it
