"""The play test in a browser: a take comes in, a name is put right, a correction is accepted."""

from __future__ import annotations

import importlib.util
from pathlib import Path

import numpy as np
import pytest
import soundfile

from borewright.model import load, read_fingerings
from borewright.playing import read_records, write_records
from borewright.playing.records import Record

pytestmark = pytest.mark.slow  # a server and a real browser each
SHARP_CENTS = 7.0


def _synthesis():
    """The makers of tones of the playing room's own tests."""
    path = Path(__file__).parents[1] / "playing" / "synthesis.py"
    spec = importlib.util.spec_from_file_location("synthesis", path)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def record_take(folder: Path, path: Path, notes: int = 4) -> list[str]:
    """Write a take of the example's first notes, all sharp by as much; their names."""
    synthesis, rng = _synthesis(), np.random.default_rng(0)
    instrument = load(folder / "chalumeau.toml")
    table = read_fingerings(folder / "fingerings.csv")
    pieces = []
    for fingering in table.fingerings[:notes]:
        hz = instrument.pitch.target_hz(fingering.written) * 2 ** (SHARP_CENTS / 1200)
        pieces += [synthesis.tone(hz, 0.9, rng), synthesis.room(0.2, rng, 0.0003)]
    soundfile.write(path, np.concatenate(pieces), synthesis.RATE)
    return [each.name for each in table.fingerings[:notes]]


def fill_notes(folder: Path, name: str = "Chalumeau", mean: float = -20.0, takes: int = 4) -> None:
    """Takes that somebody measured before: every note, flat, with a little scatter."""
    rng = np.random.default_rng(1)
    table = read_fingerings(folder / "fingerings.csv")
    records = [
        Record(instrument=name, take=f"{name} {take}.wav#1", note=each.name, player="Ann",
               day="monday", cents=mean + rng.normal(0, 2))
        for take in range(takes)
        for each in table.fingerings
    ]  # fmt: skip
    path = folder / "notes.csv"
    write_records([*(read_records(path) if path.exists() else []), *records], path)


def test_a_take_is_measured_and_a_wrong_name_put_right(open_bench, page, chalumeau, tmp_path):
    bench = open_bench(chalumeau)
    names = record_take(chalumeau, tmp_path / "monday 1.wav")
    page.goto(f"{bench.url}?view=play")
    page.fill("[data-mark=temperature]", "21,5")
    page.set_input_files("[data-mark=recordings]", tmp_path / "monday 1.wav")
    page.wait_for_selector(".bw-take-note")
    assert page.locator(".bw-take-name").all_text_contents() == names
    assert {round(float(t)) for t in page.locator(".bw-take-cents").all_text_contents()} == {7}
    records = read_records(chalumeau / "notes.csv")
    assert {record.temperature_c for record in records} == {21.5}
    # The second note is called by another name, saved at once, and undone.
    page.click("[data-note='1']")
    page.select_option("[data-mark=rename]", names[2])
    page.wait_for_function(
        f"document.querySelectorAll('.bw-take-name')[1].textContent === '{names[2]}'"
    )
    assert [r.note for r in read_records(chalumeau / "notes.csv")][1] == names[2]
    page.select_option("[data-mark=rename]", "-")
    page.wait_for_selector(".bw-take-note.odd")
    assert read_records(chalumeau / "notes.csv")[1].status == "unplanned"
    for _ in range(2):
        page.click("[data-mark=undo]")
    page.wait_for_function(
        f"document.querySelectorAll('.bw-take-name')[1].textContent === '{names[1]}'"
    )
    assert read_records(chalumeau / "notes.csv") == records
    # A reload in mid-work shows the same take and the same note.
    page.reload()
    page.wait_for_selector(".bw-take-note.chosen[data-note='1']")
    page.keyboard.press("n")
    page.wait_for_selector(".bw-take-note.chosen[data-note='2']")


def test_what_is_no_recording_is_refused(open_bench, page, chalumeau, tmp_path):
    (tmp_path / "words.wav").write_text("no sound\n" * 50, encoding="utf-8")
    soundfile.write(tmp_path / "quiet.wav", np.zeros(44_100), 44_100)
    (tmp_path / "picture.png").write_bytes(b"\x89PNG")
    bench = open_bench(chalumeau)
    page.goto(f"{bench.url}?view=play")
    for name, words in (
        ("words.wav", "is not a recording that can be read"),
        ("quiet.wav", "is silent"),
        ("picture.png", "only .wav .flac .ogg .oga .opus .mp3 .m4a"),
    ):
        page.set_input_files("[data-mark=recordings]", tmp_path / name)
        page.wait_for_selector(f".bw-drop [role=alert]:has-text('{words}')")
        assert not (chalumeau / name).exists()
        said = page.inner_text(".bw-drop [role=alert]")
        assert name in said
        assert str(tmp_path) not in said
        assert "/tmp" not in said
    assert not (chalumeau / "notes.csv").exists()


