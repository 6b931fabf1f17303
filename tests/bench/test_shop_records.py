"""Every record of the ledger in a browser: looked at, corrected with a reason, kept in history."""

from __future__ import annotations

import pytest

from borewright.ledger import RECORD_KINDS, Ledger

pytestmark = pytest.mark.slow  # a server and a real browser each


@pytest.fixture
def shop(open_bench, new_page, chalumeau):
    """A page on the invented batch of twelve; its ledger and the bench."""
    bench = open_bench(chalumeau)
    page = new_page()
    page.goto(f"{bench.url}?view=shop&who=Ada")
    page.click("[data-mark=start-example]")
    page.wait_for_selector("[data-mark=serial-LC-001]")
    return page, Ledger(chalumeau / "workshop.ledger"), bench


def look(page, kind: str, code: str) -> None:
    page.select_option("[data-mark=table]", kind)
    page.fill("[data-mark=find-record]", code)
    page.press("[data-mark=find-record]", "Tab")
    page.click(f"[data-mark='look-{kind}-{code}']")
    page.wait_for_selector(f"[data-mark=record-title]:has-text('{code}')")


def test_a_record_of_every_table_is_shown_with_its_history(shop):
    page, book, _bench = shop
    for kind in RECORD_KINDS.values():
        records = book.records(kind.name)
        page.select_option("[data-mark=table]", kind.name)
        if not records:
            page.wait_for_selector("[data-mark=record-list]:has-text('Nothing is written down')")
            continue
        code = records[-1]["code"]
        page.click(f"[data-mark='look-{kind.name}-{code}']")
        page.wait_for_selector(f"[data-mark=record-title]:has-text('{code}')")
        page.wait_for_selector("[data-mark=history] [data-mark=version-1]:has-text('example')")
        shown = page.locator("[data-mark=record] form [data-mark^=correct-]").count()
        wanted = [field for field in kind.fields if field.kind != "file"]
        assert shown >= len(wanted) + 1, kind.name  # each of its fields, and the reason
        for field in page.locator("[data-mark=record] form [data-mark^=correct-]").all():
            name = field.get_attribute("id")
            assert page.locator(f"label[for='{name}']").inner_text().strip()


def test_a_correction_is_written_with_its_reason(shop):
    page, book, _bench = shop
    page.click("[data-mark=order-record-R-101]")
    page.wait_for_selector("[data-mark=record-title]:has-text('R-101')")
    page.wait_for_function(
        "document.activeElement.dataset.mark === 'record-title'"  # a screen reader is led there
    )
    before = book.get("order", "R-101")
    page.fill("[data-mark=correct-quantity]", "two")
    page.fill("[data-mark=correct-unit_price]", "-3")
    page.click("[data-mark=save-correction]")
    for mark in ("quantity", "unit_price", "reason"):
        field = page.locator(f"[data-mark=correct-{mark}]")
        page.wait_for_selector(f"[data-mark=correct-{mark}][aria-invalid=true]")
        about = field.get_attribute("aria-describedby").split()[-1]
        assert page.locator(f"[id='{about}'][role=alert]").inner_text()
    wrong = page.locator("[data-mark=record] [role=alert].bw-wrong").all_inner_texts()
    assert any("How many: 'two' cannot be used. Write a whole number" in each for each in wrong)
    assert page.evaluate("document.activeElement.dataset.mark") == "correct-quantity"
    assert book.get("order", "R-101") == before  # nothing half-written
    page.fill("[data-mark=correct-quantity]", "7")
    page.fill("[data-mark=correct-unit_price]", "951,5")
    page.fill("[data-mark=correct-note]", "two lines\nof a note")
    page.fill("[data-mark=correct-promised]", "2031-05-09")
    page.fill("[data-mark=correct-reason]", "counted again")
    page.press("[data-mark=correct-reason]", "Enter")  # the keyboard alone
    page.wait_for_selector("[data-mark=version-2]:has-text('counted again')")
    after = book.get("order", "R-101")
    assert (after["quantity"], f"{after['unit_price']:f}") == (7, "951.5")
    assert (after["note"], str(after["promised"])) == ("two lines\nof a note", "2031-05-09")
    assert book.history("order", "R-101")[-1].who == "Ada"
    assert page.input_value("[data-mark=correct-reason]") == ""
    words = f"How many: {before['quantity']} → 7"
    page.wait_for_selector(f"[data-mark=version-2] li:has-text('{words}')")
    # A reload shows the same record.
    page.reload()
    page.wait_for_selector("[data-mark=record-title]:has-text('R-101')")
    # Out of use needs a reason too; the history stays.
    page.click("[data-mark=withdraw]")
    page.wait_for_selector("[data-mark=correct-reason][aria-invalid=true]")
    page.fill("[data-mark=correct-reason]", "ordered twice")
    page.click("[data-mark=withdraw]")
    page.wait_for_selector("[data-mark=version-3]:has-text('ordered twice')")
    assert book.get("order", "R-101")["withdrawn"]
    assert not page.locator("[data-mark=save-correction]").is_visible()


