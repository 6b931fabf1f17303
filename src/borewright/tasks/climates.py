"""What room, breath and player do to an instrument's pitch."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from borewright.model import Instrument, ParameterEffect, SideHoles, TuningTable, WarmUpPoint, load
from borewright.tasks.inputs import fingerings_of
from borewright.tasks.progress import Cancel, Progress, holes_told
from borewright.tasks.pulling import with_pulled


@dataclass(frozen=True)
class InClimates:
    """Tuning tables by room, the warm-up, and the effect of every parameter."""

    instrument: Instrument
    rooms: dict[str, TuningTable]
    warm_up: list[WarmUpPoint]
    effects: list[ParameterEffect]

    def as_dict(self) -> dict[str, Any]:
        """Everything for JSON; a room has the keys of a tuning table."""
        return {
            "instrument": self.instrument.name,
            "rooms": {
                name: table.model_dump(mode="json", by_alias=True)
                for name, table in self.rooms.items()
            },
            "warm_up": [point.model_dump(mode="json") for point in self.warm_up],
            "effects": [effect.model_dump(mode="json") for effect in self.effects],
        }


def in_climates(
    file: Path,
    fingerings: Path | None,
    *,
    pulled: Sequence[str] = (),
    side_holes: SideHoles | None = None,
    progress: Progress | None = None,
    cancel: Cancel | None = None,
) -> InClimates:
    """Work out climates for an instrument's file.

    Parameters
    ----------
    file, fingerings
        The instrument, and a table that goes before the one it names.
    pulled
        Joints drawn apart, each as ``PART=MM``.
    side_holes
        How side holes are computed; None is the file's own level, or solved in 3-D.
    progress, cancel
        Told while holes are solved; asked whether to stop.

    Raises
    ------
    ModelError
        Where a file cannot be read, or a joint cannot be drawn apart like that.
    AcousticsError
        Where holes are to be solved in 3-D and cannot be.
    """
    from borewright import acoustics

    instrument = with_pulled(load(file), pulled)
    table = fingerings_of(instrument, file, fingerings)
    holes = holes_told(progress, cancel)
    rooms = acoustics.climate_tables(instrument, table, side_holes=side_holes, progress=holes)
    return InClimates(
        instrument,
        rooms,
        acoustics.warm_up(instrument, table, side_holes=side_holes),
        acoustics.parameter_effects(instrument, table, side_holes=side_holes),
    )
