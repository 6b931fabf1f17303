"""Every table as CSV, out and in again without loss.

A text that a spreadsheet would take for a formula is written with an apostrophe before it,
and read back without.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any, NamedTuple

from borewright.errors import LedgerError
from borewright.ledger.checking import judged_row, refuse_early_sign_off
from borewright.ledger.fields import LONGEST_NOTE, Kind, RecordKind, read_value, shown
from borewright.ledger.kinds import record_kind
from borewright.ledger.kinds.proving import SIGN_OFF
from borewright.ledger.store import Ledger
from borewright.ledger.writing import Row, add_within, deed_of, new_version
from borewright.model.files.tables import FORMULA
from borewright.words import Place, say

_FORMULA = (*FORMULA, "'")
_WRITTEN = ("version", "withdrawn")  # a new record has its own version


def csv_text(kind: str, records: Sequence[Row]) -> str:
    """Records of one table as CSV with a heading; commas between, decimal points."""
    found = record_kind(kind)
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\n")
    names = ["code", *[field.name for field in found.fields], *_WRITTEN]
    writer.writerow(names)
    texts = _text_fields(found)
    for record in records:
        cells = [shown(record[name]) for name in names]
        writer.writerow(
            f"'{cell}" if name in texts and cell.startswith(_FORMULA) else cell
            for name, cell in zip(names, cells, strict=True)
        )
    return stream.getvalue()


def read_csv(kind: str, text: str, place: str) -> list[tuple[int, dict[str, str]]]:
    """Rows of a table as (line, cells); LedgerError with the line where it is not such a table.

    Commas, semicolons or tabs may stand between the columns; ``version`` is
    passed over.
    """
    found = record_kind(kind)
    lines = text.removeprefix("\ufeff")
    first = lines.split("\n", 1)[0]
    with _long_cells():
        reader = csv.reader(
            io.StringIO(lines, newline=""), delimiter=max(",;\t", key=first.count), strict=True
        )
        try:
            heading = [name.strip().lower() for name in next(reader, [])]
            _check_heading(found, heading, place)
            rows, line = [], reader.line_num + 1
            for cells in reader:
                if any(cell.strip() for cell in cells):
                    rows.append(
                        (
                            line,
                            _cells(found, heading, cells, (place, say("line {line}", line=line))),
                        )
                    )
                line = reader.line_num + 1
        except csv.Error as error:
            raise LedgerError(
                say("is not a table ({why})", why=str(error)),
                place=(place, say("line {line}", line=reader.line_num)),
                remedy=say(
                    'A cell in quotes begins and ends with "; a quote inside it is doubled.'
                ),
            ) from error
    return rows


def import_csv(ledger: Ledger, kind: str, text: str, *, who: str, place: str) -> list[Row]:
    """Add every row of a CSV text, or none of them; errors name the line.

    A row that was withdrawn is added and withdrawn again, so that links to it still lead there.
    """
    found = record_kind(kind)
    rows = read_csv(kind, text, place)
    if not rows:
        raise LedgerError(
            say("has a heading but no rows"),
            place=place,
            remedy=say("Add at least one row."),
        )
    checked = []
    for line, row in rows:
        gone = row.pop("withdrawn", "") == "yes"
        try:
            whole = judged_row(found.name, row)
            for field in found.fields:
                read_value(found.name, field, whole.get(field.name))
        except LedgerError as error:
            raise error.at((place, say("line {line}", line=line))) from error
        checked.append(_Line(line, whole, gone))
    why = f"from {Path(place).name}"[:200]
    deed = deed_of(found, who, "withdrawn", why)
    records: list[Row] = []
    with ledger.writing() as connection:
        for some in _up_to_sign_offs(checked):
            signed = some[0].signs_off
            if signed:
                try:
                    refuse_early_sign_off(connection, signed)
                except LedgerError as error:
                    raise error.at((place, say("line {line}", line=some[0].line))) from error
            values = [each.values for each in some]
            added = add_within(connection, kind, values, who=who, reason=why)
            for each, record in zip(some, added, strict=True):
                code = str(record["code"])
                gone = each.withdrawn
                records.append(
                    new_version(connection, found, code, {}, deed, None) if gone else record
                )
    return records


class _Line(NamedTuple):
    line: int
    values: Mapping[str, Any]
    withdrawn: bool

    @property
    def signs_off(self) -> str:
        """The serial number that the row signs off, if it does."""
        signs = self.values.get("subject") == SIGN_OFF and not self.withdrawn
        return str(self.values.get("instrument") or "") if signs else ""


def _up_to_sign_offs(rows: Sequence[_Line]) -> Iterator[list[_Line]]:
    """Runs of rows, each beginning with a sign-off or at the top: written one after another."""
    starts = [i for i, row in enumerate(rows) if i == 0 or row.signs_off]
    for start, end in zip(starts, [*starts[1:], len(rows)], strict=True):
        yield list(rows[start:end])


@contextmanager
def _long_cells() -> Iterator[None]:
    # The reader's own limit is 131072 letters, and notes may be longer.
    before = csv.field_size_limit(LONGEST_NOTE + 10)
    try:
        yield
    finally:
        csv.field_size_limit(before)


def _text_fields(kind: RecordKind) -> set[str]:
    texts = (Kind.TEXT, Kind.NOTE, Kind.LINK)
    return {"code", *[field.name for field in kind.fields if field.kind in texts]}


def _check_heading(kind: RecordKind, heading: Sequence[str], place: str) -> None:
    known = {"code", *[field.name for field in kind.fields], *_WRITTEN}
    unknown = [name for name in heading if name not in known]
    double = {name for name in heading if list(heading).count(name) > 1}
    if not heading or unknown or double:
        cause = say("there is no heading")
        if unknown:
            cause = say("the column '{name}' is unknown", name=unknown[0][:40])
        elif double:
            cause = say("the column '{name}' is there twice", name=min(double)[:40])
        where = (place, say("line {line}", line=1))
        raise LedgerError(cause, place=where, remedy=kind.fields_there_are)


def _cells(
    kind: RecordKind, heading: Sequence[str], cells: Sequence[str], place: Place
) -> dict[str, str]:
    if len(cells) > len(heading):
        raise LedgerError(
            say(
                "has {cells} cells but there are {columns} columns",
                cells=len(cells),
                columns=len(heading),
            ),
            place=place,
            remedy=say("Put cells that hold the delimiter in quotes."),
        )
    texts = _text_fields(kind)
    row = {}
    for name, cell in zip(heading, cells, strict=False):
        if name == "version":
            continue
        row[name] = cell[1:] if name in texts and cell.startswith("'") else cell
    return row
