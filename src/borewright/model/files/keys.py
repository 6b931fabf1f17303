"""Key surveys in CSV: one row an element, two points a row, all in the shut position."""

from __future__ import annotations

import csv
import io
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from borewright.errors import ModelError
from borewright.model.files.atomic import write_text
from borewright.model.files.tables import columns_of, number, read_table, safe_cell
from borewright.model.files.validation import model_error
from borewright.model.keys import (
    Arm,
    Cup,
    Element,
    Foot,
    Hinge,
    KeyElement,
    KeyPoint,
    KeySet,
    Link,
    Post,
    Ring,
    Spring,
    SpringMaterial,
    SpringShape,
    Stop,
    Touch,
)
from borewright.words import Message, listed, say

POINTS = ("x1_mm", "bearing1_deg", "r1_mm", "x2_mm", "bearing2_deg", "r2_mm")
REQUIRED = ("key", "element", "id", "part", *POINTS)
OPTIONAL = (
    "size_mm",
    "size2_mm",
    "hinge",
    "hole",
    "to",
    "rest",
    "open_deg",
    "lift_mm",
    "travel_mm",
    "material",
    "free_length_mm",
    "deflection_mm",
    "tip_force_n",
    "touch_force_g",
    "finger",
    "gap_mm",
    "uncertainty_mm",
    "comment",
)
#: For each element its class, and its fields by column.
KINDS: dict[str, tuple[type[Element], dict[str, str]]] = {
    "hinge": (
        Hinge,
        {"size_mm": "tube_mm", "size2_mm": "rod_mm", "rest": "rest", "open_deg": "open_deg"},
    ),
    "post": (Post, {"size_mm": "head_mm", "size2_mm": "thread_mm"}),
    "arm": (Arm, {"size_mm": "diameter_mm"}),
    "foot": (Foot, {"size_mm": "diameter_mm"}),
    "cup": (
        Cup,
        {
            "size_mm": "pad_mm",
            "size2_mm": "outside_mm",
            "hole": "hole",
            "rest": "rest",
            "lift_mm": "lift_mm",
        },
    ),
    "ring": (
        Ring,
        {
            "size_mm": "inside_mm",
            "size2_mm": "outside_mm",
            "hole": "hole",
            "travel_mm": "travel_mm",
        },
    ),
    "touch": (
        Touch,
        {
            "size_mm": "width_mm",
            "size2_mm": "thickness_mm",
            "travel_mm": "travel_mm",
            "finger": "finger",
        },
    ),
    "spring": (
        Spring,
        {
            "to": "held_by",
            "free_length_mm": "free_length_mm",
            "deflection_mm": "deflection_mm",
            "tip_force_n": "tip_force_n",
            "touch_force_g": "touch_force_g",
        },
    ),
    "stop": (Stop, {"size_mm": "width_mm", "size2_mm": "cork_mm", "to": "against"}),
    "link": (
        Link,
        {
            "size_mm": "width_mm",
            "size2_mm": "cork_mm",
            "to": "to",
            "travel_mm": "travel_mm",
            "gap_mm": "gap_mm",
        },
    ),
}
_WORDS = ("rest", "hole", "to", "material", "finger", "hinge")
#: Fields that may stay empty.
_MAY_LACK = {"travel_mm", "finger", "to", "tip_force_n", "touch_force_g", "gap_mm"}
#: What stands above the heading of every key survey that is written.
KEYS_HEAD = """\
# format = 1
# All points in the shut position: every pad on its seat, every ring down. Stations in mm from
# each joint's own top shoulder, bearings in degrees (0 front, positive towards the player's
# left), heights r in mm from the bore's axis.
"""


def is_key_survey(content: bytes) -> bool:
    """Whether a table's heading is that of a key survey, whatever separates its columns."""
    return {"key", "element", "id"} <= columns_of(content)


def read_keys(path: Path | str) -> KeySet:
    """Read a key survey; ModelError with file, line and column, cause and remedy."""
    path = Path(path)
    elements, lines = [], []
    for line, cells in read_table(path, REQUIRED, OPTIONAL, kind="keys"):
        elements.append(_element(path, line, cells))
        lines.append(line)
    return KeySet(elements=tuple(elements), source=str(path), lines=tuple(lines))


