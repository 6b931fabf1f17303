"""The shop in a browser: the board, checks ticked, orders, cost, papers."""

from __future__ import annotations

from decimal import Decimal

import pytest

from borewright.ledger import Ledger, batch_cost, issue_certificate, record_check, sign_off

pytestmark = pytest.mark.slow  # a server and a real browser each


@pytest.fixture
def shop(open_bench, new_page, chalumeau):
    """A page on the invented batch of twelve, at a tablet's width; its ledger and the bench."""
    bench = open_bench(chalumeau)
    page = new_page(768, 1024)
    page.goto(f"{bench.url}?view=shop")
    page.click("[data-mark=start-example]")
    page.wait_for_selector("[data-mark=serial-LC-001]")
    page.fill("[data-mark=who]", "Ada")
    page.press("[data-mark=who]", "Tab")
    return page, Ledger(chalumeau / "workshop.ledger"), bench


def test_a_check_is_ticked_on_a_tablet_and_signed_off(shop):
    page, book, _bench = shop
    assert page.evaluate("document.documentElement.scrollWidth") <= 768
    page.click("[data-mark=serial-LC-005]")
    page.wait_for_selector("[data-mark=sign-off]")
    before = book.count("check")
    page.click("[data-mark='subject-cork fit']")
    page.click("[data-mark='fail-cork fit-']")
    page.wait_for_selector(".bw-failed[data-mark='check-cork fit-']")
    assert book.count("check") == before + 1
    # Signing off is refused in clear words while something has failed.
    page.click("[data-mark=sign-off]")
    page.wait_for_selector("[data-mark=message]:has-text('repair and check again: cork fit')")
    page.click("[data-mark='pass-cork fit-']")
    page.wait_for_selector(".bw-passed[data-mark='check-cork fit-']")
    # A reading is judged by the limits of the one before it.
    page.click("[data-mark=subject-springs]")
    page.fill("[data-mark='value-springs-F key']", "90")
    page.click("[data-mark='write-springs-F key']")
    page.wait_for_selector(".bw-failed[data-mark='check-springs-F key']")
    page.fill("[data-mark='value-springs-F key']", "33,5")
    page.click("[data-mark='write-springs-F key']")
    page.wait_for_selector(".bw-passed[data-mark='check-springs-F key']:has-text('33.5 g')")
    page.click("[data-mark=subject-leak]")
    page.fill("[data-mark='value-leak-lower joint']", "31,5")
    page.click("[data-mark='write-leak-lower joint']")
    page.wait_for_selector(".bw-passed[data-mark='check-leak-lower joint']:has-text('31.5')")
    page.click("[data-mark=sign-off]")
    page.wait_for_selector("[data-mark=signed]:has-text('Ada')")
    newest = book.records("check", {"instrument": "LC-005"})[-1]
    assert (newest["subject"], newest["who"]) == ("sign-off", "Ada")
    box = page.locator("[data-mark='pass-cork fit-']").bounding_box()
    assert box["height"] >= 48  # a finger's width at a tablet
    # A reload in mid-work shows the same instrument and worker.
    page.reload()
    page.wait_for_selector("[data-mark=signed]")
    assert page.input_value("[data-mark=who]") == "Ada"


def test_nobody_writes_without_a_name_and_others_are_seen(shop):
    page, book, _bench = shop
    page.fill("[data-mark=who]", "")
    page.press("[data-mark=who]", "Tab")
    page.click("[data-mark=serial-LC-006]")
    before = book.count("check")
    page.click("[data-mark='subject-cork fit']")
    page.click("[data-mark='pass-cork fit-']")
    page.wait_for_selector("[data-mark=message]:has-text('not known who writes')")
    assert book.count("check") == before
    # What a command or another bench writes is seen within a moment.
    values = {"instrument": "LC-006", "subject": "cork fit", "passed": "no"}
    record_check(book, values, who="Ben")
    page.wait_for_selector(".bw-failed[data-mark='check-cork fit-']:has-text('Ben')")


