"""Blending in a real browser: shares by slider, the outcome told, drawn and saved as a new file."""

from __future__ import annotations

import pytest
from axe_playwright_python.sync_playwright import Axe

from borewright.model import load, read_instrument, save_as

pytestmark = pytest.mark.slow  # a server and a real browser


@pytest.fixture
def two(chalumeau):
    """The chalumeau, and one with a bore 0.2 mm wider in its barrel."""
    first, document = read_instrument(chalumeau / "chalumeau.toml")
    barrel = first.parts[0]
    wider = [(station, diameter + 0.2) for station, diameter in barrel.bore]
    parts = [barrel.model_copy(update={"bore": wider}), *first.parts[1:]]
    made = first.model_copy(update={"name": "Wide", "parts": parts})
    save_as(made, chalumeau / "wide.toml", document)
    return chalumeau


def test_a_blend_is_told_drawn_and_saved_and_never_over_another(open_bench, page, two):
    bench = open_bench(two)
    page.goto(f"{bench.url}?view=sound&file=chalumeau.toml")
    page.wait_for_selector("[data-figure=G4]")
    page.select_option("[data-mark=blend-with]", "wide.toml")
    slider = page.locator("[data-mark=share-barrel]")
    slider.focus()
    page.keyboard.press("End")
    page.wait_for_selector("[data-mark=share-barrel][aria-valuetext='100 %']")
    page.fill("[data-mark=blend-name]", "wide")
    page.press("[data-mark=blend-name]", "Tab")
    page.click("[data-mark=run-blend]")
    page.wait_for_selector(".bw-message:has-text('is there already')")
    page.fill("[data-mark=blend-name]", "between")
    page.press("[data-mark=blend-name]", "Tab")
    page.click("[data-mark=run-blend]")
    page.wait_for_selector("[data-mark=blend-summary]")
    assert "With the holes fitted: mean" in page.locator("[data-mark=blend-summary]").inner_text()
    assert page.evaluate("document.querySelector('[data-mark=blend-bores]').naturalWidth") > 100
    made, wide = load(two / "between.toml"), load(two / "wide.toml")
    assert wide.name == "Wide"
    # The whole share of one feature gives the other's exactly.
    assert made.parts[0].bore == wide.parts[0].bore
    serious = [
        each["id"]
        for each in Axe().run(page).response["violations"]
        if each["impact"] in ("serious", "critical")
    ]
    assert serious == []


def test_a_reload_in_mid_blend_and_after_it_loses_nothing(open_bench, new_page, two):
    bench = open_bench(two)
    page, other = new_page(), new_page()
    for each in (page, other):
        each.goto(f"{bench.url}?view=sound&file=chalumeau.toml")
        each.wait_for_selector("[data-figure=G4]")
    page.select_option("[data-mark=blend-with]", "wide.toml")
    page.locator("[data-mark=share-barrel]").focus()
    page.keyboard.press("End")
    page.wait_for_selector("[data-mark=share-barrel][aria-valuetext='100 %']")
    page.click("[data-mark=run-blend]")
    page.wait_for_selector("[data-mark=blending] [data-mark=progress]")
    page.reload()
    page.wait_for_selector("[data-mark=blend-summary]")
    other.wait_for_selector("[data-mark=blend-summary]")  # whoever looks sees the outcome
    said = page.locator("[data-mark=blend-summary]").inner_text()
    page.reload()
    page.wait_for_selector("[data-mark=blend-summary]")
    assert page.locator("[data-mark=blend-summary]").inner_text() == said
    assert page.locator("[data-mark=blend-with]").input_value() == "wide.toml"
    assert page.locator("[data-mark=share-barrel]").get_attribute("aria-valuetext") == "100 %"
    assert page.locator("[data-mark=share-bell]").get_attribute("aria-valuetext") == "50 %"
    assert (two / "blend 1.toml").exists()
    for each in (page, other):
        assert each.locator("[data-mark=blend-name]").input_value() == "blend 2.toml"


def test_a_measured_bore_is_a_parent(open_bench, page, chalumeau):
    """A gauge found the body 0.3 mm wider throughout: at a whole share the blend has that bore."""
    readings = [f"body,{station},13.3,0.02" for station in range(2, 160, 6)]
    lines = ["part,station_mm,diameter_mm,uncertainty_mm", *readings]
    (chalumeau / "gauged.csv").write_text("\n".join(lines) + "\n", encoding="utf-8")
    bench = open_bench(chalumeau)
    page.goto(f"{bench.url}?view=sound")
    page.wait_for_selector("[data-figure=G4]")
    page.select_option("[data-mark=blend-with]", "gauged.csv")
    for feature in ("cylinder", "throat", "flare", "flare_start", "holes"):
        page.locator(f"[data-mark=share-{feature}]").focus()
        page.keyboard.press("End")
        page.wait_for_selector(f"[data-mark=share-{feature}][aria-valuetext='100 %']")
    page.click("[data-mark=run-blend]")
    page.wait_for_selector("[data-mark=blend-summary]")
    made, drawn = load(chalumeau / "blend 1.toml"), load(chalumeau / "chalumeau.toml")
    assert made.parts[0].bore == drawn.parts[0].bore
    # Readings all alike leave one cylinder; a hundredth is how sizes are written.
    assert [d for _, d in made.parts[1].bore] == pytest.approx([13.3] * 4, abs=0.011)
    assert "gauged" in page.locator("[data-mark=blending] table").inner_text()


def test_a_blend_cancelled_saves_nothing(open_bench, page, two):
    bench = open_bench(two)
    page.goto(f"{bench.url}?view=sound&file=chalumeau.toml")
    page.wait_for_selector("[data-figure=G4]")
    page.select_option("[data-mark=blend-with]", "wide.toml")
    page.click("[data-mark=run-blend]")
    page.locator("[data-mark=blending] [data-mark=cancel-job]").click()
    page.wait_for_selector("text=cancelled. Nothing was saved.")
    assert sorted(each.name for each in two.glob("*.toml")) == ["chalumeau.toml", "wide.toml"]