def _element(path: Path, line: int, cells: dict[str, str]) -> Element:
    kind = cells["element"].lower()
    if kind not in KINDS:
        raise _wrong(
            path,
            line,
            "element",
            say("'{element}' is no element of a key", element=kind[:40]),
            say("Write one of: {kinds}.", kinds=listed([e.value for e in KeyElement], "or")),
        )
    made, columns = KINDS[kind]
    if made is Spring:
        columns = columns | _spring_sizes(path, line, cells)
    record: dict[str, Any] = {
        "key": cells["key"],
        "name": cells["id"],
        "part": cells["part"],
        "hinge": cells["hinge"] or cells["key"],
        "first": _point(path, line, cells, POINTS[:3]),
        "second": _point(path, line, cells, POINTS[3:]),
        "uncertainty_mm": number(cells["uncertainty_mm"], path, line, "uncertainty_mm"),
        "comment": cells["comment"],
    }
    for column, field in columns.items():
        text = cells[column]
        if not text and (column not in _MAY_LACK or (made is Link and column == "to")):
            raise _wrong(
                path,
                line,
                column,
                say(
                    "the {element} '{name}' needs it, but it is empty",
                    element=KeyElement(kind),
                    name=cells["id"],
                ),
                say("Measure it, or correct the element."),
            )
        if text:
            record[field] = text if column in _WORDS else number(text, path, line, column)
    if made is Spring:
        record |= _material(path, line, cells["material"])
    try:
        return made.model_validate(record)
    except ValidationError as error:
        raise model_error(error, f"{path}, line {line}", record) from error


def _point(path: Path, line: int, cells: dict[str, str], columns: tuple[str, ...]) -> KeyPoint:
    values = []
    for column in columns:
        value = number(cells[column], path, line, column)
        if value is None:
            raise _wrong(
                path,
                line,
                column,
                say("a coordinate of '{name}' is empty", name=cells["id"]),
                say("Every row has two points; measure it."),
            )
        values.append(value)
    try:
        return KeyPoint(station_mm=values[0], bearing_deg=values[1], height_mm=values[2])
    except ValidationError as error:
        raise model_error(error, f"{path}, line {line}") from error


def _material(path: Path, line: int, text: str) -> dict[str, Any]:
    material, _, shape = text.lower().rpartition(" ")
    known = [f"{m.value} {s.value}" for m in SpringMaterial for s in SpringShape]
    if text.lower() not in known:
        raise _wrong(
            path,
            line,
            "material",
            say("'{material}' is no spring known here", material=text[:40]),
            say("Write one of: {known}.", known=listed(known, "or")),
        )
    return {"material": SpringMaterial(material), "shape": SpringShape(shape)}


def _spring_sizes(path: Path, line: int, cells: dict[str, str]) -> dict[str, str]:
    """A needle has one size, its diameter; a flat spring width and thickness."""
    if _material(path, line, cells["material"])["shape"] is SpringShape.NEEDLE:
        return {"size_mm": "thickness_mm"}
    return {"size_mm": "width_mm", "size2_mm": "thickness_mm"}


def _wrong(path: Path, line: int, column: str, cause: Message, remedy: Message) -> ModelError:
    place = (
        str(path),
        say("line {number}", number=line),
        say("column '{column}'", column=column),
    )
    return ModelError(cause, place=place, remedy=remedy)


def keys_text(keys: KeySet, note: str = "") -> str:
    """A key survey as CSV; ``note`` stands as a comment above the heading."""
    out = io.StringIO()
    columns = (*REQUIRED, *OPTIONAL)
    writer = csv.DictWriter(out, columns, restval="", lineterminator="\n")
    writer.writeheader()
    for element in keys.elements:
        writer.writerow({name: safe_cell(cell) for name, cell in _row(element).items()})
    comments = "".join(f"# {line}\n" for line in note.splitlines())
    return KEYS_HEAD + comments + out.getvalue()


def _row(element: Element) -> dict[str, str]:
    row = {
        "key": element.key,
        "element": element.kind.value,
        "id": element.name,
        "part": element.part,
        "hinge": element.hinge,
        "uncertainty_mm": _written(element.uncertainty_mm),
        "comment": element.comment,
    }
    for columns, point in ((POINTS[:3], element.first), (POINTS[3:], element.second)):
        values = (point.station_mm, point.bearing_deg, point.height_mm)
        row |= {column: f"{value:.3f}" for column, value in zip(columns, values, strict=True)}
    fields = KINDS[element.kind.value][1]
    if isinstance(element, Spring):
        needle = element.shape is SpringShape.NEEDLE
        fields = fields | (
            {"size_mm": "thickness_mm"}
            if needle
            else {"size_mm": "width_mm", "size2_mm": "thickness_mm"}
        )
        row["material"] = f"{element.material.value} {element.shape.value}"
    for column, field in fields.items():
        if not (column == "gap_mm" and getattr(element, field) == 0):
            row[column] = _written(getattr(element, field))
    return row


def _written(value: float | str | None) -> str:
    if value is None:
        return ""
    return str(value) if isinstance(value, str) else f"{value:g}"


def write_keys(path: Path | str, keys: KeySet, note: str = "") -> None:
    """Write a key survey; ModelError where the file cannot be written."""
    write_text(Path(path), keys_text(keys, note))
