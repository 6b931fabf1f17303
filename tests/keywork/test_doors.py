"""The gate at the doors: `check` and `print` name planted faults, and `print` makes nothing."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path

import pytest
from typer.testing import CliRunner

import borewright
from borewright.errors import PrintingError
from borewright.model import write_keys
from borewright.model.keys import points_of
from borewright.tasks.checking import check_file
from borewright.tasks.gate import FaultsFoundError
from borewright.tasks.printing.printing import PrintWishes, print_file

EXAMPLE = Path(borewright.__file__).parent / "examples" / "loan-clarinet"


@pytest.fixture
def clarinet(tmp_path) -> Path:
    """The example, which names its keys."""
    folder = shutil.copytree(EXAMPLE, tmp_path / "clarinet")
    return folder / "clarinet.toml"


def ask(*words: object):
    from borewright.cli import app

    return CliRunner().invoke(app, [str(word) for word in words])


def test_the_example_with_its_keys_has_no_fault(clarinet):
    findings = check_file(clarinet)
    assert [f for f in findings if f.severity == "fault"] == []
    assert len([f for f in findings if "scrubs as it lands" in str(f.what)]) == 3


def test_check_and_print_refuse_a_planted_fault(clarinet, keys, bending, tmp_path):
    off = bending.with_moved(keys, ["C-S2"], along=1.5)
    write_keys(clarinet.parent / "keys.csv", off)
    checked = ask("check", clarinet, "--json")
    assert checked.exit_code == 1
    told = [f["check"] for f in json.loads(checked.stdout)["findings"] if "check" in f]
    assert "cup off its hole" in told
    printed = ask("print", clarinet, "--output", tmp_path / "job")
    assert printed.exit_code == 1
    assert "nothing was made: faults were found" in printed.stdout
    assert "off the middle of hole 'S2'" in printed.stdout
    assert not (tmp_path / "job").exists() or not list((tmp_path / "job").iterdir())


def test_an_old_survey_with_a_cup_off_its_hole_is_refused_too(tmp_path):
    folder = shutil.copytree(EXAMPLE, tmp_path / "clarinet")
    survey = folder / "keywork.csv"
    text = survey.read_text(encoding="utf-8")
    moved = text.replace("upper joint,93.2,-75,S2", "upper joint,94.7,-75,S2")
    survey.write_text(moved, encoding="utf-8")
    file = folder / "clarinet.toml"
    without_keys = re.sub(r"(?m)^keys = .*\n", "", file.read_text(encoding="utf-8"))
    file.write_text(without_keys, encoding="utf-8")
    with pytest.raises(FaultsFoundError, match="S2") as refused:
        print_file(folder / "clarinet.toml", tmp_path / "job", PrintWishes(drawings=False))
    assert isinstance(refused.value, PrintingError)
    # It works alone, and says what it cannot tell.
    [told] = [one for one in refused.value.findings if "as points alone" in str(one.what)]
    assert told.severity == "notice"
    assert "keywork.csv" in str(told.place)


@pytest.mark.slow
def test_told_to_go_on_the_job_says_so(clarinet, keys, bending, tmp_path):
    write_keys(clarinet.parent / "keys.csv", bending.with_moved(keys, ["C-S2"], along=1.5))
    wishes = PrintWishes(drawings=False, despite_faults=True)
    job = print_file(clarinet, tmp_path / "job", wishes)
    assert job.as_dict()["despite_faults"] is True
    assert any(f.severity == "fault" for f in job.findings)
    step = (tmp_path / "job" / "assembly.step").read_text(encoding="utf-8", errors="replace")
    assert "'key EB'" in step


def test_points_of_keys_are_those_of_the_old_survey(keys):
    from borewright.model import read_survey

    old = read_survey(EXAMPLE / "keywork.csv")
    points = points_of(keys, old)
    for row in old.rows:
        if row.hole:
            same = points.for_hole(row.hole)
            assert (same.station_mm, same.bearing_deg) == (row.station_mm, row.bearing_deg)
            assert (same.up_mm, same.name) == (row.up_mm, row.name)
    assert len(points.posts()) == 40
