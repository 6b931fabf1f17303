"""CSV as spreadsheets write it: any delimiter, decimal comma, BOM, Windows line ends."""

from __future__ import annotations

import csv
import math
import re
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import TextIO

from borewright.errors import ModelError
from borewright.model.files.migrations import NEWEST, migrate
from borewright.model.files.text import read_text
from borewright.words import Place, joined, say

__all__ = [
    "TableWriter",
    "column_place",
    "columns_of",
    "number",
    "read_table",
    "read_text",
    "safe_cell",
]

#: A comment such as ``# format = 1``, as it looks after a spreadsheet saved it again.
_FORMAT = re.compile(r'"?\s*#\s*format\s*[=:]\s*(-?[0-9]+)\s*"?[\s,;]*$', re.IGNORECASE)
_NUMBER = re.compile(r"[+-]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][+-]?[0-9]+)?")

_SEPARATE = say("Separate columns by comma, semicolon or tab.")

Row = tuple[int, dict[str, str]]


def read_table(
    path: Path, required: tuple[str, ...], optional: tuple[str, ...], kind: str = ""
) -> list[Row]:
    """Rows of a CSV file as (line number, {column: text}).

    The delimiter (comma, semicolon or tab) is taken from the heading; lines that are empty
    or begin with ``#`` are passed over. Unknown, missing and repeated columns, and rows with
    too many cells, are refused with their line.

    ``kind`` names the kind of file, as in ``migrations.NEWEST``. A comment line above the
    heading, ``# format = 1``, says which format the file has; without one it is 1, the first,
    because spreadsheets that drop comments would otherwise make a file unreadable.
    """
    lines = read_text(path).split("\n")
    start = next((i for i, line in enumerate(lines) if line.strip() and not _comment(line)), None)
    if start is None:
        raise ModelError(
            say("has no heading line"),
            place=str(path),
            remedy=say("The first line names the columns: {columns}.", columns=", ".join(required)),
        )
    headings, rows = _split(path, lines, start)
    place = (str(path), say("line {line}", line=start + 1))
    _check_repeated(place, headings)
    if kind:
        version, version_line = _version(lines[:start])
        data = {"rows": [cells for _, cells in rows]}
        above = (str(path), say("line {line}", line=version_line))
        data = migrate(data, kind, version, place=above)
        rows = [(line, cells) for (line, _), cells in zip(rows, data["rows"], strict=True)]
        if version != NEWEST[kind] and rows:
            headings = list(rows[0][1])
    _check_headings(place, headings, required, optional)
    if not rows:
        raise ModelError(
            say("has a heading but no rows"), place=str(path), remedy=say("Add at least one row.")
        )
    # Columns that an optional heading left out are empty cells.
    return [(line, {name: "" for name in optional} | cells) for line, cells in rows]


#: Signs that a spreadsheet takes for the beginning of a formula.
FORMULA = ("=", "+", "-", "@", "\t", "\r")


def safe_cell(value: object) -> object:
    """A cell as it is written: a text that a spreadsheet would run as a formula gets an apostrophe.

    Numbers stay as they are; :func:`read_table` takes the apostrophe away again.
    """
    if not isinstance(value, str) or not value.startswith((*FORMULA, "'")):
        return value
    return value if _NUMBER.fullmatch(value) else f"'{value}"


def _plain_cell(text: str) -> str:
    return text[1:] if text.startswith("'") and text[1:].startswith((*FORMULA, "'")) else text


class TableWriter:
    """Rows as CSV with line ends of one sign, every cell safe for a spreadsheet."""

    def __init__(self, stream: TextIO) -> None:
        self._writer = csv.writer(stream, lineterminator="\n")

    def writerow(self, cells: Iterable[object]) -> None:
        """Write one row."""
        self._writer.writerow([safe_cell(cell) for cell in cells])

    def writerows(self, rows: Iterable[Iterable[object]]) -> None:
        """Write rows."""
        for cells in rows:
            self.writerow(cells)


def columns_of(content: bytes) -> set[str]:
    """Names of a table's columns, in small letters; empty where there is no heading."""
    lines = content.decode("utf-8-sig", "replace").splitlines()
    heading = next((line for line in lines if line.strip() and not _comment(line)), "")
    return {cell.strip().strip('"').strip().lower() for cell in re.split(r"[,;\t]", heading)} - {""}


