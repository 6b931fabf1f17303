"""axe-core finds nothing serious on any view, light and dark, and in the second language."""

from __future__ import annotations

import pytest
from axe_playwright_python.sync_playwright import Axe

from borewright.ledger import Ledger
from borewright.model import read_fingerings
from borewright.playing import write_records
from borewright.playing.records import Record

pytestmark = pytest.mark.slow  # a server and a real browser each

#: Views with what must be there before the check; the frame's dialogs besides.
VIEWS = {
    "design": ".bw-note",
    "fit": "[data-mark=run-fit]",
    "print": "[data-mark=make]",
    "play": "[data-mark=correct]",
    "sound": "[data-figure]",
    "shop": "[data-mark=start-ledger]",
}


def serious(page):
    """Serious and critical violations, each with its first place."""
    response = Axe().run(page).response
    return [
        f"{each['id']}: {each['help']}: {each['nodes'][0]['html'][:120]}"
        for each in response["violations"]
        if each["impact"] in ("serious", "critical")
    ]


@pytest.mark.parametrize("colours", ["light", "dark"])
def test_every_view_is_accessible(open_bench, page, chalumeau, colours):
    bench = open_bench(chalumeau)
    page.goto(bench.url)
    page.wait_for_selector(".bw-note")
    page.click("[data-mark=settings]")
    with page.expect_navigation():  # the page loads itself anew
        page.select_option("[data-mark=colours]", colours)
    page.wait_for_selector("[data-mark=settings]")
    for view, wanted in VIEWS.items():
        page.goto(f"{bench.url}?view={view}")
        page.wait_for_selector(wanted)
        page.wait_for_timeout(500)  # colours fade in
        assert serious(page) == [], view
    for dialog in ("settings", "revisions", "keys"):
        page.click(f"[data-mark={dialog}]")
        page.wait_for_selector(".q-dialog")
        page.wait_for_timeout(500)
        assert serious(page) == [], dialog
        page.keyboard.press("Escape")
        page.wait_for_selector(".q-dialog", state="detached")


def test_the_welcome_and_a_proposal_are_accessible(open_bench, page):
    bench = open_bench()
    page.goto(bench.url)
    page.wait_for_selector("[data-mark=begin-chalumeau]")
    assert serious(page) == []
    page.click("[data-mark=begin-chalumeau]")
    page.wait_for_selector(".bw-note")
    page.click("[data-mark=view-fit]")
    page.click("[data-mark=run-fit]")
    page.wait_for_selector("[data-mark=take-all]")
    assert serious(page) == []


def test_play_test_and_shop_with_something_in_them_are_accessible(open_bench, page, chalumeau):
    table = read_fingerings(chalumeau / "fingerings.csv")
    records = [
        Record(instrument="no 3", take=f"{take}.wav#1", note=each.name, cents=take - 20.0)
        for take in range(4)
        for each in table.fingerings
    ]
    write_records(records, chalumeau / "notes.csv")
    bench = open_bench(chalumeau)
    page.goto(f"{bench.url}?view=play")
    page.click("[data-mark=correct]")
    page.wait_for_selector("[data-mark=accept]")
    assert serious(page) == []
    page.goto(f"{bench.url}?view=shop&who=Ada&serial=LC-005")
    page.click("[data-mark=start-example]")
    page.wait_for_selector("[data-mark=sign-off]")
    assert serious(page) == []
    # A record that is open, with something wrong in it, then changed by somebody else meanwhile.
    page.click("[data-mark=order-record-R-101]")
    page.fill("[data-mark=correct-quantity]", "two")
    page.click("[data-mark=save-correction]")
    page.wait_for_selector("[data-mark=correct-quantity][aria-invalid=true]")
    assert serious(page) == []
    book = Ledger(chalumeau / "workshop.ledger")
    book.correct("order", "R-101", {"quantity": 9}, who="Ben", reason="counted again")
    page.wait_for_selector("[data-mark=conflict]:has-text('Ben')")
    page.set_viewport_size({"width": 390, "height": 800})  # rows are laid out as cards
    page.wait_for_timeout(500)
    assert serious(page) == []


def test_the_views_of_an_instrument_with_keys_are_accessible(open_bench, page, clarinet):
    url = open_bench(clarinet).url
    page.goto(f"{url}?view=design")
    page.click("[data-mark=keys-in-the-round]")
    page.wait_for_selector(".bw-keys canvas")
    page.click("[data-mark=measure-keys]")
    page.wait_for_selector(".bw-measure svg")
    page.wait_for_timeout(500)  # colours fade in
    assert serious(page) == []
    page.goto(f"{url}?view=print")
    page.wait_for_selector("[data-mark=make-key-fit]")
    page.wait_for_timeout(500)
    assert serious(page) == []


def test_the_second_language(open_bench, page, chalumeau):
    bench = open_bench(chalumeau)
    page.goto(bench.url)
    page.wait_for_selector(".bw-note")
    page.click("[data-mark=settings]")
    page.select_option("[data-mark=language]", "de")
    page.wait_for_selector("text=Rückgängig")
    page.wait_for_selector(".bw-note")
    assert page.evaluate("document.documentElement.lang") == "de"
    assert page.get_by_label("R2 Station").input_value() == "81,00"
    assert serious(page) == []
