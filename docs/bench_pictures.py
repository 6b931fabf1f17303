"""Pictures of the bench's views for its page, taken in a real browser: docs/bench_pictures.py."""

from __future__ import annotations

import io
import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tools"))

from bench_browser import bench_page
from PIL import Image
from playwright.sync_api import Page

from borewright.tasks.examples import Example, copy_example

PICTURES = Path(__file__).parent / "pictures"
#: Colours that are enough for flat drawings, and keep the files small.
COLOURS = 128


def main() -> None:
    """Take all pictures."""
    with bench_page(1400, 1180) as (_, page, _server):
        take(page, "bench-welcome", 520)
        page.click("[data-mark=begin-clarinet]")
        page.wait_for_selector(".bw-bar")
        page.locator("[data-hole='L1']").focus()
        page.wait_for_timeout(1500)
        take(page, "bench-body")
        page.click("[data-mark=view-fit]")
        page.click("[data-mark=run-fit]")
        page.wait_for_selector("[data-mark=take-all]")
        page.wait_for_timeout(1000)
        take(page, "bench-fit")
        page.click("[data-mark=view-sound]")
        page.wait_for_selector("[data-figure=F4]")
        page.locator("[data-figure=F4] .bw-hit").click()
        page.wait_for_timeout(800)
        take(page, "bench-sound")
        page.click("[data-mark=settings]")
        page.select_option("[data-mark=colours]", "dark")
        page.wait_for_timeout(1500)
        page.goto(page.url.split("?")[0] + "?view=design&note=F4")
        page.wait_for_selector(".bw-bar")
        page.wait_for_timeout(1500)
        page.set_viewport_size({"width": 820, "height": 1180})
        page.wait_for_timeout(1500)
        take(page, "bench-tablet-dark")
    with tempfile.TemporaryDirectory() as folder:
        copy_example(Example.CLARINET, Path(folder))
        with bench_page(1400, 1180, Path(folder)) as (url, page, _server):
            measured_key(page, url)
    with tempfile.TemporaryDirectory() as folder:
        copy_example(Example.CLARINET, Path(folder))
        copy_example(Example.WIDE_BORE, Path(folder) / "wide")
        with bench_page(1400, 1180, Path(folder)) as (url, page, _server):
            sound_cards(page, url)


def measured_key(page: Page, url: str) -> None:
    """The form of one key and its drawing."""
    page.goto(f"{url}?view=design")
    page.click("[data-mark=measure-keys]")
    page.select_option("[data-mark=measured-key]", "FC")
    page.wait_for_selector(".bw-measure[data-key=FC] svg")
    page.focus("[data-mark=number-height]")
    page.wait_for_timeout(1000)
    take(page, "bench-measure-keys", card=".bw-measure")


def sound_cards(page: Page, url: str) -> None:
    """Listening and blending: the loan clarinet and the wide one."""
    page.goto(f"{url}?view=sound&file=clarinet.toml")
    page.wait_for_selector("[data-figure=F4]")
    page.select_option("[data-mark=listen-against]", "wide/clarinet.toml")
    page.fill("[data-mark=listen-notes]", "E3, C4, G4, C5")
    page.press("[data-mark=listen-notes]", "Tab")
    page.click("[data-mark=render-sound]")
    page.wait_for_selector("[data-mark=player-B]")
    page.evaluate("document.activeElement.blur()")
    page.wait_for_timeout(1500)
    take(page, "bench-listen", card="[data-mark=listening]")
    page.select_option("[data-mark=blend-with]", "wide/clarinet.toml")
    for feature in ("holes", "bell"):
        page.locator(f"[data-mark=share-{feature}]").focus()
        page.keyboard.press("Home")
        page.wait_for_selector(f"[data-mark=share-{feature}][aria-valuetext='0 %']")
    page.click("[data-mark=run-blend]")
    page.wait_for_selector("[data-mark=blend-summary]")
    page.wait_for_timeout(1000)
    take(page, "bench-blend", card="[data-mark=blending]")


def take(page: Page, name: str, height: int | None = None, card: str = "") -> None:
    """Write a picture with few colours, of the page or of one card."""
    shot = page.locator(card).screenshot() if card else page.screenshot()
    whole = Image.open(io.BytesIO(shot))
    if height is not None:
        whole = whole.crop((0, 0, whole.width, height))
    whole.convert("RGB").quantize(COLOURS).save(PICTURES / f"{name}.png", optimize=True)
    print(name)


if __name__ == "__main__":
    main()
