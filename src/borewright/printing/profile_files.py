"""A workshop's own printer and material profiles, from TOML files."""

from __future__ import annotations

from pathlib import Path
from typing import TypeVar

from pydantic import ValidationError

from borewright.errors import ModelError, PrintingError
from borewright.model.files.text import read_text
from borewright.model.files.toml import parsed_toml
from borewright.model.files.validation import model_error
from borewright.printing.estimate import time_line
from borewright.printing.profiles import (
    MaterialProfile,
    PrinterProfile,
    material_named,
    printer_named,
)
from borewright.words import say

_Profile = TypeVar("_Profile", PrinterProfile, MaterialProfile)


def find_printer(name_or_file: str) -> PrinterProfile:
    """A built-in printer by name, or a profile of one's own from a file ending in .toml.

    Raises PrintingError where it is unknown or cannot be read.
    """
    if name_or_file.lower().endswith(".toml"):
        printer = _read(Path(name_or_file), PrinterProfile)
        try:
            time_line(printer)  # hours that cannot be are told before anything is made
        except PrintingError as error:
            raise error.at(name_or_file) from error
        return printer
    return printer_named(name_or_file)


def find_material(name_or_file: str) -> MaterialProfile:
    """A built-in material by name, or a profile of one's own from a file ending in .toml.

    Raises PrintingError where it is unknown or cannot be read.
    """
    if name_or_file.lower().endswith(".toml"):
        return _read(Path(name_or_file), MaterialProfile)
    return material_named(name_or_file)


def _read(path: Path, kind: type[_Profile]) -> _Profile:
    try:
        data = parsed_toml(read_text(path), str(path))
    except ModelError as error:
        raise PrintingError(error.cause, place=error.place, remedy=error.remedy) from error
    try:
        return kind.model_validate(data)
    except ValidationError as error:
        found = model_error(error, str(path), data)
        raise PrintingError(
            found.cause,
            place=found.place,
            remedy=say("The keys are: {keys}.", keys=", ".join(kind.model_fields)),
        ) from error
