"""Every page has its own language; changing it in the middle of work loses nothing."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

from borewright.model import read_fingerings
from borewright.playing.records import Record, write_records

pytestmark = pytest.mark.slow  # a server and a real browser each

#: Clicks, and chooses another language in the frame in which ``wanted`` is seen.
CLICK_THEN_SPEAK = """([button, wanted, language]) => {
  const look = () => {
    if (document.querySelector(wanted)?.offsetParent) {
      const choice = document.querySelector('[data-mark=language]');
      choice.value = language;
      choice.dispatchEvent(new Event('change'));
    } else requestAnimationFrame(look);
  };
  document.querySelector(button).click();
  look();
}"""


def speak(page, language):
    page.click("[data-mark=settings]")
    page.select_option("[data-mark=language]", language)
    expect(page.locator("html")).to_have_attribute("lang", language)


def open_fit(page, bench):
    page.goto(f"{bench.url}?view=fit")
    page.wait_for_selector("[data-mark=run-fit]")


def test_two_pages_in_two_languages(open_bench, new_page, chalumeau):
    bench = open_bench(chalumeau)
    english, german = new_page(), new_page()
    for page in (english, german):
        page.goto(f"{bench.url}?view=design")
        page.wait_for_selector(".bw-note")
    speak(german, "de")
    expect(german.locator("[data-mark=undo]")).to_have_text("Rückgängig")
    expect(english.locator("[data-mark=undo]")).to_have_text("Undo")
    # What one of them does, each tells in its own words; also what was done before.
    field = english.get_by_label("R1 diameter")
    field.fill("5.7")
    field.press("Enter")
    german.wait_for_selector("[data-mark=undo][title*='Durchmesser']")
    english.wait_for_selector("[data-mark=undo][title*='diameter 6 → 5.7 mm']")
    expect(german.get_by_label("R1 Durchmesser")).to_have_value("5,70")
    expect(english.get_by_label("R1 diameter")).to_have_value("5.70")
    # Loaded anew each keeps its language, and the choice is the new pages' default.
    for page, words in ((english, "Undo"), (german, "Rückgängig")):
        page.reload()
        expect(page.locator("[data-mark=undo]")).to_have_text(words)
    third = new_page()
    third.goto(bench.url)
    expect(third.locator("[data-mark=undo]")).to_have_text("Rückgängig")


def test_another_language_in_mid_fit_keeps_the_job_and_its_lock(open_bench, new_page, clarinet):
    bench = open_bench(clarinet)
    page, other = new_page(), new_page()
    for each in (page, other):
        open_fit(each, bench)
    page.click("[data-mark=settings]")
    page.wait_for_selector("[data-mark=language]")
    page.evaluate(
        CLICK_THEN_SPEAK, ["[data-mark=run-fit]", "[data-mark=progress]", "de"]
    )  # the very first progress: the fit has begun
    expect(page.locator("html")).to_have_attribute("lang", "de")
    page.click("[data-mark=run-fit]")  # the job is under way: nothing begins
    words = page.locator("[data-mark=job-words]:visible")
    expect(words).to_contain_text("Einstimmen")
    expect(other.locator("[data-mark=job-words]:visible")).to_contain_text("Fitting")
    page.click("[data-mark=cancel-job]:visible")
    page.wait_for_selector("[data-mark=fit-cancelled]:has-text('Nichts wurde geändert')")
    other.wait_for_selector("[data-mark=fit-cancelled]:has-text('Nothing was changed')")
    for each in (page, other):  # there was one job, and it is gone on both pages
        expect(each.locator("[data-mark=progress]")).to_be_hidden()


def test_corrections_are_stopped_and_go_on_in_another_language(open_bench, page, chalumeau):
    table = read_fingerings(chalumeau / "fingerings.csv")
    takes = [
        Record(instrument="Fuß & Söhne", take=f"one.wav#{take}", note=each.name, cents=-20.0 + take)
        for take in range(3)
        for each in table.fingerings
    ]
    write_records(takes, chalumeau / "notes.csv")
    bench = open_bench(chalumeau)
    page.goto(f"{bench.url}?view=play")
    page.select_option("[data-mark=correct-name]", "Fuß & Söhne")
    page.click("[data-mark=settings]")
    page.wait_for_selector("[data-mark=language]")
    page.evaluate(CLICK_THEN_SPEAK, ["[data-mark=correct]", "[data-mark=progress]", "de"])
    expect(page.locator("html")).to_have_attribute("lang", "de")
    page.click("[data-mark=cancel-job]:visible")  # the job outlived the page in English
    expect(page.locator("[data-mark=job-words]")).to_contain_text("Korrekturen")
    expect(page.locator("[data-mark=job-words]")).to_contain_text("abgebrochen")
    expect(page.locator("[data-mark=accept]")).to_have_count(0)
    page.click("[data-mark=correct]")
    page.wait_for_selector("[data-mark=accept]")


def test_what_is_refused_and_not_yet_mended_outlives_the_language(open_bench, page, chalumeau):
    bench = open_bench(chalumeau)
    open_fit(page, bench)
    page.click("[data-mark=limits]")
    field = page.locator("[data-mark=smallest_hole_mm]")
    field.fill("4,x")
    field.blur()
    page.wait_for_selector("text='4,x' is not a number")
    speak(page, "de")
    expect(page.locator("[data-mark=smallest_hole_mm]")).to_have_value("4,x")
    expect(page.locator("text=„4,x“ ist keine Zahl")).to_have_count(1)
    page.click("[data-mark=view-design]")
    expect(page.locator("[data-mark=run-fit]")).to_have_count(0)
    page.wait_for_selector("[data-mark=sizes]")
    cell = page.get_by_label("R1 Durchmesser")
    cell.fill("breit")
    cell.press("Enter")
    page.wait_for_selector("text=„breit“ ist keine Zahl")
    speak(page, "en")
    expect(page.get_by_label("R1 diameter")).to_have_value("breit")
    page.wait_for_selector("text='breit' is not a number")


@pytest.fixture
def awkward(chalumeau):
    """A chalumeau whose parts and hole bear names that are words of the trade, or of German."""
    file, table = chalumeau / "chalumeau.toml", chalumeau / "fingerings.csv"
    text = file.read_text(encoding="utf-8")
    for old, new in (("body", "upper or lower"), ("head", "Fuß & Söhne"), ("R2", "bell")):
        assert f'name = "{old}"' in text
        text = text.replace(f'name = "{old}"', f'name = "{new}"')
        text = text.replace(f'"{old}.', f'"{new}.')  # what [fit] frees of it
    file.write_text(text, encoding="utf-8")
    rows = table.read_text(encoding="utf-8")
    table.write_text(re.sub(r"\bR2\b", "bell", rows), encoding="utf-8")
    return chalumeau


def test_one_fault_reads_right_in_both_languages_with_awkward_names(open_bench, new_page, awkward):
    bench = open_bench(awkward)
    english, german = new_page(), new_page()
    for page, language in ((english, "en"), (german, "de")):
        page.goto(f"{bench.url}?view=design&language={language}")
        page.wait_for_selector("[data-mark=sizes]:has-text('Fuß & Söhne')")
        page.wait_for_selector("[data-mark=sizes]:has-text('upper or lower')")
    file = awkward / "chalumeau.toml"
    text = file.read_text(encoding="utf-8")
    file.write_text(text.replace("station_mm = 81.0", "station_mm = 810.0"), encoding="utf-8")
    for page, words, remedy in (
        (
            english,
            "part 'upper or lower': hole 'bell' at station 810 is outside its "
            "part, which is 160 mm long.",
            "Stations run from the part's own top shoulder.",
        ),
        (
            german,
            "Teil „upper or lower“: Loch „bell“ bei Station 810 liegt außerhalb "
            "seines Teils, das 160 mm lang ist.",
            "Stationen zählen von der oberen Schulter des Teils.",
        ),
    ):
        expect(page.locator("[data-mark=message]")).to_contain_text(words)
        expect(page.locator(".bw-message")).to_contain_text(remedy)
