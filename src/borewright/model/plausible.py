"""Limits that no woodwind in millimetres passes: they catch inches and slips of ten.

Common practice: barrels are some 60 mm long, the longest joints of low woodwinds under 1 m,
bores from 4 mm (small oboes) to some 60 mm at a clarinet's rim. The limits are wider.
"""

from __future__ import annotations

from pydantic_core import PydanticCustomError

from borewright.words import Text, say

SHORTEST_PART_MM, LONGEST_PART_MM = 10.0, 1000.0
NARROWEST_BORE_MM, WIDEST_BORE_MM = 3.0, 120.0
SMALLEST_HOLE_MM = 0.5
SMALLEST_PAD_MM = 2.0

#: Type of the finding; one such finding stands for all others of its file.
UNIT_SLIP = "unit_slip"
MM_PER_INCH = 25.4


def too_small(what: Text, value: float) -> PydanticCustomError:
    """The finding for a length (read as mm) that is too small to be one in millimetres."""
    return PydanticCustomError(
        UNIT_SLIP,
        "{cause}. {remedy}",
        {
            "cause": say(
                "{what} is {value:g}: that looks like inches, not millimetres",
                what=what,
                value=value,
            ),
            "remedy": say(
                "Multiply inches by 25.4 (here {length_mm:.2f} mm), or centimetres by 10.",
                length_mm=value * MM_PER_INCH,
            ),
        },
    )


def too_large(what: Text, value: float, most: float) -> PydanticCustomError:
    """The finding for a length (mm) that is far too large."""
    return PydanticCustomError(
        UNIT_SLIP,
        "{cause}. {remedy}",
        {
            "cause": say(
                "{what} is {value:g} mm, far too large (at most {most:g} mm)",
                what=what,
                value=value,
                most=most,
            ),
            "remedy": say("Look for a lost decimal point; lengths are in millimetres."),
        },
    )


def check_length(what: Text, value: float, least: float, most: float) -> None:
    """Raise the finding where a length (mm) is outside its plausible range."""
    if value < least:
        raise too_small(what, value)
    if value > most:
        raise too_large(what, value, most)
