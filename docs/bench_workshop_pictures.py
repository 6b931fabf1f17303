"""Pictures of the views Print, Play test and Shop, in a browser: docs/bench_workshop_pictures.py.

The takes are synthetic: tones of the invented clarinet's low notes, flat by planted cents.
"""

from __future__ import annotations

import importlib.util
import io
import sys
import tempfile
from importlib.resources import files
from pathlib import Path
from typing import Any

import numpy as np
import soundfile

sys.path.insert(0, str(Path(__file__).parents[1] / "tools"))

from bench_browser import bench_page
from PIL import Image
from playwright.sync_api import Page

from borewright.model import load, read_fingerings

ROOT = Path(__file__).parents[1]
PICTURES = Path(__file__).parent / "pictures"
CLARINET = Path(str(files("borewright"))) / "examples" / "loan-clarinet"
COLOURS = 128
NOTES, TAKES = 12, 3


def main() -> None:
    """Take all pictures."""
    with tempfile.TemporaryDirectory() as scratch, bench_page(1400, 1100) as (url, page, _server):
        takes = record(Path(scratch))
        page.click("[data-mark=begin-clarinet]")
        page.wait_for_selector(".bw-bar")
        play(page, url, takes)
        shop(page, url)
        print_view(page, url)
        page.set_viewport_size({"width": 768, "height": 1024})
        page.click("[data-mark=settings]")
        page.select_option("[data-mark=colours]", "dark")
        page.wait_for_timeout(1500)
        page.goto(f"{url}?view=shop&serial=LC-005&who=Ada")
        page.click("[data-mark=subject-springs]")
        page.wait_for_timeout(800)
        page.evaluate("document.querySelector('[data-mark=checks]').scrollIntoView()")
        keep("bench-shop-tablet-dark", page.screenshot())


def record(folder: Path) -> list[Path]:
    """Synthetic takes of the lowest notes."""
    path = ROOT / "tests" / "playing" / "synthesis.py"
    spec = importlib.util.spec_from_file_location("synthesis", path)
    if spec is None or spec.loader is None:
        sys.exit(f"{path} cannot be read")
    synthesis: Any = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(synthesis)
    pitch = load(CLARINET / "clarinet.toml").pitch
    names = order()
    rng = np.random.default_rng(5)
    planted = rng.normal(-9, 7, len(names))
    made = []
    for take in range(TAKES):
        pieces = []
        for name, cents in zip(names, planted, strict=True):
            hz = pitch.target_hz(name) * 2 ** ((cents + rng.normal(0, 1.5)) / 1200)
            pieces += [synthesis.tone(hz, 0.8, rng), synthesis.room(0.15, rng, 0.0003)]
        made.append(folder / f"monday {take + 1}.wav")
        soundfile.write(made[-1], np.concatenate(pieces), synthesis.RATE)
    return made


def order() -> list[str]:
    """The lowest notes, in the order of playing."""
    table = read_fingerings(CLARINET / "fingerings.csv")
    return [each.name for each in table.fingerings if each.name == each.written][:NOTES]


def play(page: Page, url: str, takes: list[Path]) -> None:
    """A take with its notes, and the corrections."""
    page.goto(f"{url}?view=play")
    page.fill("[data-mark=played]", "no 3")
    page.press("[data-mark=played]", "Tab")
    page.select_option("[data-mark=order]", "own")
    page.fill("[data-mark=own-order]", ", ".join(order()))
    page.press("[data-mark=own-order]", "Tab")
    page.set_input_files("[data-mark=recordings]", takes)
    page.wait_for_selector(f"[data-mark='show-{takes[-1].name}']")
    page.wait_for_selector(".bw-take-note")
    page.click("[data-note='4']")
    page.wait_for_timeout(800)
    keep("bench-play-take", page.locator("[data-mark=take]").screenshot())
    page.select_option("[data-mark=correct-name]", "no 3")
    page.click("[data-mark=correct]")
    page.wait_for_selector("[data-mark=accept], [data-mark=plan] p")
    page.wait_for_timeout(800)
    keep("bench-play-corrections", page.locator("[data-mark=plan]").screenshot())


def shop(page: Page, url: str) -> None:
    """The board, and the checks of one serial number."""
    page.goto(f"{url}?view=shop")
    page.click("[data-mark=start-example]")
    page.wait_for_selector("[data-mark=serial-LC-005]")
    page.fill("[data-mark=who]", "Ada")
    page.press("[data-mark=who]", "Tab")
    page.click("[data-mark=serial-LC-005]")
    page.wait_for_selector("[data-mark=sign-off]")
    page.wait_for_timeout(800)
    page.evaluate("scrollTo(0, 0)")
    keep("bench-shop", page.screenshot())
    page.click("[data-mark=order-record-R-101]")
    page.fill("[data-mark=correct-unit_price]", "951.50")
    page.fill("[data-mark=correct-reason]", "costed anew")
    page.click("[data-mark=save-correction]")
    page.wait_for_selector("[data-mark=version-2]")
    page.wait_for_timeout(800)
    keep("bench-shop-record", page.locator("[data-mark=record]").screenshot())


def print_view(page: Page, url: str) -> None:
    """The result of a print job, with the place of a finding."""
    page.goto(f"{url}?view=print")
    page.select_option("[data-mark=printer]", "cube 250")
    page.click("[data-mark=make]")
    page.wait_for_selector("[data-mark=result] .bw-table")
    buttons = page.locator("[data-mark=result] .bw-findings button")
    if buttons.count():
        buttons.first.click()
    page.wait_for_timeout(1500)
    page.evaluate("scrollTo(0, 0)")
    keep("bench-print", page.screenshot(full_page=True), 1560)


def keep(name: str, picture: bytes, height: int | None = None) -> None:
    """Write a picture, or its upper part, with few colours."""
    whole = Image.open(io.BytesIO(picture)).convert("RGB")
    if height is not None:
        whole = whole.crop((0, 0, whole.width, min(height, whole.height)))
    whole.quantize(COLOURS).save(PICTURES / f"{name}.png", optimize=True)
    print(name, flush=True)


if __name__ == "__main__":
    main()
