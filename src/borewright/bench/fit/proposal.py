"""What a fit proposes, and taking it whole or hole by hole."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from borewright.bench.widgets import Units
from borewright.bench.words import _
from borewright.errors import BenchError
from borewright.model import (
    FitResult,
    Instrument,
    Move,
    dimensions,
    drawn,
    read_values,
    remembering,
    with_values,
)
from borewright.words import say


@dataclass
class Proposal:
    """A fit's result, for the file it belongs to; owners in ``left`` are not taken."""

    file: str
    start: Instrument
    fitted: Instrument
    result: FitResult
    left: set[str] = field(default_factory=set)

    def moved(self) -> list[Move]:
        """Moves that change something or are held by a limit."""
        return [move for move in self.result.moved if move.to != move.from_ or move.limit]

    def rows(self, units: Units) -> list[dict[str, Any]]:
        """Rows of the table; the first row of each owner bears its tick box."""
        found: list[dict[str, Any]] = []
        seen: set[str] = set()
        for number, move in enumerate(self.moved()):
            owner = move.hole or move.part
            by = units.shown(move.to - move.from_)
            found.append(
                {
                    "key": number,
                    "owner": owner,
                    "first": owner not in seen,
                    "words": f"{owner} {_.tell(move.dimension)}",
                    "now": units.shown(move.from_),
                    "then": units.shown(move.to),
                    "by": by if by.startswith("-") else f"+{by}",
                    "limit": _.tell(move.limit or ""),
                }
            )
            seen.add(owner)
        return found

    def taken(self, present: Instrument) -> Instrument:
        """The present instrument with the moves of all owners that are not left.

        Raises
        ------
        BenchError
            Where the instrument has other dimensions now than when the fit began.
        ModelError
            Where the dimensions taken do not go together.
        """
        columns = dimensions(present)
        if columns != dimensions(self.start):
            raise BenchError(
                say("the instrument has other holes or bore points now than the fit began with"),
                place=self.file,
                remedy=say("Run the fit again."),
            )
        old, new, values = read_values(self.start), read_values(self.fitted), read_values(present)
        for column, dimension in enumerate(columns):
            owner = dimension.hole or dimension.part
            if owner not in self.left and new[column] != old[column]:
                values[column] = new[column]
        return remembering(with_values(present, values), drawn(present))