def test_two_pages_correct_the_same_record(shop, new_page):
    """The second is told in clear words, loses nothing, and overwrites nothing unseen."""
    page, book, bench = shop
    other = new_page()
    other.goto(f"{bench.url}?view=shop&who=Ben&table=lot&record={book.records('lot')[0]['code']}")
    code = book.records("lot")[0]["code"]
    other.wait_for_selector("[data-mark=correct-description]")
    look(page, "lot", code)
    page.fill("[data-mark=correct-description]", "grey, typed by Ada")
    page.fill("[data-mark=correct-dried_hours]", "6,5")
    page.fill("[data-mark=correct-reason]", "read the label")
    other.fill("[data-mark=correct-description]", "black, typed by Ben")
    other.fill("[data-mark=correct-supplier]", "Invented Plastics")
    other.fill("[data-mark=correct-reason]", "asked the supplier")
    other.click("[data-mark=save-correction]")
    other.wait_for_selector("[data-mark=version-2]")
    # At once, without a stroke of hers: who, why, what was changed, and her words still there.
    page.wait_for_selector("[data-mark=conflict]:has-text('Ben corrected this record')")
    said = page.inner_text("[data-mark=conflict]")
    for words in ("asked the supplier", "black, typed by Ben", "grey, typed by Ada"):
        assert words in said
    assert page.input_value("[data-mark=correct-description]") == "grey, typed by Ada"
    assert page.input_value("[data-mark=correct-dried_hours]") == "6,5"
    page.click("[data-mark=save-correction]")  # saving all the same is refused
    page.wait_for_selector("[data-mark=conflict]:has-text('Ben corrected this record')")
    assert book.get("lot", code)["version"] == 2
    page.click("[data-mark=go-on]")
    page.wait_for_selector("[data-mark=conflict]", state="hidden")
    assert page.input_value("[data-mark=correct-description]") == "grey, typed by Ada"
    assert page.input_value("[data-mark=correct-supplier]") == "Invented Plastics"
    assert page.input_value("[data-mark=correct-reason]") == "read the label"
    page.click("[data-mark=save-correction]")
    page.wait_for_selector("[data-mark=version-3]")
    lot = book.get("lot", code)
    assert (lot["description"], lot["supplier"]) == ("grey, typed by Ada", "Invented Plastics")
    assert lot["dried_hours"] == 6.5
    # The other page, where nothing is typed any more, simply shows the newest.
    other.wait_for_selector("[data-mark=version-3]")
    assert other.input_value("[data-mark=correct-description]") == "grey, typed by Ada"


