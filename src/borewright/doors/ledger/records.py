"""Commands that add, list, show and correct records, and take tables out."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Any

import typer

from borewright.doors.answering import Answering, answer
from borewright.doors.arguments import AsJson
from borewright.doors.ledger.options import (
    Code,
    Fields,
    LedgerPlace,
    Reason,
    Table,
    Who,
    author,
    values_of,
)
from borewright.errors import LedgerError
from borewright.tasks.ledger.designs import values_with_file
from borewright.tasks.ledger.opening import DEFAULT_PLACE, opened, read_text
from borewright.words import say


def register(app: typer.Typer) -> None:
    """Put these commands on the ledger's command line."""
    for name, command in (
        ("start", start),
        ("tables", tables),
        ("add", add),
        ("list", list_records),
        ("show", show),
        ("correct", correct),
        ("withdraw", withdraw),
        ("export", export),
    ):
        app.command(name, cls=Answering)(command)


def start(ledger: LedgerPlace = DEFAULT_PLACE, as_json: AsJson = False) -> None:
    """Start a new ledger, or look whether there is one."""
    place = opened(ledger, create=True).shown_place
    data = {"ledger": str(place)}
    answer(data, lambda words: [words("The ledger is {place}.", place=place)], as_json)


def tables(
    table: Annotated[str | None, typer.Argument(metavar="TABLE", help="Only this one.")] = None,
    as_json: AsJson = False,
) -> None:
    """List the tables, or the fields of one."""
    from borewright.doors.ledger.showing import kind_as_dict, kind_lines
    from borewright.ledger import RECORD_KINDS, record_kind

    if table is not None:
        kind = record_kind(table)
        answer(kind_as_dict(kind), lambda words: kind_lines(kind, words), as_json)
        return
    data = {"tables": {name: str(kind.words) for name, kind in RECORD_KINDS.items()}}
    width = max(map(len, RECORD_KINDS))
    answer(
        data,
        lambda words: [
            f"  {name.ljust(width)}  {words.tell(kind.words)}"
            for name, kind in RECORD_KINDS.items()
        ],
        as_json,
    )


def add(
    table: Table,
    fields: Fields = None,
    csv: Annotated[
        Path | None, typer.Option(metavar="FILE", help="Add every row of a CSV file, or none.")
    ] = None,
    file: Annotated[
        Path | None,
        typer.Option(metavar="FILE", help="Keep this file with the record (design, survey, mark)."),
    ] = None,
    ledger: LedgerPlace = DEFAULT_PLACE,
    who: Who = "",
    as_json: AsJson = False,
) -> None:
    """Add a record, or a table of them.

    A design's --file is its instrument file: name and parts are read from it, and the file is
    kept under the hash of its content.
    """
    from borewright.doors.ledger.showing import record_as_dict, record_lines
    from borewright.ledger import import_csv, record_check, record_kind

    kind, values = record_kind(table), values_of(fields)
    if csv is not None:
        if values or file:
            raise LedgerError(
                say("--csv stands alone"), place="add", remedy=say("Leave the fields out.")
            )
        text = read_text(csv)
        rows = import_csv(opened(ledger), kind.name, text, who=author(who), place=str(csv))
        data = {"added": len(rows), "codes": [row["code"] for row in rows]}
        many, name = len(rows), kind.name
        answer(
            data,
            lambda words: [words("Added {count} records to {table}.", count=many, table=name)],
            as_json,
        )
        return
    book = opened(ledger)
    if file is not None:
        values = values_with_file(book, kind.name, values, file)
    if kind.name == "check":
        record = record_check(book, values, who=author(who))
    else:
        record = book.add(kind.name, values, who=author(who))
    answer(record_as_dict(record), lambda words: record_lines(kind, record, words), as_json)


