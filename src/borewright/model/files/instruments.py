"""Instruments in TOML; an edit by the tool keeps the owner's comments and order."""

from __future__ import annotations

import difflib
import tomllib
from pathlib import Path
from typing import Any

import tomlkit
from pydantic import ValidationError
from tomlkit.exceptions import TOMLKitError

from borewright.errors import ModelError, RefusedValue
from borewright.model.files.atomic import shown, write_text
from borewright.model.files.blocks import line_of
from borewright.model.files.merging import merge
from borewright.model.files.migrations import NEWEST, migrate
from borewright.model.files.restructure import restructure
from borewright.model.files.text import read_raw_text, with_plain_line_ends
from borewright.model.files.toml import parsed_toml
from borewright.model.files.validation import first_finding, model_error
from borewright.model.instrument import Instrument
from borewright.model.relations import check_named
from borewright.words import Message, Place, Said, joined, say

#: Keys of the file's [instrument] table that sit at the top of the model.
_TOP = (
    "name",
    "keywork",
    "keys",
    "fingerings",
    "bottom_end",
    "outside_interaction",
    "wall_loss_factor",
    "pulled",
    "side_holes",
    "serial",
    "invented",
    "note",
)
_TABLES = ("pitch", "climate", "mouthpiece", "reed", "fit", "body", "drawing")


def load(path: Path | str) -> Instrument:
    """Read and validate an instrument file.

    Raises ModelError with file, line or key, cause and remedy.
    """
    path = Path(path)
    return _validated(with_plain_line_ends(read_raw_text(path)), shown(path))


def read_instrument(path: Path | str) -> tuple[Instrument, tomlkit.TOMLDocument]:
    """An instrument and the document it came from, for edits that keep its comments.

    Raises ModelError with file, line or key, cause and remedy.
    """
    path = Path(path)
    raw = read_raw_text(path)
    text = with_plain_line_ends(raw)
    instrument = _validated(text, shown(path))
    try:
        document = tomlkit.parse(text.replace("\n", "\r\n") if "\r\n" in raw else text)
    except (TOMLKitError, RecursionError) as error:
        line = getattr(error, "line", None)
        raise ModelError(
            say("cannot be edited with its comments kept"),
            place=(shown(path), say("line {line}", line=line) if line else ""),
            remedy=say("Simplify how that line is written."),
        ) from error
    return instrument, document


def _validated(text: str, place: str) -> Instrument:
    data = _to_model(parsed_toml(text, place), place)
    try:
        instrument = Instrument.model_validate(data)
    except ValidationError as error:
        line = line_of(text, first_finding(error)["loc"])
        raise model_error(error, place, data, line) from error
    try:
        check_named(instrument.fit, instrument.parts)
    except RefusedValue as error:
        raise ModelError(error.cause, place=(place, "[fit]"), remedy=error.remedy) from error
    return instrument


def _to_model(raw: dict[str, Any], place: str) -> dict[str, Any]:
    raw = dict(raw)
    version = raw.pop("format", None)
    if version is None:
        raise ModelError(
            say("the format version is missing"),
            place=(place, "format"),
            remedy=say(
                "Begin the file with the line 'format = {format}'.", format=NEWEST["instrument"]
            ),
        )
    raw = dict(migrate(raw, "instrument", version, place=place))
    top = raw.pop("instrument", {})
    if not isinstance(top, dict):
        raise ModelError(
            say("'instrument' is not a table"),
            place=(place, "instrument"),
            remedy=say("Write its keys under the heading [instrument] in single brackets."),
        )
    for key in top:
        if key not in _TOP:
            raise _unknown(
                say("the key '{key}' is unknown", key=key[:60]), key, (place, "[instrument]"), _TOP
            )
    data: dict[str, Any] = dict(top)
    for table in _TABLES:
        if table in raw:
            data[table] = raw.pop(table)
    parts = raw.pop("part", [])
    if not isinstance(parts, list) or not all(isinstance(part, dict) for part in parts):
        raise ModelError(
            say("'part' is not a list of tables"),
            place=(place, "part"),
            remedy=say("Write each part under a heading [[part]] with double brackets."),
        )
    for key in raw:
        raise _unknown(
            say("the table or key '{key}' is unknown", key=key[:60]),
            key,
            (place,),
            ("instrument", *_TABLES, "part"),
        )
    if not parts:
        raise ModelError(
            say("has no part"),
            place=(place, "part"),
            remedy=say("Write each part under a heading [[part]] with double brackets."),
        )
    data["parts"] = [_part_to_model(part, place) for part in parts]
    return data


