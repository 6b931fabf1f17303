"""Drawings are as wide as their place on the page, also after the window was made narrower."""

from __future__ import annotations

import pytest

pytestmark = pytest.mark.slow  # a server and a real browser each

FITS = """selector => {
  const drawing = document.querySelector(selector);
  const box = drawing.parentElement;
  const room = box.clientWidth - 2 * parseFloat(getComputedStyle(box).paddingLeft);
  return Math.abs(drawing.getAttribute('width') - room) <= 1;
}"""


@pytest.mark.parametrize(
    ("view", "drawings"),
    [
        ("design", (".bw-section svg", "[data-mark=pitches]")),
        ("sound", ("[data-mark=figures]",)),
    ],
)
def test_a_drawing_follows_its_box(open_bench, page, chalumeau, view, drawings):
    bench = open_bench(chalumeau)
    page.goto(f"{bench.url}?view={view}")
    page.wait_for_selector(".bw-note")
    for width in (1440, 900, 1300):
        page.set_viewport_size({"width": width, "height": 900})
        for drawing in drawings:
            page.wait_for_function(FITS, arg=drawing)
