"""A ledger by its place, and the files that people hand to it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from borewright.errors import LedgerError
from borewright.words import say

if TYPE_CHECKING:
    from borewright.ledger import Ledger
    from borewright.model import SensitivityMap

#: Where a workshop's ledger is unless it is named.
DEFAULT_PLACE = "workshop.ledger"


def opened(place: str, *, create: bool = False) -> Ledger:
    """The ledger at a place."""
    from borewright.ledger import Ledger

    return Ledger(place, create=create)


def read_file(path: Path) -> bytes:
    """A file's content; LedgerError where it cannot be read."""
    try:
        return path.read_bytes()
    except OSError as error:
        why = str(error.strerror or error)
        raise LedgerError(
            say("cannot be read ({why})", why=why),
            place=str(path),
            remedy=say("Look whether the file is there and may be read."),
        ) from error


def read_text(path: Path) -> str:
    """A text file's content; LedgerError where it is not UTF-8 text."""
    try:
        return read_file(path).decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise LedgerError(
            say("is not UTF-8 text"), place=str(path), remedy=say("Save it as CSV UTF-8.")
        ) from error


def read_sensitivities(path: Path) -> SensitivityMap:
    """Sensitivities from a file that holds them as JSON."""
    from pydantic import ValidationError

    from borewright.model import SensitivityMap

    try:
        return SensitivityMap.model_validate_json(read_text(path))
    except ValidationError as error:
        raise LedgerError(
            say("holds no sensitivities"),
            place=str(path),
            remedy=say("Write it with `borewright sensitivity FILE --json`."),
        ) from error
