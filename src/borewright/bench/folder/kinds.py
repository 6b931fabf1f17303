"""What kind of file something in the folder is, from its suffix and its first lines."""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path

from borewright.model.files.tables import columns_of
from borewright.playing.phone_formats import SUFFIXES

_HEAD_BYTES = 64_000
_SOUND = set(SUFFIXES)
_LEDGER = {".db", ".sqlite", ".sqlite3", ".ledger"}
_PART = re.compile(r"^\s*\[\[\s*part\s*\]\]", re.MULTILINE)


class Kind(StrEnum):
    """Kinds of files that a bench folder holds."""

    INSTRUMENT = "instrument"
    SURVEY = "survey"
    FINGERINGS = "fingerings"
    BORE = "bore"
    TABLE = "table"
    TAKE = "take"
    LEDGER = "ledger"
    SETTINGS = "settings"
    OTHER = "other"


@dataclass(frozen=True)
class FolderFile:
    """A file of the folder: its name from there, its kind, its size in bytes."""

    name: str
    kind: Kind
    size: int


def kind_of(path: Path) -> Kind:
    """The kind of a file; a table is told by its heading, an instrument by its parts."""
    suffix = path.suffix.lower()
    if suffix in _SOUND:
        return Kind.TAKE
    if suffix in _LEDGER:
        return Kind.LEDGER
    if suffix not in (".toml", ".csv"):
        return Kind.OTHER
    try:
        with path.open("rb") as stream:
            head = stream.read(_HEAD_BYTES)
    except OSError:
        return Kind.OTHER
    if suffix == ".toml":
        return Kind.INSTRUMENT if _PART.search(head.decode("utf-8", "replace")) else Kind.SETTINGS
    columns = columns_of(head)
    if {"item", "station_mm"} <= columns:
        return Kind.SURVEY
    if {"station_mm", "diameter_mm"} <= columns and "item" not in columns:
        return Kind.BORE
    return Kind.FINGERINGS if {"written", "open_holes"} <= columns else Kind.TABLE