def test_a_certificate_that_a_later_failure_voids(shop):
    page, book, _bench = shop
    leak = {"instrument": "LC-006", "subject": "leak", "feature": "upper joint"}
    sign_off(book, "LC-006", who="Ada")
    issue_certificate(book, "LC-006", who="Ada")
    page.click("[data-mark=serial-LC-006]")
    page.wait_for_selector("[data-mark=certificate-certificate-1]")
    assert "VOID" not in page.inner_text("[data-mark=certificate-certificate-1]")
    record_check(book, leak | {"value": 3}, who="Ben")
    page.wait_for_selector("[data-mark=certificate-certificate-1]:has-text('VOID')")
    page.wait_for_selector("[data-mark=signed]:has-text('does not hold any more')")
    page.select_option("[data-mark=paper]", "certificate")
    page.select_option("[data-mark=paper-of]", "LC-006")
    page.click("[data-mark=make-paper]")
    page.wait_for_selector("[data-mark=message]:has-text('failed afterwards')")


def test_orders_cost_and_papers(shop, chalumeau):
    page, book, _bench = shop
    page.click("[data-mark=order-R-101]")
    page.wait_for_selector("tr:has-text('R-101'):has-text('in work')")
    assert book.get("order", "R-101")["accepted"] is not None
    assert book.history("order", "R-101")[-1].who == "Ada"
    page.click("text=A new order")
    page.fill("[data-mark=new-code]", "R-200")
    page.fill("[data-mark=new-customer]", "Invented Band")
    page.fill("[data-mark=new-quantity]", "two")
    page.click("[data-mark=add-order]")
    page.wait_for_selector("[data-mark=order-form] [role=alert]:has-text(\"'two' cannot be used\")")
    page.wait_for_selector("[data-mark=order-form] [role=alert]:has-text('is missing')")
    page.fill("[data-mark=new-quantity]", "2")
    page.fill("[data-mark=new-currency]", "EUR")
    page.click("[data-mark=add-order]")
    page.wait_for_selector("tr:has-text('R-200'):has-text('quoted')")
    assert page.input_value("[data-mark=new-code]") == ""
    page.fill("[data-mark=new-code]", "R-200")  # a number that is taken is told at its field
    page.fill("[data-mark=new-customer]", "Invented Band")
    page.fill("[data-mark=new-quantity]", "2")
    page.fill("[data-mark=new-currency]", "EUR")
    page.click("[data-mark=add-order]")
    page.wait_for_selector("[data-mark=new-code][aria-invalid=true]")
    page.fill("[data-mark=margin]", "30")
    page.click("[data-mark=cost]")
    page.wait_for_selector("[data-mark=cost-sheet] table")
    page.fill("[data-mark=cost-quantity]", "many")
    page.click("[data-mark=cost]")
    page.wait_for_selector("[data-mark=cost-quantity][aria-invalid=true]")
    page.fill("[data-mark=cost-quantity]", "24")
    page.select_option("[data-mark=cost-plating]", "nickel")
    page.click("[data-mark=cost]")
    more = batch_cost(book, "spring 2031", quantity=24).sheet
    said = f"tr:has-text('24, '):has-text('{more.unit_cost.words}')"
    page.wait_for_selector(f"[data-mark=cost-sheet] {said}")
    page.wait_for_selector("[data-mark=cost-sheet] tr:has-text('12, nickel')")
    # The price goes to an order that is still open without being typed again.
    page.click("[data-mark=price-R-102]")
    price = batch_cost(book, "spring 2031").sheet.price_for_margin(Decimal(30))
    page.wait_for_selector(f"[data-mark=priced]:has-text('R-102 costs {price}')")
    assert book.get("order", "R-102")["unit_price"] == price.amount
    page.click("[data-mark=make-paper]")
    link = page.locator("[data-mark=papers] a[href$='.pdf']").first
    with page.expect_download() as started:
        link.click()
    assert started.value.path().read_bytes().startswith(b"%PDF")
    assert list((chalumeau / "papers").glob("*.html"))


def test_an_empty_ledger_is_started_and_a_foreign_file_told(open_bench, page, chalumeau):
    (chalumeau / "sales.db").write_bytes(b"no database" * 100)
    bench = open_bench(chalumeau)
    page.goto(f"{bench.url}?view=shop")
    page.wait_for_selector("[role=alert]:has-text('sales.db')")
    page.click("[data-mark=start-ledger]")
    page.wait_for_selector("text=There are no instruments in the ledger yet.")
    assert Ledger(chalumeau / "workshop.ledger").count("instrument") == 0


