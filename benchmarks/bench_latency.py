"""From dragging a hole to the new pitches on screen, measured inside a real browser.

The example clarinet, all its fingerings. A move's time runs from the moment it leaves the page
to the frame in which its pitches are drawn. Usage: bench_latency.py [MOVES] [DRAGS_FOR_MEMORY]
"""

from __future__ import annotations

import statistics
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tools"))

from bench_browser import bench_page, cores, memory_mb

HOLE = "L1"
#: A hand moves the mouse about so often; the pause is between two moves (ms).
PAUSE_MS = 60


def main() -> None:
    moves = int(sys.argv[1]) if len(sys.argv) > 1 else 200
    drags = int(sys.argv[2]) if len(sys.argv) > 2 else 0
    with bench_page() as (_, page, server):
        page.click("[data-mark=begin-clarinet]")
        page.wait_for_selector(".bw-note")
        page.wait_for_selector(".bw-bar")  # sensitivities and error bars are there, too
        waits = drag(page, moves)
        quiet = sorted(waits)
        print(f"cores: {cores()}; moves sent: {moves}; answers shown: {len(waits)}")
        print(f"drag to chart, median: {statistics.median(quiet):.0f} ms")
        print(f"drag to chart, 95 %:   {quiet[int(0.95 * (len(quiet) - 1))]:.0f} ms")
        print(f"first useful paint:    {first_paint(page):.0f} ms")
        if drags:
            before = memory_mb(server)
            for _ in range(0, drags, 200):
                drag(page, 200, pause=25)
            print(f"server memory over {drags} moves: {before:.0f} -> {memory_mb(server):.0f} MB")


def drag(page, moves: int, pause: int = PAUSE_MS) -> list[float]:
    """Drag a hole back and forth, in one grip; the waits in milliseconds."""
    page.evaluate("window.bw_waits = []")
    grip = page.locator(f"[data-hole='{HOLE}'] .bw-bore-hole").bounding_box()
    x, y = grip["x"] + grip["width"] / 2, grip["y"] + grip["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    for number in range(moves):
        page.mouse.move(x + 1 + (number % 12), y)
        page.wait_for_timeout(pause)
    page.keyboard.press("Escape")
    page.mouse.up()
    page.wait_for_timeout(500)
    return page.evaluate("window.bw_waits")


def first_paint(page) -> float:
    """Load the page anew; milliseconds until the section is drawn."""
    page.reload()
    page.wait_for_selector(".bw-hole")
    return page.evaluate("performance.now()")


if __name__ == "__main__":
    main()