def _unknown(cause: Message, key: str, place: Place, known: tuple[str, ...]) -> ModelError:
    remedy: Said = say("Known here: {known}.", known=", ".join(known))
    for close in difflib.get_close_matches(key, known, n=1):
        remedy = joined([say("Perhaps '{key}' is meant.", key=close), remedy])
    return ModelError(cause, place=place, remedy=remedy)


def _part_to_model(part: dict[str, Any], place: str) -> dict[str, Any]:
    part = dict(part)
    if "holes" in part:
        raise ModelError(
            say("the key 'holes' is unknown"),
            place=(place, say("part '{name}'", name=str(part.get("name", ""))[:60])),
            remedy=say("Write each hole under a heading [[part.hole]], in the singular."),
        )
    if "hole" in part:
        part["holes"] = part.pop("hole")
    return part


def _to_file(instrument: Instrument, *, brief: bool) -> dict[str, Any]:
    """The model as the file's tables; ``brief`` leaves out values that equal their defaults."""
    dumped = instrument.model_dump(mode="json", exclude_defaults=brief)
    top = {key: dumped[key] for key in _TOP if key in dumped}
    data: dict[str, Any] = {"format": NEWEST["instrument"], "instrument": top}
    for table in _TABLES:
        if table in dumped:
            data[table] = dumped[table]
    data["part"] = []
    for part in dumped["parts"]:
        holes = part.pop("holes", [])
        data["part"].append({**part, **({"hole": holes} if holes else {})})
    return data


def starting_text(instrument: Instrument) -> str:
    """TOML text of an instrument that has no file yet."""
    document = tomlkit.document()
    brief = _to_file(instrument, brief=True)
    merge(document, brief, brief)
    return tomlkit.dumps(document)


def save_as(
    instrument: Instrument, path: Path | str, original: tomlkit.TOMLDocument | None = None
) -> None:
    """Write an instrument atomically; ``original`` lends its comments, order and line ends.

    Where the original is written in a way that cannot be edited in place, the file is begun
    anew and all of its comments stand together at the top.
    """
    if original is None:
        write_text(path, starting_text(instrument))
        return
    lent = tomlkit.dumps(original)
    text = _edited(with_plain_line_ends(lent), instrument)
    write_text(path, text.replace("\n", "\r\n") if "\r\n" in lent else text)


def _edited(text: str, instrument: Instrument) -> str:
    brief, full = _to_file(instrument, brief=True), _to_file(instrument, brief=False)
    try:
        document = tomlkit.parse(restructure(text, tomllib.loads(text), brief))
        merge(document, brief, full)
        edited = tomlkit.dumps(document)
        # What is on disk must read back as the very same instrument: a slip in the merge
        # would otherwise lose the owner's work in silence.
        if _validated(edited, "") == instrument:
            return edited
    except (TOMLKitError, ValueError, TypeError, LookupError, ModelError):
        pass  # an unusual way of writing, such as parts in one line: begin anew, as promised
    comments = [line.strip() for line in text.split("\n") if line.lstrip().startswith("#")]
    return (
        "\n".join([*comments, "", starting_text(instrument)])
        if comments
        else (starting_text(instrument))
    )
