"""The Sound view in a real browser: figures, a note's curve, comparison with a revision."""

from __future__ import annotations

import pytest

pytestmark = pytest.mark.slow  # a server and a real browser


def test_figures_curve_and_comparison_with_a_revision(open_bench, page, chalumeau):
    bench = open_bench(chalumeau)
    page.goto(f"{bench.url}?view=design")
    page.wait_for_selector(".bw-note")
    page.click("[data-mark=revisions]")
    page.fill("[data-mark=revision-name]", "drawing board")
    page.click("[data-mark=keep-revision]")
    page.wait_for_selector("text=Kept as 'drawing board'")
    field = page.get_by_label("R2 diameter")
    field.fill("6,5")
    field.press("Enter")
    page.wait_for_selector("[data-mark=undo][title*='R2 diameter']")
    page.click("[data-mark=view-sound]")
    page.wait_for_selector("[data-figure=G4]")
    assert page.locator("[data-mark=bore-curve]").count() == 0
    page.locator("[data-figure=G4] .bw-hit").click()
    page.wait_for_selector("[data-mark=bore-curve]")
    before = page.locator("[data-figure=G4]").get_attribute("aria-label")
    page.select_option("[data-mark=figure]", "pitch")
    page.wait_for_function(
        "old => document.querySelector('[data-figure=G4]').getAttribute('aria-label') !== old",
        arg=before,
    )
    page.select_option("[data-mark=against]", "revision: drawing board")
    page.wait_for_selector("[data-mark=differences] li")
    assert "figure=pitch" in page.url
    page.reload()
    page.wait_for_selector("[data-mark=differences] li")
    assert page.locator("[data-mark=figure]").input_value() == "pitch"
