"""A bore as a gauge found it: stations and diameters, from either end, with doubts."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

from pydantic import Field, model_validator

from borewright.model import plausible
from borewright.model.base import Entity, Finite, Name, NotNegative, Positive


class ReachedFrom(StrEnum):
    """Which end of the part a station was measured from."""

    TOP = "top"
    BOTTOM = "bottom"


class BoreReading(Entity):
    """One reading of a bore gauge (mm); a row of a measured bore.

    ``station_mm`` is the distance from the top shoulder of the part, or from the bottom
    shoulder where ``reached_from`` is ``bottom`` (then ``length_mm`` of the part is needed, in
    any row). Stations inside a tenon are negative. ``uncertainty_mm`` is one standard deviation
    of the gauge for this diameter, ``station_uncertainty_mm`` that of the place; without the
    first the scatter of the readings themselves is taken.
    """

    station_mm: Finite
    diameter_mm: Positive
    part: str = ""
    reached_from: ReachedFrom = ReachedFrom.TOP
    length_mm: Positive | None = None
    uncertainty_mm: Positive | None = None
    station_uncertainty_mm: NotNegative = 0.0
    comment: str = ""

    @model_validator(mode="after")
    def _millimetres(self) -> BoreReading:
        plausible.check_length(
            "a bore diameter",
            self.diameter_mm,
            plausible.NARROWEST_BORE_MM,
            plausible.WIDEST_BORE_MM,
        )
        return self


class MeasuredPart(Entity):
    """All readings of one part, from the top downwards.

    ``stations_mm`` run from the top shoulder whatever end they were reached from.
    """

    name: Name
    length_mm: Positive | None
    readings: Annotated[list[BoreReading], Field(min_length=3, max_length=10_000)]
    stations_mm: list[float]

    @property
    def diameters_mm(self) -> list[float]:
        """Diameters in the order of ``stations_mm``."""
        return [reading.diameter_mm for reading in self.readings]


class MeasuredBore(Entity):
    """The measured parts of one instrument, from the top down."""

    name: str
    source: str = ""
    parts: Annotated[list[MeasuredPart], Field(min_length=1)]

    def part(self, name: str) -> MeasuredPart:
        """The part of that name; KeyError where it was not measured."""
        for part in self.parts:
            if part.name == name:
                return part
        raise KeyError(name)
