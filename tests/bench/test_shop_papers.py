"""Papers of the shop in a browser, made where one looks for them; keywork; the whole ledger."""

from __future__ import annotations

import zipfile

import pytest

from borewright.ledger import RECORD_KINDS, Ledger, compare_sources, restore

pytestmark = pytest.mark.slow  # a server and a real browser each


@pytest.fixture
def shop(open_bench, new_page, clarinet):
    """A page on the invented batch of twelve, beside the clarinet it was made of."""
    bench = open_bench(clarinet)
    page = new_page()
    page.goto(f"{bench.url}?view=shop&who=Ada")
    page.click("[data-mark=start-example]")
    page.wait_for_selector("[data-mark=serial-LC-001]")
    return page, Ledger(clarinet / "workshop.ledger"), bench


def made(page, stem: str) -> str:
    """Make the paper that is chosen; the text of its page, once PDF and page are downloaded."""
    page.click("[data-mark=make-paper]")
    page.wait_for_selector(f"[data-mark=papers] li:has-text('{stem}'):has-text('just made')")
    contents = []
    for ending in ("pdf", "html"):
        link = page.locator(f"[data-mark=papers] a[href*='{stem}'][href$='.{ending}']")
        with page.expect_download() as started:
            link.click()
        contents.append(started.value.path().read_bytes())
    assert contents[0].startswith(b"%PDF")
    return contents[1].decode("utf-8")


def choose(page, paper: str, of: str) -> None:
    page.select_option("[data-mark=paper]", paper)
    page.wait_for_selector(f"[data-mark=paper-of] option[value='{of}']", state="attached")
    page.select_option("[data-mark=paper-of]", of)


def test_papers_that_ask_nothing(shop):
    page, book, _bench = shop
    book.correct("order", "R-101", {"unit_price": "950"}, who="Ada", reason="costed")
    for paper, of, stem in (
        ("traveller", "LC-002", "traveller-LC-002"),
        ("care", "LC-002", "care-LC-002"),
        ("quotation", "R-101", "quotation-R-101"),
        ("batch", "spring 2031", "batch-spring"),
    ):
        choose(page, paper, of)
        assert of in made(page, stem)


def test_a_keywork_order_from_its_quote(shop):
    page, book, _bench = shop
    # Where one looks for it: at the quote.
    page.select_option("[data-mark=table]", "quote")
    page.click("[data-mark=look-quote-Q-1]")
    page.click("[data-mark=papers-of]")
    page.wait_for_selector("[data-mark=paper-quantity]")
    assert page.input_value("[data-mark=paper]") == "keywork-order"
    assert page.input_value("[data-mark=paper-of]") == "Q-1"
    least = int(book.get("quote", "Q-1")["minimum_order"])
    page.fill("[data-mark=paper-quantity]", str(least - 1))
    page.fill("[data-mark=paper-tolerance]", "half")
    page.click("[data-mark=make-paper]")
    for mark in ("quantity", "tolerance"):
        page.wait_for_selector(f"[data-mark=paper-{mark}][aria-invalid=true]")
    page.fill("[data-mark=paper-quantity]", "12")
    page.fill("[data-mark=paper-tolerance]", "0,15")
    words = made(page, "keywork-order-Q-1")
    assert "±0.15" in words
    assert "Fernmill Keys" in words


def test_a_set_up_card_with_cents(shop):
    page, _book, _bench = shop
    choose(page, "set-up", "F1")
    page.wait_for_selector("[data-mark=paper-design]")
    assert page.input_value("[data-mark=paper-design]") == "loan clarinet 3"
    page.select_option("[data-mark=paper-cents]", "bench")
    words = made(page, "set-up-F1")
    assert "raise the lift" in words
    assert "G-sharp key" in words


def test_a_batch_plan_and_hours_that_are_none(shop):
    page, book, _bench = shop
    choose(page, "plan", "spring 2031")
    page.click("[data-mark=make-paper]")
    page.wait_for_selector("[data-mark=message]:has-text('nothing to print')")
    more = {"quantity": 14}
    book.correct("batch", "spring 2031", more, who="Ben", reason="two more are wanted")
    page.fill("[data-mark=paper-from]", "2031-05-03")  # a Saturday
    page.fill("[data-mark=paper-opens]", "25")
    page.click("[data-mark=make-paper]")
    page.wait_for_selector("[data-mark=paper-opens][aria-invalid=true]")
    page.fill("[data-mark=paper-opens]", "9")
    page.select_option("[data-mark=paper-weekends]", "free")
    words = made(page, "plan-spring")
    assert "Mon 2031-05-05" in words
    assert "Sat 2031-05-03" not in words
    assert "lower joint" in words


def test_sources_are_surveyed_and_compared(shop):
    page, book, _bench = shop
    page.select_option("[data-mark=survey-source]", "Fernmill Keys")
    page.click("[data-mark=survey]")
    page.wait_for_selector("[data-mark=keywork-answer] tr:has-text('FC'):has-text('F4')")
    page.fill("[data-mark=compare-sets]", "none")
    page.click("[data-mark=compare-sources]")
    page.wait_for_selector("[data-mark=compare-sets][aria-invalid=true]")
    page.fill("[data-mark=compare-sets]", "12")
    page.select_option("[data-mark=compare-plating]", "silver")
    page.click("[data-mark=compare-sources]")
    best = compare_sources(book, 12, plating="silver")[0]
    words = f"1. {best.source}: {best.total:.2f} of 10"
    page.wait_for_selector(f"[data-mark=keywork-answer] h3:has-text('{words}')")


def test_the_whole_ledger_is_taken_along(shop, tmp_path):
    page, book, _bench = shop
    with page.expect_download() as started:
        page.click("[data-mark=backup]")
    started.value.save_as(tmp_path / "taken.backup")
    restore(str(tmp_path / "again.ledger"), tmp_path / "taken.backup")
    again = Ledger(tmp_path / "again.ledger")
    for kind in RECORD_KINDS:
        assert again.records(kind) == book.records(kind)
    with page.expect_download() as started:
        page.click("[data-mark=export]")
    with zipfile.ZipFile(started.value.path()) as archive:
        assert set(archive.namelist()) == {f"{kind}.csv" for kind in RECORD_KINDS}
        assert archive.read("order.csv").decode("utf-8").count("R-10") == 3
    page.click("[data-mark=verify]")
    page.wait_for_selector("[data-mark=whole-said]:has-text('The ledger is whole.')")
    # A design's kept file comes back as it was kept.
    page.select_option("[data-mark=table]", "design")
    page.click("[data-mark='look-design-loan clarinet 3']")
    with page.expect_download() as started:
        page.click("[data-mark=kept-file]")
    _name, content = book.kept_file(str(book.get("design", "loan clarinet 3")["file"]))
    assert started.value.path().read_bytes() == content
