"""A note's pitch as measured."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

import numpy as np

from borewright.errors import PlayingError
from borewright.model import FingeringTable
from borewright.words import say


class MeasuredNote(NamedTuple):
    """Cents of one fingering against the pitch standard, and their standard error."""

    cents: float
    error: float


def check_measured(fingerings: FingeringTable, measured: Mapping[str, MeasuredNote]) -> None:
    """Raise PlayingError for fewer than three notes, unknown ones, and figures that are none."""
    known = {fingering.name for fingering in fingerings.fingerings}
    for name, value in measured.items():
        if name not in known:
            raise PlayingError(
                say("'{name}' is not in the fingering table", name=name),
                place=say("measured notes"),
                remedy=say("Name notes as the table does, such as B3 or B3 (sliver)."),
            )
        if not (np.isfinite(value.cents) and value.error > 0):
            raise PlayingError(
                say("'{name}' has no standard error", name=name),
                place=say("measured notes"),
                remedy=say("Give one above 0."),
            )
    if len(measured) < 3:
        raise PlayingError(
            say("only {notes} notes were measured", notes=len(measured)),
            place=say("measured notes"),
            remedy=say("Record at least a scale: single notes say little about an instrument."),
        )
