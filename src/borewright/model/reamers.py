"""Taper reamers on a maker's shelf."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field, model_validator

from borewright.errors import RefusedValue
from borewright.model.base import Entity, Name, Positive
from borewright.words import Message, say


class TaperReamer(Entity):
    """A straight taper reamer, by what its cutting edges are (mm).

    ``small_mm`` is the diameter at its tip, ``length_mm`` how long its cutting part is; its wide
    end is ``large_mm``, or follows from ``slope``: mm of diameter per mm of length, 0.005 for a
    taper of 1 in 200.
    """

    name: Name | None = None
    small_mm: Positive
    length_mm: Positive
    large_mm: Positive | None = None
    slope: Annotated[Positive, Field(lt=1)] | None = None

    @model_validator(mode="after")
    def _tapers(self) -> TaperReamer:
        if (self.large_mm is None) == (self.slope is None):
            raise RefusedValue(
                say("a taper reamer's wide end is given twice or not at all"),
                say("Write either large_mm or slope."),
            )
        if self.large_mm is not None and self.large_mm <= self.small_mm:
            raise RefusedValue(
                say(
                    "the reamer's wide end of {large_mm:g} mm is no wider than its tip of "
                    "{small_mm:g} mm",
                    large_mm=self.large_mm,
                    small_mm=self.small_mm,
                ),
                say("Write the tip's diameter as small_mm; a straight reamer belongs in reamers."),
            )
        return self

    @property
    def taper(self) -> float:
        """How much it widens (mm of diameter per mm of length)."""
        if self.slope is not None:
            return self.slope
        return (self.widest_mm - self.small_mm) / self.length_mm

    @property
    def widest_mm(self) -> float:
        """Diameter (mm) at its wide end."""
        if self.large_mm is not None:
            return self.large_mm
        return self.small_mm + (self.slope or 0.0) * self.length_mm

    @property
    def words(self) -> Message:
        """Its name, its two ends and its length."""
        sizes = say(
            "taper reamer {small_mm:g} to {large_mm:g} mm over {length_mm:g} mm",
            small_mm=round(self.small_mm, 3),
            large_mm=round(self.widest_mm, 3),
            length_mm=self.length_mm,
        )
        if self.name is None:
            return sizes
        return say("'{name}', {sizes}", name=self.name, sizes=sizes)
