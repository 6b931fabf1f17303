"""The folder's table of notes, which every step after the recording reads."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from borewright.bench.page import Page
from borewright.bench.workbench import Change, Workbench
from borewright.words import Text

if TYPE_CHECKING:
    from borewright.playing import Record

NAME = "notes.csv"


def notes_path(bench: Workbench) -> Path:
    """Where the table is, or will be."""
    return bench.folder.path(NAME)


def notes_of(bench: Workbench) -> list[Record]:
    """The table's records, none where there is no table; PlayingError or ModelError."""
    from borewright.playing import read_records

    path = notes_path(bench)
    return read_records(path) if path.is_file() else []


def save_notes(page: Page, records: Sequence[Record], what: Text) -> bool:
    """Save the table as one step that can be undone; without records the table goes."""
    from borewright.playing.records import records_text

    bench = page.workbench
    data = records_text(records).encode("utf-8") if records else None
    saved = page.save(lambda: bench.folder.save_all({NAME: data}, what))
    if saved:
        bench.tell(Change("files", page))
    return saved


def recording_of(record: Record) -> str:
    """The file that a record's take belongs to; a file of several rounds holds several takes."""
    return record.take.rsplit("#", 1)[0]


def names_of(records: Sequence[Record], column: str = "instrument") -> list[str]:
    """What occurs in a column, in the order of the table, without empty cells."""
    return [name for name in dict.fromkeys(getattr(each, column) for each in records) if name]
