"""What may stand in a tracked file: short modules, no machine's paths, no index addresses."""

from __future__ import annotations

import re
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
LINE_CEILING = 400
MOST_BYTES = 1_000_000

# Written in pieces, so that this file does not hold what it forbids.
INDEX = re.compile(r"https?:" + r"//[^\s\"']*(/simple\b|/packages/|/-/)|index" + r"-url")
MACHINE_PATH = re.compile(r"(?<![\w.~-])(/(home|root|Users|work)/\w|[A-Z]:\\Users\\)")


def tracked() -> list[Path]:
    """Files known to git that are still there (a deletion may not be recorded yet)."""
    listing = subprocess.run(
        ["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, text=True, check=True
    )
    paths = [ROOT / name for name in listing.stdout.split("\0") if name]
    assert paths
    return [path for path in paths if path.is_file()]


def lines_with(pattern: re.Pattern[str]) -> list[str]:
    """``file:line: text`` of every tracked line that the pattern finds."""
    found = []
    for path in tracked():
        try:
            lines = path.read_text(encoding="utf-8").splitlines()
        except UnicodeDecodeError:
            continue  # pictures and such hold no lines
        found += [
            f"{path.relative_to(ROOT)}:{number}: {line.strip()[:80]}"
            for number, line in enumerate(lines, start=1)
            if pattern.search(line)
        ]
    return found


def test_modules_stay_short():
    lengths = {
        str(path.relative_to(ROOT)): len(path.read_text(encoding="utf-8").splitlines())
        for path in tracked()
        if path.suffix == ".py"
    }
    assert {name: count for name, count in lengths.items() if count > LINE_CEILING} == {}


def test_no_module_is_named_for_leftovers():
    leftovers = {"utils", "util", "helpers", "misc", "common"}
    assert [path for path in tracked() if path.suffix == ".py" and path.stem in leftovers] == []


def test_no_tracked_file_is_large():
    assert [path for path in tracked() if path.stat().st_size > MOST_BYTES] == []


def test_no_address_of_a_package_index():
    assert lines_with(INDEX) == []


def test_no_path_of_a_machine():
    assert lines_with(MACHINE_PATH) == []


@pytest.mark.parametrize(
    ("pattern", "text"),
    [
        (INDEX, "https:" + "//host.example/simple/numpy"),
        (INDEX, "pip install --index" + "-url x"),
        (MACHINE_PATH, "cd /" + "home/someone/x"),
        (MACHINE_PATH, '"/' + 'Users/someone"'),
    ],
)
def test_the_patterns_find_what_they_should(pattern, text):
    assert pattern.search(text)


@pytest.mark.parametrize("text", ["docs/work/plan.md", "the homes/x", "~/work/x"])
def test_the_patterns_leave_relative_paths_alone(text):
    assert not MACHINE_PATH.search(text)


def test_pins_are_plain_names_and_versions():
    lines = (ROOT / "constraints.txt").read_text(encoding="utf-8").splitlines()
    pins = [line for line in lines if line and not line.startswith("#")]
    wrong = [pin for pin in pins if not re.fullmatch(r"[A-Za-z0-9._-]+==[A-Za-z0-9.+!]+", pin)]
    assert len(pins) > 20
    assert wrong == []
