"""Plain text in columns: the same on a terminal, in a pipe and in a file."""

from __future__ import annotations

from collections.abc import Sequence
from enum import Enum
from typing import Any

from borewright.words import Reader


def columns(
    headings: Sequence[str], rows: Sequence[Sequence[str]], right: Sequence[int] = ()
) -> list[str]:
    """Lines of a table, indented by two, its columns as wide as their widest cell.

    ``right`` names the columns set to the right, for figures.
    """
    table = [list(headings), *[list(row) for row in rows]]
    widths = [max(len(row[index]) for row in table) for index in range(len(headings))]
    return [
        "  "
        + "  ".join(
            cell.rjust(width) if index in right else cell.ljust(width)
            for index, (cell, width) in enumerate(zip(row, widths, strict=True))
        ).rstrip()
        for row in table
    ]


def figure(words: Reader, value: float | None, digits: int = 1) -> str:
    """A figure; a dash where there is none."""
    return "-" if value is None else words.number(value, f".{digits}f")


def signed(words: Reader, value: float | None, digits: int = 1) -> str:
    """A figure with its sign; plain where it rounds to nothing, a dash where there is none."""
    if value is None:
        return "-"
    plain = round(value, digits) == 0
    return words.number(0.0 if plain else value, f".{digits}f" if plain else f"+.{digits}f")


def told(words: Reader, value: Any) -> str:
    """A choice, a message or a name, as the reader is told it."""
    if isinstance(value, Enum):
        value = getattr(value, "words", str(value.value))
    return words.tell(value)
