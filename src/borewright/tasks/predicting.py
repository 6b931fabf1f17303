"""Pitches of a file's fingerings, with their error bars where they are asked for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from borewright.model import ErrorBars, Instrument, SideHoles, TuningTable, load
from borewright.tasks.inputs import fingerings_of
from borewright.tasks.progress import Cancel, Progress, holes_told
from borewright.tasks.pulling import with_pulled


@dataclass(frozen=True)
class Prediction:
    """An instrument's tuning table, and how sure each note is."""

    instrument: Instrument
    table: TuningTable
    bars: ErrorBars | None

    def as_dict(self) -> dict[str, Any]:
        """The table for JSON; error bars under a key of their own."""
        data = self.table.model_dump(mode="json", by_alias=True)
        if self.bars is not None:
            data["error_bars"] = self.bars.model_dump(mode="json", exclude={"instrument"})
        return data


def predict(
    file: Path,
    fingerings: Path | None,
    *,
    pulled: Sequence[str] = (),
    error_bars: bool = False,
    side_holes: SideHoles | None = None,
    progress: Progress | None = None,
    cancel: Cancel | None = None,
) -> Prediction:
    """Tune an instrument's file.

    Parameters
    ----------
    file, fingerings
        The instrument, and a table that goes before the one it names.
    pulled
        Joints drawn apart, each as ``PART=MM``.
    error_bars
        Whether to work them out, with the doubts that the model has by default.
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
    from borewright.acoustics.error_bars import error_bars_at
    from borewright.acoustics.side_holes import hole_level
    from borewright.acoustics.tuning import tuning_at

    instrument = with_pulled(load(file), pulled)
    table = fingerings_of(instrument, file, fingerings)
    level = hole_level(instrument, side_holes, holes_told(progress, cancel))
    bars = error_bars_at(instrument, table, level) if error_bars else None
    return Prediction(instrument, tuning_at(instrument, table, level), bars)
