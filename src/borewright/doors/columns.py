"""Plain text in columns: the same on a terminal, in a pipe and in a file."""

from __future__ import annotations

from collections.abc import Sequence


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


def signed(value: float, digits: int = 1) -> str:
    """A figure with its sign; plain where it rounds to nothing."""
    text = f"{value:+.{digits}f}"
    return text if float(text) else f"{0:.{digits}f}"
