"""Every planted fault, alone and from files: the Body view's checks tell it, Print refuses it."""

from __future__ import annotations

import importlib.util
import shutil
from pathlib import Path

import pytest

from borewright.bench.folder import Kind
from borewright.bench.jobs import Job, Task
from borewright.bench.print.making import make
from borewright.bench.print.wishes import Wishes
from borewright.bench.workbench import Workbench
from borewright.keywork import key_findings
from borewright.model import Severity, load, read_keys, save_as, write_keys
from borewright.model.files.instruments import read_instrument
from borewright.tasks.gate import FaultsFoundError
from borewright.words import ENGLISH

pytestmark = pytest.mark.slow  # a file of its own for every fault, each through the whole gate

_PLACE = Path(__file__).parents[1] / "keywork" / "planted.py"
_SPEC = importlib.util.spec_from_file_location("keywork_planted_for_the_page", _PLACE)
planted = importlib.util.module_from_spec(_SPEC)
_SPEC.loader.exec_module(planted)
#: The hole that this moves under a pad runs into that pad's own: no such file is read.
UNREADABLE = "pad over a chimney"


def plant(folder, name):
    file = folder / "clarinet.toml"
    instrument, document = read_instrument(file)
    made = planted.FAULTS[name][0]((instrument, read_keys(folder / "keys.csv")))
    save_as(made[0], file, document)
    write_keys(folder / "keys.csv", made[1])
    return file


@pytest.mark.parametrize("name", [name for name in planted.FAULTS if name != UNREADABLE])
def test_each_fault_is_found_where_the_page_asks(clarinet, name):
    file = plant(clarinet, name)
    check, element = planted.FAULTS[name][1:]
    bench = Workbench(clarinet)
    try:
        assert bench.instrument is not None
        assert [each.name for each in bench.files(Kind.INSTRUMENT)] == ["clarinet.toml"]
        # What is on the bench, by what the Body view's checks and the Print view ask of keys.
        told = {
            (str(getattr(one, "check", "")), part)
            for one in key_findings(bench.instrument, bench.keys)
            if one.severity is Severity.FAULT
            for part in getattr(one, "elements", ())
        }
        assert (check.value, element) in told
    finally:
        bench.close()
    assert file == bench.path


def test_the_body_view_tells_a_fault_of_a_key_and_print_refuses_until_told(
    open_bench, page, clarinet
):
    shutil.copy(clarinet / "keys.csv", clarinet / "good.txt")
    plant(clarinet, "hinge out of line")
    bench = open_bench(clarinet)
    page.goto(f"{bench.url}?view=design")
    page.wait_for_selector("[data-mark=checks][data-whole=yes]")
    page.click("[data-mark=checks]")
    assert "P-FS2" in page.locator("li.bw-fault").first.inner_text()
    page.goto(f"{bench.url}?view=print")
    page.click("[data-mark=make]")
    page.wait_for_selector("text=/faults? (was|were) found/")
    assert not (clarinet / "print").exists()
    assert page.locator("[data-mark=result] .bw-findings").count() == 0
    # Mended, the Body view says so at once.
    shutil.copy(clarinet / "good.txt", clarinet / "keys.csv")
    page.goto(f"{bench.url}?view=design")
    page.wait_for_selector("[data-mark=checks][data-whole=yes]")
    page.wait_for_function(
        "() => document.querySelector('[data-mark=checks]').textContent.includes(' 0 faults')"
    )


def test_the_print_job_of_the_page_refuses(clarinet):
    file = plant(clarinet, "cup off its hole")
    bench = Workbench(clarinet)
    try:
        job = Job(Task.PRINT, "print", lambda _job: None)
        with pytest.raises(FaultsFoundError) as refused:
            make(job, bench, file, Wishes(drawings=False), ENGLISH)
        assert any("C-S2" in getattr(one, "elements", ()) for one in refused.value.findings)
        assert not (clarinet / "print").exists()
    finally:
        bench.close()
    assert load(file).name
