"""The keywork survey: cups, rings and posts that the body must respect."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field, model_validator

from borewright.model.base import Entity, Finite, NotNegative, Positive
from borewright.model.kinds import Rest, SurveyItem


class SurveyRow(Entity):
    """One measured feature of the keywork (mm, degrees).

    A cup or ring names its ``hole``; ``up_mm`` and ``down_mm`` say how far the hole's
    centre may go from the measured station (how far the key can be bent or moved).
    A cup has pad, rest and lift; a ring its inside diameter; a post its thread.
    """

    item: SurveyItem
    name: Annotated[str, Field(min_length=1, max_length=60)]
    part: str
    station_mm: Finite
    bearing_deg: Annotated[float, Field(ge=-180, le=180, allow_inf_nan=False)]
    hole: str = ""
    up_mm: NotNegative = 0.0
    down_mm: NotNegative = 0.0
    pad_diameter_mm: Positive | None = None
    rest: Rest | None = None
    lift_mm: Positive | None = None
    ring_inside_mm: Positive | None = None
    thread_mm: Positive | None = None
    comment: str = ""

    @model_validator(mode="after")
    def _complete(self) -> SurveyRow:
        needs = {
            SurveyItem.CUP: ("hole", "pad_diameter_mm", "rest", "lift_mm"),
            SurveyItem.RING: ("hole", "ring_inside_mm"),
            SurveyItem.POST: ("thread_mm",),
        }[self.item]
        for field in needs:
            if not getattr(self, field):
                raise ValueError(f"a {self.item} needs {field}, but it is empty")
        return self


class KeyworkSurvey(Entity):
    """All rows of a survey, in the order of the file."""

    rows: list[SurveyRow]
    source: str = ""

    @model_validator(mode="after")
    def _one_cup_or_ring_a_hole(self) -> KeyworkSurvey:
        seen: set[str] = set()
        for row in self.rows:
            if row.hole in seen:
                raise ValueError(f"hole '{row.hole}' has two rows. Keep one cup or ring for it")
            if row.hole:
                seen.add(row.hole)
        return self

    def for_hole(self, hole: str) -> SurveyRow | None:
        """The cup or ring over a hole, or None."""
        for row in self.rows:
            if row.hole == hole and row.item is not SurveyItem.POST:
                return row
        return None

    def posts(self) -> list[SurveyRow]:
        """Every post."""
        return [row for row in self.rows if row.item is SurveyItem.POST]
