"""Keywork surveys in CSV."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from pydantic import ValidationError

from borewright.model.files.tables import number, read_table
from borewright.model.files.validation import model_error
from borewright.model.keywork import KeyworkSurvey, SurveyRow
from borewright.words import say

REQUIRED = ("item", "name", "part", "station_mm", "bearing_deg")
NUMBERS = (
    "station_mm",
    "bearing_deg",
    "up_mm",
    "down_mm",
    "pad_diameter_mm",
    "lift_mm",
    "ring_inside_mm",
    "thread_mm",
    "thread_pitch_mm",
    "seat_from_axis_mm",
)
OPTIONAL = (
    "hole",
    "up_mm",
    "down_mm",
    "pad_diameter_mm",
    "rest",
    "lift_mm",
    "ring_inside_mm",
    "thread_mm",
    "thread_pitch_mm",
    "seat_from_axis_mm",
    "comment",
)


def read_survey(path: Path | str) -> KeyworkSurvey:
    """Read a keywork survey; empty cells mean "not measured". ModelError with the line."""
    path = Path(path)
    rows = []
    lines = []
    for line, cells in read_table(path, REQUIRED, OPTIONAL, kind="survey"):
        lines.append(line)
        record: dict[str, Any] = {key: value for key, value in cells.items() if key and value}
        for column in NUMBERS:
            if column in record:
                record[column] = number(cells[column], path, line, column)
        try:
            rows.append(SurveyRow.model_validate(record))
        except ValidationError as error:
            raise model_error(error, (str(path), say("line {line}", line=line)), record) from error
    try:
        return KeyworkSurvey(rows=rows, source=str(path), lines=tuple(lines))
    except ValidationError as error:
        raise model_error(error, str(path)) from error
