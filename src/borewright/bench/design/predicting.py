"""Pitches for what is dragged: the newest wish is computed, older ones are passed over."""

from __future__ import annotations

import asyncio
import math
from collections.abc import Callable, Mapping
from typing import Any

from nicegui import background_tasks

from borewright.bench.design.circumstances import Circumstances
from borewright.bench.workbench import Workbench
from borewright.errors import BenchError, BorewrightError
from borewright.model import (
    FingeringTable,
    Instrument,
    TuningTable,
    dimensions,
    read_values,
    with_values,
)
from borewright.words import Text, joined, say


def changed(instrument: Instrument, values: Mapping[Any, Any]) -> Instrument:
    """The instrument with some dimensions (mm) replaced, by column of ``model.dimensions``.

    Raises BenchError for columns or values that are none, ModelError where the values make no
    sound instrument.
    """
    found = read_values(instrument)
    for key, value in values.items():
        column = int(key) if str(key).isdecimal() else -1
        number = value if isinstance(value, int | float) else math.nan
        if not 0 <= column < len(found) or not math.isfinite(number):
            raise BenchError(
                say("this is no dimension of the instrument"),
                place=str(key)[:20],
                remedy=say("Load the page anew."),
            )
        found[column] = float(number)
    return with_values(instrument, found)


def words_of_change(old: Instrument, new: Instrument) -> Text:
    """``L3 station 103.2 → 104 mm``: what the history calls a change."""
    pairs = zip(dimensions(old), read_values(old), read_values(new), strict=True)
    words = [
        say("{what} {before:g} → {after:g} mm", what=d.words, before=before, after=after)
        for d, before, after in pairs
        if before != after
    ]
    first = joined(words[:2], ", ")
    if len(words) > 2:
        return say("{first} and {count} more", first=first, count=len(words) - 2)
    return first if words else say("nothing")


class Predicting:
    """Answers moves with tuning tables, the newest first.

    Parameters
    ----------
    workbench
        Its kernel thread computes.
    on_table
        Called with each table and the number of the move it answers.
    on_error
        Called where the moved dimensions make no sound instrument.
    """

    def __init__(
        self,
        workbench: Workbench,
        on_table: Callable[[TuningTable, int], None],
        on_error: Callable[[BorewrightError], None],
    ) -> None:
        self._bench = workbench
        self._on_table, self._on_error = on_table, on_error
        self._wanted: tuple[dict[str, Any], int] | None = None
        self._busy = False

    def move(self, values: dict[str, Any], number: int, circumstances: Circumstances) -> None:
        """Predict for moved dimensions, as soon as the kernel is free."""
        self._wanted = values, number
        if not self._busy:
            self._busy = True
            background_tasks.create(self._chase(circumstances), name="pitches of a drag")

    def forget(self) -> None:
        """Drop a wish that was not computed yet: what was dragged is dropped or put back."""
        self._wanted = None

    async def _chase(self, circumstances: Circumstances) -> None:
        try:
            while self._wanted is not None:
                (values, number), self._wanted = self._wanted, None
                base, fingerings = self._bench.instrument, self._bench.fingerings
                if base is None or fingerings is None:
                    return
                try:
                    table = await self._bench.kernel(
                        _predict, base, values, circumstances, fingerings
                    )
                except BorewrightError as error:
                    self._on_error(error)
                else:
                    self._on_table(table, number)
                await asyncio.sleep(0)
        finally:
            self._busy = False


def _predict(
    base: Instrument,
    values: dict[str, Any],
    circumstances: Circumstances,
    fingerings: FingeringTable,
) -> TuningTable:
    from borewright.acoustics.side_holes import hole_level
    from borewright.acoustics.tuning import tuning_at

    moved = circumstances.seen(changed(base, values))
    level = hole_level(moved, like=circumstances.seen(base))
    return tuning_at(moved, fingerings, level)