def _comment(line: str) -> bool:
    return line.lstrip().lstrip('"').lstrip().startswith("#")


def _version(comments: list[str]) -> tuple[int, int]:
    for index, line in enumerate(comments):
        match = _FORMAT.match(line)
        if match:
            return int(match.group(1)), index + 1
    return 1, 1


def _without_comments(lines: list[str]) -> Iterator[str]:
    """The lines for the CSV reader; a comment outside quotes becomes an empty line."""
    inside_quotes = False
    for line in lines:
        if not inside_quotes and line.lstrip().startswith("#"):
            yield "\n"
            continue
        inside_quotes ^= line.count('"') % 2 == 1
        yield f"{line}\n"


def _split(path: Path, lines: list[str], start: int) -> tuple[list[str], list[Row]]:
    delimiter = max(";\t,", key=lines[start].count)
    reader = csv.reader(_without_comments(lines[start:]), delimiter=delimiter, strict=True)
    rows: list[Row] = []
    line = start + 1
    try:
        headings = [cell.strip().lower() for cell in next(reader)]
        line = start + reader.line_num + 1
        for cells in reader:
            if any(cell.strip() for cell in cells) and not _comment(cells[0]):
                rows.append((line, _cells(path, line, headings, cells)))
            line = start + reader.line_num + 1
    except csv.Error as error:
        cause = say("opens a quote that is never closed")
        if "unexpected end" not in str(error):
            cause = say("is not a row of a table ({reason})", reason=str(error))
        raise ModelError(
            cause,
            place=(str(path), say("line {line}", line=line)),
            remedy=say('A cell in quotes begins and ends with "; a quote inside it is doubled.'),
        ) from error
    return headings, rows


def _cells(path: Path, line: int, headings: list[str], cells: list[str]) -> dict[str, str]:
    if len(cells) > len(headings):
        raise ModelError(
            say(
                "has {cells} cells but there are {columns} columns",
                cells=len(cells),
                columns=len(headings),
            ),
            place=(str(path), say("line {line}", line=line)),
            remedy=say(
                "Put cells that hold the delimiter in quotes; with decimal commas separate "
                "the columns by semicolons."
            ),
        )
    padded = cells + [""] * (len(headings) - len(cells))
    return {h: _plain_cell(c.strip()) for h, c in zip(headings, padded, strict=False) if h}


def _check_repeated(place: Place, headings: list[str]) -> None:
    repeated = sorted({name for name in headings if name and headings.count(name) > 1})
    if repeated:
        raise ModelError(
            say("the column {columns} appears twice", columns=_list(repeated)),
            place=place,
            remedy=say("Keep one of them."),
        )


def _check_headings(
    place: Place, headings: list[str], required: tuple[str, ...], optional: tuple[str, ...]
) -> None:
    known = required + optional
    columns = say("The columns are: {columns}.", columns=", ".join(known))
    missing = [name for name in required if name not in headings]
    unknown = [name for name in headings if name and name not in known]
    if missing:
        raise ModelError(
            say("the column {columns} is missing", columns=_list(missing)),
            place=place,
            remedy=columns if len(headings) > 1 else joined([_SEPARATE, columns]),
        )
    if unknown:
        raise ModelError(
            say("the column {columns} is unknown", columns=_list(unknown)),
            place=place,
            remedy=columns,
        )


def _list(names: list[str]) -> str:
    return ", ".join(f"'{name[:40]}'" for name in names[:12])


def column_place(path: Path, line: int, column: str) -> Place:
    """Where a cell stands."""
    return str(path), say("line {line}", line=line), say("column '{column}'", column=column)


def number(text: str, path: Path, line: int, column: str) -> float | None:
    """A finite number with decimal point or comma, or None for an empty cell."""
    if not text:
        return None
    plain = text.replace("\u2212", "-").replace("\u00a0", "")
    if plain.count(",") == 1 and "." not in plain:
        plain = plain.replace(",", ".")
    value = float(plain) if _NUMBER.fullmatch(plain) else math.nan
    if not math.isfinite(value):
        raise ModelError(
            say("'{text}' is not a number", text=text[:40]),
            place=column_place(path, line, column),
            remedy=say("Write it like 12.5 or 12,5, without a unit."),
        )
    return value
