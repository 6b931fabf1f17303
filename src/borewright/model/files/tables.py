"""CSV as spreadsheets write it: any delimiter, decimal comma, BOM, Windows line ends."""

from __future__ import annotations

import csv
import io
import math
from pathlib import Path

from borewright.errors import ModelError

MOST_BYTES = 5_000_000


def read_text(path: Path) -> str:
    """Text of a file in UTF-8 (with or without BOM) or UTF-16; ModelError otherwise."""
    try:
        if path.is_dir():
            raise ModelError("is a folder", place=str(path), remedy="Name a file.")
        if path.stat().st_size > MOST_BYTES:
            raise ModelError(
                f"is {path.stat().st_size / 1e6:.0f} MB, far more than such a file ever holds",
                place=str(path),
                remedy="Check that it is the right file.",
            )
        raw = path.read_bytes()
    except FileNotFoundError as error:
        raise ModelError(
            "does not exist", place=str(path), remedy="Check the name and the folder."
        ) from error
    except OSError as error:
        raise ModelError(
            f"cannot be read ({error.strerror})",
            place=str(path),
            remedy="Check that you may read it.",
        ) from error
    encoding = "utf-16" if raw[:2] in (b"\xff\xfe", b"\xfe\xff") else "utf-8-sig"
    try:
        text = raw.decode(encoding)
    except UnicodeDecodeError as error:
        raise ModelError(
            f"is not readable text (byte {error.start} is not {encoding})",
            place=str(path),
            remedy="Save it again as UTF-8 text.",
        ) from error
    if "\x00" in text:
        raise ModelError("is not text", place=str(path), remedy="Name a text file, saved as UTF-8.")
    return text.replace("\r\n", "\n").replace("\r", "\n")


def read_table(
    path: Path, required: tuple[str, ...], optional: tuple[str, ...]
) -> list[tuple[int, dict[str, str]]]:
    """Rows of a CSV file as (line number, {column: text}).

    The delimiter (comma, semicolon or tab) is taken from the heading; lines that are empty
    or begin with ``#`` are passed over. Unknown, missing and repeated columns, and rows with
    too many cells, are refused with their line.
    """
    lines = read_text(path).split("\n")
    start = next((i for i, line in enumerate(lines) if line.strip() and line[0] != "#"), None)
    if start is None:
        raise ModelError(
            "has no heading line",
            place=str(path),
            remedy=f"The first line names the columns: {', '.join(required)}.",
        )
    delimiter = max(";\t,", key=lines[start].count)
    reader = csv.reader(io.StringIO("\n".join(lines[start:])), delimiter=delimiter)
    try:
        headings = [cell.strip() for cell in next(reader)]
        _check_headings(path, start + 1, headings, required, optional)
        rows = []
        line_before = reader.line_num
        for cells in reader:
            line = start + line_before + 1
            line_before = reader.line_num
            if not any(cell.strip() for cell in cells) or cells[0].startswith("#"):
                continue
            extra = [cell for cell in cells[len(headings) :] if cell.strip()]
            if extra:
                raise ModelError(
                    f"has {len(cells)} cells but there are {len(headings)} columns",
                    place=f"{path}, line {line}",
                    remedy=(
                        "Put cells that hold the delimiter in quotes; with decimal commas "
                        "separate the columns by semicolons."
                    ),
                )
            padded = cells + [""] * (len(headings) - len(cells))
            rows.append((line, {h: c.strip() for h, c in zip(headings, padded, strict=False)}))
    except csv.Error as error:
        raise ModelError(
            f"is not a table ({error})", place=str(path), remedy="Save it again as CSV."
        ) from error
    if not rows:
        raise ModelError(
            "has a heading but no rows", place=str(path), remedy="Add at least one row."
        )
    return rows


def _check_headings(
    path: Path,
    line: int,
    headings: list[str],
    required: tuple[str, ...],
    optional: tuple[str, ...],
) -> None:
    place = f"{path}, line {line}"
    known = required + optional
    missing = [name for name in required if name not in headings]
    unknown = [name for name in headings if name and name not in known]
    repeated = sorted({name for name in headings if name and headings.count(name) > 1})
    if missing:
        raise ModelError(
            f"the column {_list(missing)} is missing",
            place=place,
            remedy=f"The columns are: {', '.join(known)}.",
        )
    if unknown:
        raise ModelError(
            f"the column {_list(unknown)} is unknown",
            place=place,
            remedy=f"The columns are: {', '.join(known)}.",
        )
    if repeated:
        raise ModelError(
            f"the column {_list(repeated)} appears twice", place=place, remedy="Keep one of them."
        )


def _list(names: list[str]) -> str:
    return ", ".join(f"'{name}'" for name in names)


def number(text: str, path: Path, line: int, column: str) -> float | None:
    """A finite number with decimal point or comma, or None for an empty cell."""
    if not text:
        return None
    plain = text.replace("\u2212", "-").replace("\u00a0", "")
    if plain.count(",") == 1 and "." not in plain:
        plain = plain.replace(",", ".")
    try:
        value = float(plain)
    except ValueError:
        value = math.nan
    if not math.isfinite(value):
        raise ModelError(
            f"'{text}' is not a number",
            place=f"{path}, line {line}, column '{column}'",
            remedy="Write it like 12.5 or 12,5, without a unit.",
        )
    return value
