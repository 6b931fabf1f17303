"""Limits that no woodwind in millimetres passes: they catch inches and slips of ten.

Common practice: barrels are some 60 mm long, the longest joints of low woodwinds under 1 m,
bores from 4 mm (small oboes) to some 60 mm at a clarinet's rim. The limits are wider.
"""

from __future__ import annotations

from pydantic_core import PydanticCustomError

SHORTEST_PART_MM, LONGEST_PART_MM = 10.0, 1000.0
NARROWEST_BORE_MM, WIDEST_BORE_MM = 3.0, 120.0
SMALLEST_HOLE_MM = 0.5
SMALLEST_PAD_MM = 2.0

#: Type of the finding; one such finding stands for all others of its file.
UNIT_SLIP = "unit_slip"
MM_PER_INCH = 25.4


def too_small(what: str, value: float) -> PydanticCustomError:
    """The finding for a length (read as mm) that is too small to be one in millimetres."""
    return PydanticCustomError(
        UNIT_SLIP,
        "{cause}. {remedy}",
        {
            "cause": f"{what} is {value:g}: that looks like inches, not millimetres",
            "remedy": (
                f"Multiply inches by {MM_PER_INCH} (here {value * MM_PER_INCH:.2f} mm), "
                "or centimetres by 10"
            ),
        },
    )


def too_large(what: str, value: float, most: float) -> PydanticCustomError:
    """The finding for a length (mm) that is far too large."""
    return PydanticCustomError(
        UNIT_SLIP,
        "{cause}. {remedy}",
        {
            "cause": f"{what} is {value:g} mm, far too large (at most {most:g} mm)",
            "remedy": "Look for a lost decimal point; lengths are in millimetres",
        },
    )


def check_length(what: str, value: float, least: float, most: float) -> None:
    """Raise the finding where a length (mm) is outside its plausible range."""
    if value < least:
        raise too_small(what, value)
    if value > most:
        raise too_large(what, value, most)
