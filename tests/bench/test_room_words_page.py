"""A German bench shows what the rooms find and refuse in German, numbers with the comma."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

pytestmark = pytest.mark.slow  # a server and a real browser


def test_findings_and_errors_in_the_second_language(open_bench, page, chalumeau):
    file = next(chalumeau.glob("*.toml"))
    text = file.read_text(encoding="utf-8")
    spoiled = text.replace("largest_finger_hole_mm = 7.5", "largest_finger_hole_mm = 4.5")
    assert spoiled != text
    file.write_text(spoiled, encoding="utf-8")
    bench = open_bench(chalumeau)
    page.goto(bench.url)
    page.wait_for_selector(".bw-note")
    page.click("[data-mark=settings]")
    page.select_option("[data-mark=language]", "de")
    page.wait_for_selector("text=Rückgängig")
    page.click("[data-mark=checks]")
    finding = page.locator(".bw-findings .bw-fault", has_text="Loch L1").first
    expect(finding).to_contain_text(
        "body, Loch L1: das Loch ist 5,00 mm weit; ein Finger deckt höchstens 4,5 mm. "
        "Das Loch kleiner machen und nach oben versetzen, damit der Ton bleibt."
    )
    assert not re.search(r"\b(the|is|hole)\b", page.locator(".bw-findings").first.inner_text())
    field = page.get_by_label("L1 Durchmesser")
    field.fill("13,5")
    field.press("Enter")
    expect(page.locator("body")).to_contain_text(
        "Loch „L1“ (13,5 mm) ist so weit wie die Bohrung dort (13,00 mm)"
    )
    expect(page.locator("body")).to_contain_text("Ein Seitenloch muss enger sein als die Bohrung")