def test_what_is_typed_stays_while_others_write(shop, new_page):
    page, book, _bench = shop
    page.click("[data-mark=serial-LC-005]")
    page.wait_for_selector("[data-mark=sign-off]")
    page.click("[data-mark=subject-leak]")
    page.locator("[data-mark='value-leak-lower joint']").press_sequentially("27")
    page.locator("[data-mark=records] details summary").first.click()
    page.fill("[data-mark=field-code]", "LC-099")
    book.add("batch", {"code": "new batch", "design": "loan clarinet 3", "quantity": 1}, who="Ben")
    page.wait_for_selector("[data-mark=batch] option[value='new batch']", state="attached")
    assert page.input_value("[data-mark='value-leak-lower joint']") == "27"
    assert page.input_value("[data-mark=field-code]") == "LC-099"
    options = page.locator("[data-mark=field-batch] option").all_inner_texts()
    assert "new batch" in options


def test_a_slip_in_a_check_is_put_right_and_judged_anew(shop):
    page, book, _bench = shop
    page.click("[data-mark=serial-LC-005]")
    page.click("[data-mark=subject-leak]")
    page.fill("[data-mark='value-leak-lower joint']", "3,1")
    page.click("[data-mark='write-leak-lower joint']")
    page.wait_for_selector(".bw-failed[data-mark='check-leak-lower joint']")
    assert page.input_value("[data-mark='value-leak-lower joint']") == ""
    page.click("[data-mark='look-check-leak-lower joint']")
    page.fill("[data-mark=correct-value]", "31")
    page.fill("[data-mark=correct-reason]", "a slip of the pen")
    page.click("[data-mark=save-correction]")
    page.wait_for_selector(".bw-passed[data-mark='check-leak-lower joint']")
    newest = book.records("check", {"instrument": "LC-005"})[-1]
    assert (newest["value"], newest["passed"], newest["version"]) == (31.0, True, 2)


def test_records_speak_german_with_a_decimal_comma(shop):
    page, book, bench = shop
    page.click("[data-mark=settings]")
    page.select_option("[data-mark=language]", "de")
    page.wait_for_selector("text=Rückgängig")
    lot = next(each for each in book.records("lot") if each["dried_hours"] is not None)
    page.goto(f"{bench.url}?view=shop&who=Ada&table=lot&record={lot['code']}")
    page.wait_for_selector("[data-mark=correct-description]")
    labels = page.locator("[data-mark=record] label").all_inner_texts()
    assert "Stunden der Trocknung" in labels
    page.fill("[data-mark=correct-moisture_percent]", "0,08")
    page.fill("[data-mark=correct-reason]", "gewogen")
    page.click("[data-mark=save-correction]")
    page.wait_for_selector("[data-mark=version-2]:has-text('0,08')")
    assert page.input_value("[data-mark=correct-moisture_percent]") == "0,08"
    assert book.get("lot", lot["code"])["moisture_percent"] == 0.08


def test_a_reload_loses_nothing_of_an_open_record(shop):
    page, book, _bench = shop
    page.click("[data-mark=order-record-R-101]")
    page.wait_for_selector("[data-mark=record-title]:has-text('R-101')")
    page.fill("[data-mark=correct-extras]", "two cases")
    page.fill("[data-mark=correct-reason]", "asked by letter")
    page.reload()
    page.wait_for_selector("[data-mark=record-title]:has-text('R-101')")
    assert page.input_value("[data-mark=correct-extras]") == "two cases"
    assert page.input_value("[data-mark=correct-reason]") == "asked by letter"
    page.click("[data-mark=save-correction]")
    page.wait_for_selector("[data-mark=correction-said]:has-text('written')")
    assert book.get("order", "R-101")["extras"] == "two cases"
    # What is written is no draft any more; what is taken back neither.
    page.fill("[data-mark=correct-extras]", "three cases")
    page.click("[data-mark=reset-correction]")
    page.reload()
    page.wait_for_selector("[data-mark=record-title]:has-text('R-101')")
    assert page.input_value("[data-mark=correct-extras]") == "two cases"
    assert page.input_value("[data-mark=correct-reason]") == ""