def list_records(
    table: Table,
    fields: Fields = None,
    limit: Annotated[int, typer.Option(min=1, max=10**9, help="At most so many.")] = 100,
    skip: Annotated[
        int, typer.Option(min=0, max=10**9, help="Leave out so many at the start.")
    ] = 0,
    withdrawn: Annotated[bool, typer.Option("--withdrawn", help="Withdrawn ones too.")] = False,
    ledger: LedgerPlace = DEFAULT_PLACE,
    as_json: AsJson = False,
) -> None:
    """List records, in the order they were entered; fields given must match."""
    from borewright.doors.ledger.showing import record_as_dict, table_lines
    from borewright.ledger import record_kind

    kind = record_kind(table)
    rows = opened(ledger).records(
        kind.name, values_of(fields), limit=limit, offset=skip, withdrawn=withdrawn
    )
    data = {"table": kind.name, "records": [record_as_dict(row) for row in rows]}
    answer(data, lambda words: table_lines(kind, rows, words), as_json)


def show(
    table: Table, code: Code, ledger: LedgerPlace = DEFAULT_PLACE, as_json: AsJson = False
) -> None:
    """Show a record with its whole history; an instrument with what it waits for."""
    from borewright.doors.ledger.showing import (
        entry_lines,
        proof_as_dict,
        proof_lines,
        record_as_dict,
        record_lines,
    )
    from borewright.ledger import proof_of, record_kind

    kind, book = record_kind(table), opened(ledger)
    record, entries = book.get(kind.name, code), book.history(kind.name, code)
    data: dict[str, Any] = {
        "table": kind.name,
        "record": record_as_dict(record),
        "history": [entry.__dict__ for entry in entries],
    }
    proof = proof_of(book, code) if kind.name == "instrument" else None
    if proof is not None:
        data |= proof_as_dict(proof)
    answer(
        data,
        lambda words: [
            *record_lines(kind, record, words),
            *(proof_lines(proof, words) if proof is not None else []),
            *entry_lines(entries, words),
        ],
        as_json,
    )


def correct(
    table: Table,
    code: Code,
    fields: Fields = None,
    reason: Reason = "",
    version: Annotated[
        int | None,
        typer.Option(help="The version you looked at; refused where it has changed since."),
    ] = None,
    ledger: LedgerPlace = DEFAULT_PLACE,
    who: Who = "",
    as_json: AsJson = False,
) -> None:
    """Correct a record; what it said before is kept."""
    from borewright.doors.ledger.showing import record_as_dict, record_lines
    from borewright.ledger import correct_record, record_kind

    kind, book, changes = record_kind(table), opened(ledger), values_of(fields)
    record = correct_record(
        book, kind.name, code, changes, who=author(who), reason=reason, version=version
    )
    answer(record_as_dict(record), lambda words: record_lines(kind, record, words), as_json)


def withdraw(
    table: Table,
    code: Code,
    reason: Reason = "",
    ledger: LedgerPlace = DEFAULT_PLACE,
    who: Who = "",
    as_json: AsJson = False,
) -> None:
    """Take a record out of use; it stays in the history."""
    from borewright.doors.ledger.showing import record_as_dict, record_lines
    from borewright.ledger import record_kind

    kind = record_kind(table)
    record = opened(ledger).withdraw(kind.name, code, who=author(who), reason=reason)
    answer(record_as_dict(record), lambda words: record_lines(kind, record, words), as_json)


def export(
    output: Annotated[
        Path, typer.Option(metavar="PATH", help="A CSV file, or with --all a folder.")
    ],
    table: Annotated[str | None, typer.Argument(metavar="TABLE", help="The table.")] = None,
    every: Annotated[bool, typer.Option("--all", help="Every table, a file each.")] = False,
    ledger: LedgerPlace = DEFAULT_PLACE,
    as_json: AsJson = False,
) -> None:
    """Write tables as CSV; `add --csv` reads them back."""
    from borewright.ledger import RECORD_KINDS, csv_text, record_kind
    from borewright.model import write_text

    if every == (table is not None):
        raise LedgerError(
            say("takes a table or --all, one of them"),
            place="export",
            remedy=say("Name a table, or write --all."),
        )
    book = opened(ledger)
    names = list(RECORD_KINDS) if table is None else [record_kind(table).name]
    written = {}
    for name in names:
        path = output / f"{name}.csv" if every else output
        rows = book.records(name, withdrawn=True)
        write_text(path, csv_text(name, rows))
        written[str(path)] = len(rows)
    answer(
        {"written": written},
        lambda words: [
            f"  {path}: " + words.many("1 record", "{count} records", count)
            for path, count in written.items()
        ],
        as_json,
    )
