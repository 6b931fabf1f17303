"""Fingering tables: written note, open holes, register, use."""

from __future__ import annotations

from pydantic import ConfigDict, Field, model_validator

from borewright.errors import ModelError
from borewright.model.base import Entity
from borewright.model.instrument import Instrument
from borewright.model.kinds import Register, Use
from borewright.model.pitch import note_number


class Fingering(Entity):
    """One fingering; ``label`` tells alternates of one note apart (empty for the standard one)."""

    written: str
    register_: Register = Field(alias="register")
    open_holes: tuple[str, ...]
    use: Use = Use.STANDARD
    label: str = ""
    comment: str = ""

    model_config = ConfigDict(extra="forbid", frozen=True, populate_by_name=True)

    @model_validator(mode="after")
    def _note_is_a_note(self) -> Fingering:
        note_number(self.written)
        if len(set(self.open_holes)) != len(self.open_holes):
            raise ValueError(f"an open hole is named twice: {' '.join(self.open_holes)}")
        return self

    @property
    def name(self) -> str:
        """Written note, and the label in brackets where there is one."""
        return f"{self.written} ({self.label})" if self.label else self.written


class FingeringTable(Entity):
    """All fingerings, in the order of the file."""

    fingerings: list[Fingering]
    source: str = ""

    @model_validator(mode="after")
    def _distinct(self) -> FingeringTable:
        names = [fingering.name for fingering in self.fingerings]
        for name in names:
            if names.count(name) > 1:
                raise ValueError(
                    f"the fingering '{name}' appears twice. Give alternates a label of their own"
                )
        return self

    def check_against(self, instrument: Instrument) -> None:
        """Raise ModelError where a fingering opens a hole that the instrument lacks."""
        known = set(instrument.hole_names())
        for row, fingering in enumerate(self.fingerings, start=2):
            for hole in fingering.open_holes:
                if hole not in known:
                    raise ModelError(
                        f"the fingering '{fingering.name}' opens hole '{hole}', "
                        f"which '{instrument.name}' does not have",
                        place=f"{self.source or 'fingering table'}, row {row}, open_holes",
                        remedy=f"Holes are: {' '.join(sorted(known)) or '(none)'}.",
                    )
