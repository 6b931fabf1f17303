"""Fingering tables: written note, open holes, register, use."""

from __future__ import annotations

from typing import Annotated

from pydantic import ConfigDict, Field, model_validator

from borewright.errors import ModelError, RefusedValue
from borewright.model.base import Entity
from borewright.model.instrument import Instrument
from borewright.model.kinds import Register, Use
from borewright.model.pitch import note_number
from borewright.words import Message, say


class Fingering(Entity):
    """One fingering; ``label`` tells alternates of one note apart (empty for the standard one).

    ``pressed`` names what the fingers do: finger holes that they cover, and keys they press.
    """

    written: str
    register_: Register = Field(alias="register")
    open_holes: tuple[str, ...]
    use: Use = Use.STANDARD
    label: str = ""
    resonance: Annotated[int, Field(ge=1, le=9)] | None = None
    pressed: tuple[str, ...] = ()
    comment: str = ""

    model_config = ConfigDict(extra="forbid", frozen=True, populate_by_name=True)

    @model_validator(mode="after")
    def _note_is_a_note(self) -> Fingering:
        note_number(self.written)
        if len(set(self.open_holes)) != len(self.open_holes):
            raise RefusedValue(
                say(
                    "an open hole is named twice: {open_holes}",
                    open_holes=" ".join(self.open_holes),
                ),
                say("Name each once."),
            )
        return self

    @property
    def resonance_number(self) -> int:
        """Which resonance sounds, from 1: the register's, unless the table says otherwise."""
        return self.resonance or self.register_.resonance

    @property
    def name(self) -> str:
        """Written note, and the label in brackets where there is one."""
        return f"{self.written} ({self.label})" if self.label else self.written


class FingeringTable(Entity):
    """All fingerings, in the order of the file.

    ``lines`` are the rows' line numbers in the file ``source``, for messages.
    """

    fingerings: list[Fingering]
    source: str = ""
    lines: tuple[int, ...] = Field(default=(), exclude=True, repr=False)

    @model_validator(mode="after")
    def _distinct(self) -> FingeringTable:
        seen: dict[str, int] = {}
        for index, fingering in enumerate(self.fingerings):
            if fingering.name in seen:
                raise RefusedValue(
                    say(
                        "the fingering '{fingering}' appears twice ({first} and {second})",
                        fingering=fingering.name,
                        first=self.row_place(seen[fingering.name]),
                        second=self.row_place(index),
                    ),
                    say("Give alternates a label of their own."),
                )
            seen[fingering.name] = index
        return self

    def row_place(self, index: int) -> Message:
        """Where a fingering stands: its line in the file, or its number in the table."""
        if index < len(self.lines):
            return say("line {line}", line=self.lines[index])
        return say("row {row}", row=index + 1)

    def check_against(self, instrument: Instrument) -> None:
        """Raise ModelError where a fingering opens a hole that the instrument lacks."""
        known = instrument.hole_names()
        names = set(known)
        for index, fingering in enumerate(self.fingerings):
            for hole in fingering.open_holes:
                if hole not in names:
                    raise ModelError(
                        say(
                            "the fingering '{fingering}' opens hole '{hole}', which '{instrument}' "
                            "does not have",
                            fingering=fingering.name,
                            hole=hole,
                            instrument=instrument.name,
                        ),
                        place=(
                            self.source or say("fingering table"),
                            self.row_place(index),
                            "open_holes",
                        ),
                        remedy=say("Holes are: {holes}.", holes=" ".join(known) or say("(none)")),
                    )
