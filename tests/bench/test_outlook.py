"""A batch foretold on the page: sentences, charts, money of the shop's ledger, a paper."""

from __future__ import annotations

import pypdfium2
import pytest

pytestmark = pytest.mark.slow  # a server and a real browser


def test_is_the_finer_nozzle_worth_it_on_one_page(open_bench, new_page, chalumeau):
    bench = open_bench(chalumeau)
    page = new_page(768, 1024)
    page.goto(f"{bench.url}?view=shop")
    page.click("[data-mark=start-example]")
    page.wait_for_selector("[data-mark=serial-LC-001]")
    page.goto(f"{bench.url}?view=print")
    page.fill("[data-mark=outlook-within]", "5")
    page.press("[data-mark=outlook-within]", "Tab")
    page.select_option("[data-mark=outlook-against]", "yes")
    page.fill("[data-mark=outlook-nozzle]", "0,25")
    page.press("[data-mark=outlook-nozzle]", "Tab")
    page.select_option("[data-mark=outlook-batch]", "spring 2031")
    page.click("[data-mark=foretell]")
    head = page.inner_text("[data-mark=outlook-head]")
    assert head.startswith("Of 12 instruments, ")
    assert "within 5 cents of the design" in head
    told = page.inner_text("[data-mark=outlook]")
    assert "0.25 mm nozzle" in told
    assert "orth it: it " in told
    for picture in page.locator("[data-mark=outlook] img").all():
        assert picture.evaluate("one => one.decode().then(() => one.naturalWidth > 100)")
        assert "12 instruments" in picture.get_attribute("alt")
    assert page.evaluate("document.documentElement.scrollWidth") <= 768
    with page.expect_download() as started:
        page.click("[data-mark=outlook-pdf]")
    assert len(pypdfium2.PdfDocument(started.value.path())) == 2
    # The same question again is answered from what was built.
    kept = list(chalumeau.rglob("builds/*/chunk-*.parquet"))
    assert len(kept) == 2
