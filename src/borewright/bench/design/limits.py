"""How far each dimension may go, as the fit room has it, whether or not a fit frees it."""

from __future__ import annotations

from dataclasses import dataclass

from borewright.errors import BorewrightError
from borewright.model import FitWishes, Instrument, KeyworkSurvey, read_values
from borewright.words import Text


@dataclass(frozen=True)
class Range:
    """Lowest and highest value (mm) of a dimension, and the limit in words at each end."""

    low: float
    high: float
    low_words: Text
    high_words: Text

    def beyond(self, value: float) -> Text:
        """The limit that a value breaks, in words; empty where it breaks none."""
        if value < self.low - 1e-6:
            return self.low_words
        return self.high_words if value > self.high + 1e-6 else ""


def ranges(instrument: Instrument, survey: KeyworkSurvey | None) -> dict[int, Range]:
    """Ranges by column of ``model.dimensions``: cup window, pad, ring, and walls to neighbours.

    Walls tie dimensions together; they are given for this one moving alone. A dimension whose
    limits exclude each other has none: the checks tell of it.
    """
    found: dict[int, Range] = {}
    for wish in ("hole.station", "hole.diameter", "hole.chimney", "*.bore_diameter"):
        found |= _by_wish(instrument, survey, wish)
    return _with_walls(instrument, survey, found)


def _by_wish(instrument: Instrument, survey: KeyworkSurvey | None, wish: str) -> dict[int, Range]:
    from borewright.fit.freedom import freedoms

    fit = FitWishes.model_validate({**instrument.fit.model_dump(), "free": [wish]})
    try:
        free = freedoms(instrument.model_copy(update={"fit": fit}), survey)
    except BorewrightError:
        return {}
    return {
        each.column: Range(each.low.value, each.high.value, each.low.words, each.high.words)
        for each in free
    }


def _with_walls(
    instrument: Instrument, survey: KeyworkSurvey | None, found: dict[int, Range]
) -> dict[int, Range]:
    import numpy as np

    from borewright.fit.spacing import spacings

    values = np.array(read_values(instrument))
    for spacing in spacings(instrument, survey):
        gap, gradient = spacing.evaluate(values)
        for column, _factor in (*spacing.terms, *spacing.radii):
            slope = float(gradient[column])
            if column not in found or abs(slope) < 1e-6:
                continue
            edge = float(values[column]) - gap / slope
            now = found[column]
            if slope < 0 and edge < now.high:
                found[column] = Range(now.low, edge, now.low_words, spacing.words)
            elif slope > 0 and edge > now.low:
                found[column] = Range(edge, now.high, spacing.words, now.high_words)
    return found
