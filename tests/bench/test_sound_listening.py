"""Listening in a real browser: two instruments, two players, one loudness, the cautions."""

from __future__ import annotations

import shutil

import pytest
from axe_playwright_python.sync_playwright import Axe

pytestmark = pytest.mark.slow  # a server and a real browser


def test_two_instruments_side_by_side(open_bench, page, chalumeau):
    shutil.copy(chalumeau / "chalumeau.toml", chalumeau / "other.toml")
    bench = open_bench(chalumeau)
    page.goto(f"{bench.url}?view=sound&file=chalumeau.toml")
    page.wait_for_selector("[data-figure=G4]")
    page.select_option("[data-mark=listen-against]", "other.toml")
    page.fill("[data-mark=listen-notes]", "F4, G4")
    page.press("[data-mark=listen-notes]", "Tab")
    page.click("[data-mark=render-sound]")
    page.wait_for_selector("[data-mark=player-B]")
    for letter in "AB":  # the browser itself reads the sound: two notes of 0.8 s, and silence
        page.wait_for_function(
            "mark => document.querySelector(mark).duration > 1.6",
            arg=f"[data-mark=player-{letter}]",
        )
    said = page.locator("[data-mark=listening]").inner_text()
    assert said.count("F4, G4;") == 2
    assert said.count("loudness -23.0 LUFS") == 2
    assert "cannot tell how the instrument will sound to you" in said
    assert "Turn the volume down before you listen." in said
    serious = [
        each["id"]
        for each in Axe().run(page).response["violations"]
        if each["impact"] in ("serious", "critical")
    ]
    assert serious == []
    # A made sound is no recording of a print: the folder shows none.
    assert not list(chalumeau.glob("*.wav"))
    page.reload()
    page.wait_for_selector("[data-mark=player-A]")
    assert page.locator("[data-mark=listen-against]").input_value() == "other.toml"
    assert page.locator("[data-mark=listen-notes]").input_value() == "F4, G4"
    for letter in "AB":
        page.wait_for_function(
            "mark => document.querySelector(mark).duration > 1.6",
            arg=f"[data-mark=player-{letter}]",
        )


def test_a_note_that_nobody_has_is_told_and_nothing_is_made(open_bench, page, chalumeau):
    bench = open_bench(chalumeau)
    page.goto(f"{bench.url}?view=sound")
    page.wait_for_selector("[data-figure=G4]")
    page.fill("[data-mark=listen-notes]", "H9")
    page.press("[data-mark=listen-notes]", "Tab")
    page.click("[data-mark=render-sound]")
    page.wait_for_selector(".bw-message:has-text('H9')")
    assert page.locator("[data-mark=player-A]").count() == 0
