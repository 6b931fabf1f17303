"""Colours, line widths and letter sizes of every picture and page, in one place.

Blue, orange and near-black stay apart for the common kinds of colour blindness; every chart
also tells its series apart by shape. The inline pictures of a page replace these exact
colours by the page's own, so that they follow light and dark.
"""

from __future__ import annotations

import re

INK = "#22303a"
MUTED = "#5c6871"
HAIR = "#c3cacf"
PAPER = "#fffffe"
BAND = "#e4efe9"
BLUE = "#1c5f9e"
ORANGE = "#bd5a10"
PLUM = "#7a3b72"

#: Tints of the parts, from the top of the instrument down; they repeat after the last.
PART_TINTS = ("#dcb98a", "#e9d6ae", "#cfd9b9", "#d9c2ce", "#c2d3dd")
CORK = "#b98d5a"
OUTLINE_TINT = "#eceff1"

#: What each colour becomes on a dark page.
DARK = {
    INK: "#e6e9ea",
    MUTED: "#a9b3b9",
    HAIR: "#4b565d",
    PAPER: "#1b2126",
    BAND: "#26352f",
    BLUE: "#7db7ec",
    ORANGE: "#f0a05a",
    PLUM: "#d79bcd",
    PART_TINTS[0]: "#7d6341",
    PART_TINTS[1]: "#85754f",
    PART_TINTS[2]: "#5f6b49",
    PART_TINTS[3]: "#72596a",
    PART_TINTS[4]: "#4f6471",
    CORK: "#5a4327",
    OUTLINE_TINT: "#2b3339",
}

FINE_PT = 0.35
LINE_PT = 0.6
BOLD_PT = 1.0
SMALL_TEXT_PT = 6.0
TEXT_PT = 7.0
TITLE_PT = 9.0


def variable(colour: str) -> str:
    """Name of the style-sheet variable that stands for a colour on a page."""
    return f"--c{colour[1:]}"


def follow_page(svg: str) -> str:
    """An SVG text whose known colours follow the page's light or dark scheme."""

    def replaced(match: re.Match[str]) -> str:
        colour = match.group(0).lower()
        return f"var({variable(colour)}, {colour})" if colour in DARK else match.group(0)

    return re.sub(r"#[0-9a-fA-F]{6}\b", replaced, svg)