def test_corrections_are_accepted_as_a_revision(open_bench, page, chalumeau):
    fill_notes(chalumeau)
    design = (chalumeau / "chalumeau.toml").read_bytes()
    bench = open_bench(chalumeau)
    page.goto(f"{bench.url}?view=play")
    hole = load(chalumeau / "chalumeau.toml").placed_holes()[0][1]
    page.fill("[data-mark=reading-value]", "1")
    page.click("[data-mark=reading-add]")
    page.wait_for_selector("text=Measure again")  # a slip is refused, nothing is saved
    page.fill("[data-mark=reading-value]", f"{hole.diameter_mm + 0.1:.2f}".replace(".", ","))
    page.click("[data-mark=reading-add]")
    page.wait_for_selector("[data-mark=reading-remove-0]")
    [readings] = chalumeau.glob("readings *.csv")
    page.select_option("[data-mark=correct-name]", "Chalumeau")
    page.click("[data-mark=correct]")
    page.wait_for_selector("[data-mark=accept]")
    assert page.locator("[data-mark=plan] ol li").count() >= 1
    page.fill("[data-mark=revision]", "no 3 reworked")
    page.click("[data-mark=accept]")
    page.wait_for_selector("[data-mark=accepted]")
    reworked = load(chalumeau / "no 3 reworked.toml")
    assert reworked.name == "no 3 reworked"
    assert (chalumeau / "chalumeau.toml").read_bytes() == design
    assert reworked.placed_holes() != load(chalumeau / "chalumeau.toml").placed_holes()
    assert page.locator("[data-mark=file]").input_value() == "no 3 reworked.toml"
    # What is played from now on has a name of its own, so old readings and takes do not mix in.
    page.reload()
    assert page.input_value("[data-mark=played]") == "no 3 reworked"
    page.click("[data-mark=undo]")
    page.wait_for_function("document.querySelector('[data-mark=file]').value === 'chalumeau.toml'")
    assert not (chalumeau / "no 3 reworked.toml").exists()
    assert readings.exists()


def test_causes_are_named_with_the_reading_that_would_decide(open_bench, page, chalumeau):
    fill_notes(chalumeau)
    bench = open_bench(chalumeau)
    page.goto(f"{bench.url}?view=play")
    page.select_option("[data-mark=causes-name]", "Chalumeau")
    page.click("[data-mark=diagnose]")
    page.wait_for_selector("[data-mark=causes] table")
    causes, readings = page.locator("[data-mark=causes] table").all()
    assert causes.locator("tbody tr").count() >= 1
    assert " in " in causes.locator("tbody tr").first.inner_text()
    assert readings.locator("tbody tr").count() == 5
    assert "The player's own pitch" in page.inner_text("[data-mark=causes]")


def test_a_rework_with_a_leak_keeps_the_leak_that_stays(open_bench, page, chalumeau):
    """The leak test's reading goes into the table of fingerings of the file that is made."""
    design = load(chalumeau / "chalumeau.toml")
    fill_notes(chalumeau, design.name)
    bench = open_bench(chalumeau)
    page.goto(f"{bench.url}?view=play")
    hole = design.placed_holes()[-1][1].name
    page.select_option("[data-mark=reading-item]", "leak")
    page.select_option("[data-mark=reading-of]", f"h:{hole}")
    page.fill("[data-mark=reading-value]", "0,6")
    page.click("[data-mark=reading-add]")
    page.wait_for_selector(f"[data-mark=readings] tr:has-text('leak'):has-text('{hole}')")
    page.select_option("[data-mark=correct-name]", design.name)
    page.click("[data-mark=correct]")
    page.wait_for_selector("[data-mark=accept]")
    page.wait_for_selector(f"[data-mark=plan] :text('readings {design.name}.csv')")
    steps = page.locator("[data-mark=plan] ol li")
    assert steps.count() >= 2, steps.all_inner_texts()
    for number in range(steps.count()):
        words = steps.nth(number).inner_text()
        page.set_checked(f"[data-mark=step-{number}]", "seal" not in words)
    page.fill("[data-mark=revision]", "no 5")
    page.click("[data-mark=accept]")
    page.wait_for_selector("[data-mark=accepted], [data-mark=message]:visible")
    assert page.locator("[data-mark=accepted]").count(), page.inner_text("[data-mark=message]")
    reworked = load(chalumeau / "no 5.toml")
    assert reworked.fingerings == "no 5-fingerings.csv"
    before = read_fingerings(chalumeau / "fingerings.csv").fingerings
    after = read_fingerings(chalumeau / reworked.fingerings).fingerings
    assert [each.name for each in after] == [each.name for each in before]
    leaks = [hole for _, hole, _ in reworked.placed_holes() if hole.name not in design.hole_names()]
    assert len(leaks) == 1
    assert all(leaks[0].name in each.open_holes for each in after)
    # It is on the bench, and its pitches are shown: the file is whole.
    page.click("[data-mark=view-design]")
    page.wait_for_selector(".bw-note")
    assert page.input_value("[data-mark=file]") == "no 5.toml"
    page.click("[data-mark=undo]")
    page.wait_for_function("document.querySelector('[data-mark=file]').value === 'chalumeau.toml'")
    assert not (chalumeau / "no 5-fingerings.csv").exists()


