"""Instruments in TOML; an edit by the tool keeps the owner's comments and order."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import tomlkit
from pydantic import ValidationError
from tomlkit.exceptions import ParseError
from tomlkit.items import AoT, Array

from borewright.errors import ModelError
from borewright.model.files.atomic import write_text
from borewright.model.files.tables import read_text
from borewright.model.files.validation import model_error
from borewright.model.instrument import FORMAT, Instrument

#: Keys of the file's [instrument] table that sit at the top of the model.
_TOP = (
    "name",
    "keywork",
    "fingerings",
    "bottom_end",
    "wall_loss_factor",
    "invented",
    "note",
)
_TABLES = ("pitch", "climate", "mouthpiece", "reed", "fit")


def load(path: Path | str) -> Instrument:
    """Read and validate an instrument file.

    Raises ModelError with file, key, cause and remedy.
    """
    return read_instrument(path)[0]


def read_instrument(path: Path | str) -> tuple[Instrument, tomlkit.TOMLDocument]:
    """An instrument and the document it came from, for edits that keep its comments."""
    path = Path(path)
    text = read_text(path)
    try:
        document = tomlkit.parse(text)
    except ParseError as error:
        raise ModelError(
            f"is not valid TOML: {str(error).split(' at line')[0]}",
            place=f"{path}, line {error.line}, column {error.col}",
            remedy="Numbers use a decimal point, texts stand in quotes.",
        ) from error
    data = _to_model(document.unwrap(), path)
    try:
        return Instrument.model_validate(data), document
    except ValidationError as error:
        raise model_error(error, str(path), data) from error


def _to_model(raw: dict[str, Any], path: Path) -> dict[str, Any]:
    version = raw.pop("format", None)
    if version is None:
        raise ModelError(
            "the format version is missing",
            place=f"{path}, format",
            remedy=f"Begin the file with: format = {FORMAT}",
        )
    if not isinstance(version, int) or not 1 <= version <= FORMAT:
        raise ModelError(
            f"the file has format {version!r}, but this version reads 1 to {FORMAT}",
            place=f"{path}, format",
            remedy="Upgrade borewright, or ask for the file in an older format.",
        )
    data: dict[str, Any] = dict(raw.pop("instrument", {}))
    for key in data:
        if key not in _TOP:
            raise ModelError(
                f"the key '{key}' is unknown",
                place=f"{path}, [instrument]",
                remedy=f"Known keys: {', '.join(_TOP)}.",
            )
    for table in _TABLES:
        if table in raw:
            data[table] = raw.pop(table)
    parts = raw.pop("part", [])
    if not isinstance(parts, list):
        raise ModelError(
            "'part' is one table, but parts are a list",
            place=f"{path}, part",
            remedy="Write each part under a heading [[part]] with double brackets.",
        )
    data["parts"] = [_part_to_model(part, path) for part in parts]
    for key in raw:
        raise ModelError(
            f"the table '{key}' is unknown",
            place=str(path),
            remedy=f"Known tables: instrument, {', '.join(_TABLES)}, part.",
        )
    return data


def _part_to_model(part: Any, path: Path) -> dict[str, Any]:
    if not isinstance(part, dict):
        raise ModelError(
            "a part is not a table", place=f"{path}, part", remedy="Use the heading [[part]]."
        )
    part = dict(part)
    if "hole" in part:
        part["holes"] = part.pop("hole")
    return part


def _to_file(instrument: Instrument) -> dict[str, Any]:
    """The model as the file's tables, without values that equal their defaults."""
    dumped = instrument.model_dump(mode="json", exclude_defaults=True)
    data: dict[str, Any] = {"format": FORMAT, "instrument": {}}
    data["instrument"] = {key: dumped[key] for key in _TOP if key in dumped}
    for table in _TABLES:
        if table in dumped:
            data[table] = dumped[table]
        elif getattr(instrument, table) is not None and table in ("mouthpiece", "reed"):
            data[table] = {}
    data["part"] = []
    for part in dumped["parts"]:
        holes = part.pop("holes", [])
        data["part"].append({**part, **({"hole": holes} if holes else {})})
    return data


def starting_text(instrument: Instrument) -> str:
    """TOML text of an instrument that has no file yet."""
    document = tomlkit.document()
    _merge(document, _to_file(instrument))
    return tomlkit.dumps(document)


def save_as(
    instrument: Instrument, path: Path | str, original: tomlkit.TOMLDocument | None = None
) -> None:
    """Write an instrument atomically; ``original`` lends its comments and order."""
    if original is None:
        write_text(path, starting_text(instrument))
        return
    document = tomlkit.parse(tomlkit.dumps(original))
    _merge(document, _to_file(instrument))
    text = tomlkit.dumps(document)
    # What is on disk must read back as the very same instrument: a slip in the merge would
    # otherwise lose the owner's work in silence.
    again = Instrument.model_validate(_to_model(tomlkit.parse(text).unwrap(), Path(path)))
    if again != instrument:
        text = starting_text(instrument)
    write_text(path, text)


def _merge(target: Any, new: dict[str, Any]) -> None:
    """Set changed values in a TOML table, leaving everything equal untouched."""
    for key, value in new.items():
        if key not in target:
            target[key] = _item(value)
        elif isinstance(value, dict):
            _merge(target[key], value)
            _drop_missing(target[key], value)
        elif isinstance(value, list):
            _merge_list(target, key, value)
        elif target[key] != value:
            target[key] = value


def _merge_list(target: Any, key: str, value: list[Any]) -> None:
    old = target[key]
    if isinstance(old, AoT) and len(old) == len(value):
        for old_table, new_table in zip(old, value, strict=True):
            _merge(old_table, new_table)
            _drop_missing(old_table, new_table)
    elif isinstance(old, Array) and len(old) == len(value):
        for index, item in enumerate(value):
            plain = old[index].unwrap() if hasattr(old[index], "unwrap") else old[index]
            if isinstance(item, list) and isinstance(old[index], Array):
                for inner, number in enumerate(item):
                    if old[index][inner] != number:
                        old[index][inner] = number
            elif plain != item:
                old[index] = item
    else:
        target[key] = _item(value)


def _drop_missing(target: Any, new: dict[str, Any]) -> None:
    """Remove optional tables that the new instrument no longer has."""
    for key in ("undercut", "pad", "tenon_top", "tenon_bottom", "socket_top", "socket_bottom"):
        if key in target and key not in new:
            del target[key]


def _item(value: Any) -> Any:
    if isinstance(value, list) and value and isinstance(value[0], dict):
        tables = tomlkit.aot()
        for entry in value:
            table = tomlkit.table()
            for key, inner in entry.items():
                if isinstance(inner, dict):
                    inline = tomlkit.inline_table()
                    inline.update(inner)
                    table[key] = inline
                else:
                    table[key] = _item(inner)
            tables.append(table)
        return tables
    if isinstance(value, dict):
        table = tomlkit.table()
        for key, inner in value.items():
            table[key] = _item(inner)
        return table
    return value
