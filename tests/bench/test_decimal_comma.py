"""In German every figure that is drawn or tabled has the comma, in English the point."""

from __future__ import annotations

import re

import pytest

pytestmark = pytest.mark.slow  # a server and a real browser each

#: Figures as they are written: no note, name, version or time looks like these.
POINT = re.compile(r"(?<![\w.])\d+\.\d+(?![\w.])")
COMMA = re.compile(r"(?<![\w,])\d+,\d+(?![\w,])")


def drawn(page, selector):
    """Everything that an element shows or says to a screen reader, and its fields' values."""
    return page.eval_on_selector_all(
        selector,
        """found => found.map(root => [root, ...root.querySelectorAll('*')].map(each => [
          each.getAttribute('aria-label'), each.getAttribute('aria-valuetext'), each.title,
          each.tagName === 'INPUT' ? each.value : '',
          each.children.length ? '' : each.textContent].join(' ')).join(' ')).join(' ')""",
    )


def look(page, bench, language):
    """What every chart and table of the views Body, Fit and Sound shows, by its name."""
    found = {}
    page.goto(f"{bench.url}?view=design&note=G4")
    page.wait_for_selector(".bw-note.chosen .bw-cents")
    page.wait_for_selector(".bw-moves")
    found["section"] = drawn(page, ".bw-section")
    found["pitches"] = drawn(page, ".bw-pitches")
    found["sizes"] = drawn(page, ".bw-sizes")
    found["summary"] = drawn(page, "[data-mark=summary]")
    found["details"] = drawn(page, "[data-mark=details]")
    page.goto(f"{bench.url}?view=fit")
    if language == "en":  # the proposal waits, and is told again in the other language
        page.click("[data-mark=run-fit]")
    page.wait_for_selector("[data-mark=take-all]")
    page.wait_for_selector(".bw-course")
    found["course"] = drawn(page, "[data-mark=course]")
    found["moves"] = drawn(page, "[data-mark=moves]")
    found["fit summary"] = drawn(page, "[data-mark=fit-summary]")
    page.goto(f"{bench.url}?view=sound&note=G4&figure=alignment")
    page.wait_for_selector("[data-mark=bore-curve]")
    figures = page.locator("[data-mark=figure] option").all()
    said = []
    for value in [each.get_attribute("value") for each in figures]:
        page.select_option("[data-mark=figure]", value)
        page.wait_for_timeout(150)
        said.append(drawn(page, "[data-mark=figures]"))
    found["bars"] = " ".join(said)
    found["bore curve"] = drawn(page, "[data-mark=bore-curve]")
    assert page.evaluate("document.documentElement.lang") == language
    return found


def test_comma_and_point_in_every_chart_and_table(open_bench, page, chalumeau):
    bench = open_bench(chalumeau)
    for language, right, wrong in (("en", POINT, COMMA), ("de", COMMA, POINT)):
        if language == "de":
            page.click("[data-mark=settings]")
            page.select_option("[data-mark=language]", "de")
            page.wait_for_selector("text=Rückgängig")
        for name, words in look(page, bench, language).items():
            assert right.search(words), (language, name, words[:400])
            assert not wrong.search(words), (language, name, wrong.findall(words), words[:400])
