"""Pictures of the bench's views for its page, taken in a real browser: docs/bench_pictures.py."""

from __future__ import annotations

import io
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tools"))

from bench_browser import bench_page
from PIL import Image
from playwright.sync_api import Page

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


def take(page: Page, name: str, height: int | None = None) -> None:
    """Write a picture with few colours."""
    whole = Image.open(io.BytesIO(page.screenshot()))
    if height is not None:
        whole = whole.crop((0, 0, whole.width, height))
    whole.convert("RGB").quantize(COLOURS).save(PICTURES / f"{name}.png", optimize=True)
    print(name)


if __name__ == "__main__":
    main()
