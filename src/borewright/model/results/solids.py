"""What ``solids`` made and wrote."""

from __future__ import annotations

from pydantic import ConfigDict, Field

from borewright.model.base import Entity


class SolidPart(Entity):
    """One exported body (mm, mm³)."""

    part: str
    step: str
    stl: str
    three_mf: str = Field(alias="3mf")
    volume_mm3: float
    watertight: bool
    valid: bool
    bounding_box_mm: tuple[float, float, float]

    model_config = ConfigDict(extra="forbid", frozen=True, populate_by_name=True)


class SolidsReport(Entity):
    """All exported bodies, the file in which they stand together, and those of several on a bed."""

    parts: list[SolidPart]
    assembly: str = ""
    beds: list[str] = []
