"""Joints drawn apart, as a person writes them: ``barrel=1.5``."""

from __future__ import annotations

from collections.abc import Sequence

from borewright.errors import ModelError, RefusedValue
from borewright.model import Instrument
from borewright.words import say


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
    gaps: dict[str, float] = {}
    for text in pulled:
        name, _, number = text.partition("=")
        try:
            by_mm = float(number.strip().replace(",", "."))
        except ValueError:
            by_mm = float("nan")
        if not name.strip() or not 0.0 <= by_mm < float("inf"):
            raise ModelError(
                say("'{text}' does not say which joint is pulled by how much", text=text),
                place="--pulled",
                remedy=say("Write the part and millimetres: --pulled barrel=1.5"),
            )
        gaps[name.strip()] = by_mm
    drawn_apart = instrument.model_copy(update={"pulled": gaps})
    try:
        drawn_apart.joint_gaps_mm()
    except RefusedValue as error:
        raise ModelError(error.cause, place="--pulled", remedy=error.remedy) from error
    return drawn_apart