def test_a_serial_number_is_begun_and_carried_on(open_bench, page, chalumeau):
    """From an empty ledger: the design on the bench, a serial number, its first check."""
    bench = open_bench(chalumeau)
    page.goto(f"{bench.url}?view=shop&who=Ada")
    page.click("[data-mark=start-ledger]")
    page.select_option("[data-mark=table]", "design")
    page.click("text=Enter a new one: design")
    page.wait_for_selector("[data-mark=field-file]")  # the form is drawn anew
    page.fill("[data-mark=field-code]", "chalumeau 1")
    page.click("[data-mark=add-record]")
    page.wait_for_selector("[data-mark=record-added]:has-text('chalumeau 1')")
    book = Ledger(chalumeau / "workshop.ledger")
    assert book.get("design", "chalumeau 1")["file_name"] == "chalumeau.toml"
    page.select_option("[data-mark=table]", "instrument")
    page.wait_for_selector("[data-mark=field-design]")
    page.fill("[data-mark=field-code]", "CH-001")
    page.click("[data-mark=add-record]")  # without its design: told, and what was typed stays
    page.wait_for_selector("[data-mark=record-form] [role=alert]:has-text('is missing')")
    assert page.input_value("[data-mark=field-code]") == "CH-001"
    page.select_option("[data-mark=field-design]", "chalumeau 1")
    page.click("[data-mark=add-record]")
    page.click("[data-mark=serial-CH-001]")
    page.click("[data-mark='pass-springs-']")
    page.wait_for_selector(".bw-passed[data-mark='check-springs-']")
    assert book.records("check", {"instrument": "CH-001"})[0]["passed"]


def test_an_order_that_somebody_moved_on_is_not_moved_again(shop, new_page):
    """Two pages at one order: the second is told, and writes nothing over the first."""
    page, book, bench = shop
    other = new_page()
    other.goto(f"{bench.url}?view=shop&who=Ben")
    other.wait_for_selector("[data-mark=order-R-101]:has-text('Ordered today')")
    # Somebody at a shell writes while Ben's finger is on the button: his page saw version 1.
    other.evaluate("document.querySelector('[data-mark=order-R-101]').dataset.old = '1'")
    book.correct("order", "R-101", {"accepted": "2031-02-10"}, who="Cleo", reason="by post")
    other.evaluate("document.querySelector('[data-old]')?.click()")
    other.wait_for_selector(
        "[data-mark=message]:has-text('changed by another bench since version 1')"
    )
    order = book.get("order", "R-101")
    assert (str(order["accepted"]), order["version"]) == ("2031-02-10", 2)
    # Both pages show the newest by themselves, and go on from it.
    for each in (page, other):
        each.wait_for_selector("tr:has-text('R-101'):has-text('in work')")
    other.click("[data-mark=order-R-101]")
    # Delivered, there is no next step to click.
    other.wait_for_selector("[data-mark=order-R-101]", state="detached")
    assert book.history("order", "R-101")[-1].who == "Ben"


@pytest.mark.parametrize(("width", "language"), [(390, "en"), (800, "de"), (1024, "de")])
def test_narrow_screens_hide_no_button(shop, width, language):
    """Nothing is pushed out of sight, and a refusal stands where the eye is."""
    page, _book, bench = shop
    if language != "en":
        page.click("[data-mark=settings]")
        page.select_option("[data-mark=language]", language)
        page.wait_for_selector("text=Rückgängig")
        page.wait_for_selector("[data-mark=serial-LC-005]")
    page.set_viewport_size({"width": width, "height": 800})
    page.goto(f"{bench.url}?view=shop&who=Ada&serial=LC-005&table=order&record=R-101")
    page.wait_for_selector("[data-mark=history]")
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    for mark in ("order-R-101", "order-record-R-101", "look-order-R-101", "save-correction"):
        box = page.locator(f"[data-mark='{mark}']").bounding_box()
        assert box["x"] >= 0, mark
        assert box["x"] + box["width"] <= width, mark
    page.select_option("[data-mark=paper]", "certificate")
    page.click("[data-mark=make-paper]")
    page.wait_for_selector("[data-mark=message]:has-text('LC-005')")
    box = page.locator("[data-mark=message]").bounding_box()
    assert 0 <= box["y"] < 200
    assert page.evaluate("scrollY") > 200  # far down the page
