"""Joints drawn apart, as a person writes them: ``barrel=1.5``."""

from __future__ import annotations

from collections.abc import Sequence

from borewright.errors import ModelError, RefusedValue
from borewright.model import Instrument
from borewright.model.pulled import drawn_apart, read_pulled


def with_pulled(instrument: Instrument, pulled: Sequence[str]) -> Instrument:
    """The instrument with joints drawn apart, each written as ``PART=MM``.

    They go before those that its file names; none leaves the instrument as it is.

    Raises
    ------
    ModelError
        For something that is not such a pair, a part that there is not, or a joint that cannot
        be drawn so far.
    """
    if not pulled:
        return instrument
    try:
        return drawn_apart(instrument, read_pulled(pulled))
    except RefusedValue as error:
        raise ModelError(error.cause, place="--pulled", remedy=error.remedy) from error
