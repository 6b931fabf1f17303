"""Long work at the command line is watched over: crashes, memory, time, Ctrl-C, litter.

``python tests/tasks/interrupting.py 300`` interrupts every long command; here is a sample.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
import interrupting

from borewright import supervising
from borewright.errors import ModelError
from borewright.model.base import Entity
from borewright.tasks.examples import Example, copy_example
from borewright.tasks.staging import staged


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return copy_example(Example.CHALUMEAU, tmp_path / "work")[0].parent


def told(folder: Path, *words: str, **environment: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "borewright", *words],
        cwd=folder, env={**os.environ, **environment}, capture_output=True, text=True, check=False,
    )  # fmt: skip


def test_a_crash_of_a_kernel_is_one_message(folder, tmp_path):
    """The process that works kills itself as a kernel's fault does."""
    crash = tmp_path / "crash"
    crash.mkdir()
    (crash / "sitecustomize.py").write_text(
        "import os, signal\n"
        "if 'BOREWRIGHT_SUPERVISED' in os.environ:\n"
        "    os.kill(os.getpid(), signal.SIGSEGV)\n"
    )
    path = f"{crash}{os.pathsep}{os.environ.get('PYTHONPATH', '')}"
    done = told(folder, "solids", "chalumeau.toml", "--output", "out", PYTHONPATH=path)
    assert done.returncode == 2
    assert done.stderr.count("\n") == 1
    assert "broke off in the computing kernel (signal 11)" in done.stderr
    assert "Nothing was written" in done.stderr
    assert not (folder / "out").exists()
    done = told(folder, "tune", "chalumeau.toml", "--json", PYTHONPATH=path)
    assert json.loads(done.stdout)["error"]["remedy"]


@pytest.mark.parametrize(
    ("environment", "words"),
    [
        ({"BOREWRIGHT_MEMORY_GB": "0.02"}, "needed more memory than there is"),
        ({"BOREWRIGHT_DEADLINE_H": "0.0001"}, "did not end in time"),
    ],
)
def test_work_that_outgrows_its_bounds_is_ended(folder, environment, words):
    done = told(folder, "solids", "chalumeau.toml", "--output", "out", **environment)
    assert done.returncode == 2
    assert words in done.stderr
    assert not (folder / "out").exists()


def test_quick_refusals_pass_through(folder):
    done = told(folder, "tune", "absent.toml")
    assert done.returncode == 2
    assert "absent.toml" in done.stderr
    assert done.stderr.count("\n") == 1
    assert told(folder, "tune", "chalumeau.toml", "--nonsense").returncode == 2


def test_what_is_taken_away_is_never_somebody_elses(tmp_path):
    """Only what is being made goes, and folders that are empty; results and own files stay."""
    notes = tmp_path / "notes"
    notes.mkdir()
    out, empty, aside = (
        tmp_path / "out",
        tmp_path / "new" / "deep",
        tmp_path / "out" / ".making-1-x",
    )
    for folder in (out, empty, aside):
        folder.mkdir(parents=True, exist_ok=True)
    (out / "head.step").write_text("a result")
    (aside / "half.step").write_text("half")
    listed = [aside, out, tmp_path / "new", tmp_path / "absent"]
    (notes / "left").write_text("".join(f"{path}\0" for path in listed))
    supervising.clean_up(notes)
    assert (out / "head.step").read_text() == "a result"
    assert not aside.exists()
    assert not (tmp_path / "new").exists()


def test_results_stay_where_a_command_ends_with_faults(folder):
    """Exit code 1 tells of faults; what was asked for in spite of them is there."""
    file = folder / "chalumeau.toml"
    text = file.read_text(encoding="utf-8")
    text = text.replace("wall_between_holes_mm = 1.5", "wall_between_holes_mm = 19.0")
    file.write_text(text, encoding="utf-8")
    done = told(folder, "print", "chalumeau.toml", "--output", "new/out", "--despite-faults")
    assert done.returncode == 1, done.stderr
    assert (folder / "new" / "out" / "body.step").exists()


@pytest.mark.slow
def test_a_few_interrupts():
    found = interrupting.run(6, seed=2031)
    assert found["wrong"] == []
    assert found["slowest_s"] is None or found["slowest_s"] < interrupting.WITHIN_S


def test_results_are_moved_in_whole_or_not_at_all(tmp_path):
    folder = tmp_path / "new" / "out"

    def cut_short():
        with staged(folder) as place:
            (place.aside / "half.step").write_text("half")
            raise RuntimeError("power cut")

    with pytest.raises(RuntimeError):
        cut_short()
    assert list(tmp_path.iterdir()) == []
    folder.mkdir(parents=True)
    (folder / "own.txt").write_text("the owner's")
    (folder / "head.step").write_text("old")
    (folder / ".making-999999999-x").mkdir()  # left by a process that is no more
    with staged(folder) as place:
        (place.aside / "drawings").mkdir()
        (place.aside / "drawings" / "head.pdf").write_text("new")
        (place.aside / "head.step").write_text("new")
        assert (folder / "head.step").read_text() == "old"
    found = {path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()}
    assert found == {"own.txt", "head.step", "drawings/head.pdf"}
    assert (folder / "head.step").read_text() == "new"
    assert [path.name for path in folder.glob(".*")] == []
    (tmp_path / "file").write_text("")
    with pytest.raises(ModelError, match="is not a folder"), staged(tmp_path / "file"):
        pass


class Made(Entity):
    name: str
    step: str


@dataclass(frozen=True)
class Report:
    parts: list[Made]
    folder: Path


def test_paths_in_results_name_the_place_they_end_in(tmp_path):
    with staged(tmp_path) as place:
        part = Made(name="head", step=f"{place.aside}/head.step")
        report = Report(parts=[part], folder=place.aside)
    moved = place.moved(([report], {"at": place.aside / "x"}, 3))
    assert moved[0][0].folder == tmp_path
    assert moved[0][0].parts[0].step == f"{tmp_path}/head.step"
    assert moved[1] == {"at": tmp_path / "x"}