def test_readings_make_the_instrument_as_built(open_bench, page, chalumeau):
    bench = open_bench(chalumeau)
    page.goto(f"{bench.url}?view=play")
    hole = load(chalumeau / "chalumeau.toml").placed_holes()[0][1]
    page.fill("[data-mark=reading-value]", f"{hole.diameter_mm + 0.2:.2f}")
    page.click("[data-mark=reading-add]")
    page.fill("[data-mark=built-name]", "no 4 as built")
    page.click("[data-mark=save-built]")
    page.wait_for_function(
        "document.querySelector('[data-mark=file]').value === 'no 4 as built.toml'"
    )
    built = load(chalumeau / "no 4 as built.toml")
    assert built.placed_holes()[0][1].diameter_mm == pytest.approx(hole.diameter_mm + 0.2)
    assert load(chalumeau / "chalumeau.toml").placed_holes()[0][1] == hole


def test_the_next_print_changes_the_design(open_bench, page, chalumeau):
    fill_notes(chalumeau)
    bench = open_bench(chalumeau)
    page.goto(f"{bench.url}?view=play")
    before = load(chalumeau / "chalumeau.toml")
    page.select_option("[data-mark=aim]", "next")
    page.click("[data-mark=correct]")
    page.wait_for_selector("[data-mark=accept]")
    page.click("[data-mark=accept]")
    page.wait_for_selector("[data-mark=accepted]")
    after = load(chalumeau / "chalumeau.toml")
    assert after != before
    assert (chalumeau / "chalumeau.toml").read_text(encoding="utf-8").startswith("#")
    page.click("[data-mark=revisions]")
    page.wait_for_selector("text=next print of Chalumeau")


def test_two_instruments_are_compared_and_a_blind_list_made(open_bench, page, chalumeau):
    fill_notes(chalumeau, "old barrel", 0.0)
    fill_notes(chalumeau, "new barrel", 15.0)
    bench = open_bench(chalumeau)
    page.goto(f"{bench.url}?view=play")
    page.click("[data-mark=campaign]")
    page.wait_for_selector("text=Scatter in cents")
    page.click("[data-mark=compare]")
    page.wait_for_selector("[data-mark=sentence]:has-text('Different')")
    page.fill("[data-mark=blind-one]", "old barrel")
    page.fill("[data-mark=blind-other]", "new barrel")
    page.click("[data-mark=blind]")
    page.wait_for_selector("[data-mark=blind-lists] a")
    assert "barrel" not in (chalumeau / "blind/blind-list.csv").read_text(encoding="utf-8")
    key = (chalumeau / "blind/blind-key.csv").read_text(encoding="utf-8")
    assert key.count("old barrel") == key.count("new barrel") == 12


def test_a_broken_table_of_notes_is_told_and_kept(open_bench, page, chalumeau):
    broken = b"instrument,take,note,cents\nx,t,E3,many\n"
    (chalumeau / "notes.csv").write_bytes(broken)
    bench = open_bench(chalumeau)
    page.goto(f"{bench.url}?view=play")
    page.wait_for_selector("[data-mark=takes] :text('is not a number')")
    assert (chalumeau / "notes.csv").read_bytes() == broken


@pytest.mark.parametrize("width", [768])
def test_a_narrow_tablet_shows_everything(open_bench, new_page, chalumeau, tmp_path, width):
    bench = open_bench(chalumeau)
    page = new_page(width, 1024)
    record_take(chalumeau, tmp_path / "a.wav", 3)
    page.goto(f"{bench.url}?view=play")
    page.set_input_files("[data-mark=recordings]", tmp_path / "a.wav")
    page.wait_for_selector(".bw-take-note")
    assert page.evaluate("document.documentElement.scrollWidth") <= width
