"""Measured bores in CSV."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from pydantic import ValidationError

from borewright.errors import ModelError
from borewright.model.bores.measured import BoreReading, MeasuredBore, MeasuredPart, ReachedFrom
from borewright.model.files.tables import column_place, number, read_table
from borewright.model.files.validation import model_error
from borewright.words import say

REQUIRED = ("station_mm", "diameter_mm")
NUMBERS = (
    "station_mm",
    "diameter_mm",
    "length_mm",
    "uncertainty_mm",
    "station_uncertainty_mm",
)
OPTIONAL = (
    "part",
    "reached_from",
    "length_mm",
    "uncertainty_mm",
    "station_uncertainty_mm",
    "comment",
)
#: Fewer readings of a part say nothing of its shape.
LEAST_READINGS = 6


def read_bore(path: Path | str) -> MeasuredBore:
    """Read a measured bore; parts come in the order of their first rows.

    Raises ModelError with the line.
    """
    path = Path(path)
    groups: dict[str, list[tuple[int, BoreReading]]] = {}
    for line, cells in read_table(path, REQUIRED, OPTIONAL, kind="bore"):
        record: dict[str, Any] = {key: value for key, value in cells.items() if value}
        for column in NUMBERS:
            if column in record:
                record[column] = number(cells[column], path, line, column)
        try:
            reading = BoreReading.model_validate(record)
        except ValidationError as error:
            raise model_error(error, (str(path), say("line {line}", line=line)), record) from error
        groups.setdefault(reading.part, []).append((line, reading))
    parts = [_part(path, name or "bore", rows) for name, rows in groups.items()]
    return MeasuredBore(name=path.stem, source=str(path), parts=parts)


def _part(path: Path, name: str, rows: list[tuple[int, BoreReading]]) -> MeasuredPart:
    if len(rows) < LEAST_READINGS:
        raise ModelError(
            say("'{name}' has {readings} readings", name=name, readings=len(rows)),
            place=(str(path), say("line {line}", line=rows[0][0])),
            remedy=say(
                "Measure at {stations} stations at least; 20 or more tell a shape.",
                stations=LEAST_READINGS,
            ),
        )
    length = _length(path, name, rows)
    placed = []
    for line, reading in rows:
        station = reading.station_mm
        if reading.reached_from is ReachedFrom.BOTTOM:
            if length is None:
                raise ModelError(
                    say(
                        "'{name}' was measured from its bottom, but its length is not given",
                        name=name,
                    ),
                    place=column_place(path, line, "length_mm"),
                    remedy=say(
                        "Write the part's length, shoulder to shoulder, in any of its rows."
                    ),
                )
            station = length - station
        placed.append((station, reading))
    placed.sort(key=lambda pair: pair[0])
    if placed[-1][0] - placed[0][0] <= 0:
        raise ModelError(
            say("all readings of '{name}' are at one station", name=name),
            place=(str(path), say("line {line}", line=rows[0][0])),
            remedy=say("Measure along the bore."),
        )
    return MeasuredPart(
        name=name,
        length_mm=length,
        readings=[reading for _, reading in placed],
        stations_mm=[station for station, _ in placed],
    )


def _length(path: Path, name: str, rows: list[tuple[int, BoreReading]]) -> float | None:
    given: float | None = None
    for line, reading in rows:
        if reading.length_mm is None:
            continue
        if given is not None and reading.length_mm != given:
            raise ModelError(
                say(
                    "'{name}' is {given:g} mm long in one row and {length_mm:g} in another",
                    name=name,
                    given=given,
                    length_mm=reading.length_mm,
                ),
                place=column_place(path, line, "length_mm"),
                remedy=say("Keep one of the two."),
            )
        given = reading.length_mm
    return given
