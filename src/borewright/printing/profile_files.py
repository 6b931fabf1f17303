"""A workshop's own printer and material profiles, from TOML files."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import TypeVar

from pydantic import ValidationError

from borewright.errors import PrintingError
from borewright.printing.profiles import (
    MaterialProfile,
    PrinterProfile,
    material_named,
    printer_named,
)

_Profile = TypeVar("_Profile", PrinterProfile, MaterialProfile)


def find_printer(name_or_file: str) -> PrinterProfile:
    """A built-in printer by name, or a profile of one's own from a file ending in .toml.

    Raises PrintingError where it is unknown or cannot be read.
    """
    if name_or_file.lower().endswith(".toml"):
        return _read(Path(name_or_file), PrinterProfile)
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
        data = tomllib.loads(path.read_text(encoding="utf-8"))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        raise PrintingError(
            f"cannot be read ({error})",
            place=str(path),
            remedy="Give a TOML file with the keys of the profile.",
        ) from error
    try:
        return kind.model_validate(data)
    except ValidationError as error:
        first = error.errors()[0]
        key = ".".join(str(step) for step in first["loc"])
        raise PrintingError(
            f"{first['msg'][:1].lower()}{first['msg'][1:]}",
            place=f"{path}, {key}",
            remedy=f"The keys are: {', '.join(kind.model_fields)}.",
        ) from error
