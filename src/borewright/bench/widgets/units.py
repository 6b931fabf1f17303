"""Lengths and numbers as people type and read them: decimal comma, millimetres or inches."""

from __future__ import annotations

import math
import re
from enum import StrEnum

from borewright.bench.words import _
from borewright.errors import BenchError
from borewright.words import say

MM_PER_INCH = 25.4
_NUMBER = re.compile(r"[+-]?([0-9]+\.?[0-9]*|\.[0-9]+)")
_UNITS = {"": 0.0, "mm": 1.0, "cm": 10.0, "in": MM_PER_INCH, '"': MM_PER_INCH, "″": MM_PER_INCH}


class Units(StrEnum):
    """Units of length on a page."""

    MM = "mm"
    INCH = "in"

    def shown(self, mm: float, decimals: int = 2) -> str:
        """A length (mm) in these units, without the unit; inches get one digit more and a half."""
        if self is Units.INCH:
            return decimal(mm / MM_PER_INCH, decimals + 2)
        return decimal(mm, decimals)


def decimal(value: float, decimals: int) -> str:
    """A number with so many decimals, with the comma where the language writes one."""
    return _.number(value, f".{decimals}f")


def number_from(text: str, low: float = -math.inf, high: float = math.inf) -> float:
    """A number with decimal point or comma; BenchError where it is none or out of range."""
    plain = text.strip().replace("\u2212", "-").replace("\u00a0", "")
    if plain.count(",") == 1 and "." not in plain:
        plain = plain.replace(",", ".")
    if not _NUMBER.fullmatch(plain):
        raise BenchError(
            say("'{text}' is not a number", text=text.strip()[:30]),
            remedy=say("Write it like 12.5 or 12,5."),
        )
    value = float(plain)
    if not low <= value <= high:
        raise BenchError(
            say("{value:g} is out of range", value=value),
            remedy=say("Between {low:g} and {high:g} is possible.", low=low, high=high),
        )
    return value


def length_from(text: str, units: Units) -> float:
    """A length (mm) from what was typed; a unit behind it (mm, cm, in, ″) goes before the page's.

    A fraction of an inch is understood too: ``1 5/8 in``. Raises BenchError for anything else.
    """
    match = re.fullmatch(r"(.*?)\s*(mm|cm|in|\"|″)?", text.strip())
    body, unit = (match[1], match[2] or "") if match else (text, "")
    scale = _UNITS[unit] or (MM_PER_INCH if units is Units.INCH else 1.0)
    fraction = re.fullmatch(r"(?:([0-9]{1,3})\s+)?([0-9]{1,3})/([1-9][0-9]{0,2})", body)
    if fraction:
        whole = int(fraction[1] or 0)
        return (whole + int(fraction[2]) / int(fraction[3])) * scale
    return number_from(body) * scale
