"""Every planted fault, alone and from files: the Body view's checks tell it, Print refuses it."""

from __future__ import annotations

import importlib.util
import re
import shutil
from pathlib import Path

import pypdfium2
import pytest
from playwright.sync_api import TimeoutError as PlaywrightTimeout

from borewright.bench.jobs import Job, Task
from borewright.bench.print.making import make
from borewright.bench.print.wishes import Wishes
from borewright.bench.workbench import Workbench
from borewright.keywork import key_findings
from borewright.model import FitWishes, KeySet, Severity, load, read_keys, save_as, write_keys
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


def test_every_fault_is_told_on_the_page_beside_others(open_bench, page, clarinet):
    # Four a file: all pairs among them, and a page less often laid out.
    good = {file: file.read_bytes() for file in clarinet.iterdir() if file.is_file()}
    names = [name for name in planted.FAULTS if name != UNREADABLE]
    bench, missed = open_bench(clarinet), []
    for planted_here in (names[at::6] for at in range(6)):
        for file, data in good.items():
            file.write_bytes(data)
        for name in planted_here:
            file = plant(clarinet, name)
        found = key_findings(load(file), read_keys(clarinet / "keys.csv"))
        wanted = []
        for name in planted_here:
            check, element = planted.FAULTS[name][1:]
            one = next(one for one in found if one.check is check and element in one.elements)
            assert one.severity is Severity.FAULT
            wanted.append(str(one.what).rstrip("."))
        page.goto(f"{bench.url}?view=design")
        try:
            page.wait_for_function(
                """all => all.every(words => [...document.querySelectorAll('li.bw-fault')]
                    .some(line => line.textContent.includes(words)))""",
                arg=wanted,
                timeout=90_000,
            )
        except PlaywrightTimeout:
            missed.append(planted_here)
    assert missed == []


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


def test_going_on_in_spite_of_faults_is_written_into_the_job(open_bench, page, clarinet):
    # One key on one part, so that it is soon printed; its post stands out of line.
    file = clarinet / "clarinet.toml"
    instrument, document = read_instrument(file)
    upper = instrument.part("upper joint")
    alone = {
        "holes": [hole for hole in upper.holes if hole.name == "RV"],
        "tenon_top": None,
        "tenon_bottom": None,
    }
    made = {"parts": [upper.model_copy(update=alone)], "fingerings": "", "keywork": ""}
    made["fit"] = FitWishes()  # those of the file name parts that are not here
    keys = read_keys(clarinet / "keys.csv")
    one = KeySet(elements=tuple(each for each in keys.elements if each.key == "RV"))
    assert not [x for x in key_findings(instrument.model_copy(update=made), one)]
    _, bad = planted.shifted("P-RV2", out=0.3)((instrument, one))
    save_as(instrument.model_copy(update=made), file, document)
    write_keys(clarinet / "keys.csv", bad)
    bench = open_bench(clarinet)
    page.goto(f"{bench.url}?view=print")
    page.click("[data-mark=make]")
    page.wait_for_selector("text=/faults? (was|were) found/")
    assert not (clarinet / "print").exists()
    page.select_option("[data-mark=despite]", "yes")
    page.click("[data-mark=make]")
    page.wait_for_selector("[data-mark=result] .bw-findings")
    told = page.inner_text("[data-mark=despite-told]")
    assert re.fullmatch(r"Printed in spite of \d+ faults?: somebody said to go on.", told)
    assert page.locator("[data-mark=result] li.bw-fault", has_text="P-RV2").count() > 0
    [plan] = clarinet.glob("print/*/print-plan.pdf")
    words = " ".join(leaf.get_textpage().get_text_range() for leaf in pypdfium2.PdfDocument(plan))
    assert told.rstrip(".") in " ".join(words.split())


def test_slices_and_jigs_are_made_on_the_page(open_bench, page, clarinet):
    page.goto(f"{open_bench(clarinet).url}?view=print")
    page.select_option("[data-mark=key-fit-key]", "A")
    page.click("[data-mark=make-key-fit]")
    told = page.inner_text("[data-mark=key-fit] table")
    assert "A GS" in told
    assert "P-A1 P-A2 P-GS1 P-GS2" in told
    with page.expect_download() as started:
        page.click("[data-mark='key-fit-what-to-try.pdf']")
    assert started.value.path().read_bytes().startswith(b"%PDF")
    assert sorted(each.suffix for each in clarinet.glob("key-fit/blank-1.*")) == [
        ".3mf",
        ".step",
        ".stl",
    ]
