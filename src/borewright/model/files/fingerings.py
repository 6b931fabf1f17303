"""Fingering tables in CSV."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from pydantic import ValidationError

from borewright.model.files.tables import read_table
from borewright.model.files.validation import model_error
from borewright.model.fingering import Fingering, FingeringTable
from borewright.words import say

REQUIRED = ("written", "register", "open_holes")
OPTIONAL = ("use", "label", "resonance", "pressed", "comment")


def read_fingerings(path: Path | str) -> FingeringTable:
    """Read a fingering table.

    Columns are written, register, open_holes, use, label, resonance, pressed and comment.
    ``open_holes`` holds hole names separated by spaces; an empty cell closes every hole.
    ``pressed`` holds finger holes that are covered and keys that are pressed.
    ``resonance`` is only needed where another than the register's sounds (forks).
    Raises ModelError with file, line and remedy.
    """
    path = Path(path)
    fingerings = []
    lines = []
    for line, cells in read_table(path, REQUIRED, OPTIONAL, kind="fingerings"):
        lines.append(line)
        record: dict[str, Any] = {key: value for key, value in cells.items() if key and value}
        record["open_holes"] = tuple(cells["open_holes"].split())
        record["pressed"] = tuple(cells["pressed"].split())
        try:
            fingerings.append(Fingering.model_validate(record))
        except ValidationError as error:
            raise model_error(error, (str(path), say("line {line}", line=line)), record) from error
    try:
        return FingeringTable(fingerings=fingerings, source=str(path), lines=tuple(lines))
    except ValidationError as error:
        raise model_error(error, str(path)) from error


def find_duplicate_sets(table: FingeringTable) -> list[tuple[str, str]]:
    """Pairs of fingerings of one register with the same open holes: one of them is a slip."""
    pairs = []
    seen: dict[tuple[str, frozenset[str]], str] = {}
    for fingering in table.fingerings:
        key = (fingering.register_, frozenset(fingering.open_holes))
        if key in seen:
            pairs.append((seen[key], fingering.name))
        seen.setdefault(key, fingering.name)
    return pairs
