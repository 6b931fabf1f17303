"""The scatter that remains after compensation, carried on to the notes."""

from __future__ import annotations

import math

from borewright.errors import PrintingError
from borewright.model import Instrument, SensitivityMap, dimensions
from borewright.model.base import Entity
from borewright.model.bores.dimension_words import dimension_words
from borewright.printing.calibration import Calibration
from borewright.printing.coupon_features import FeatureKind
from borewright.words import say


class PrintScatter(Entity):
    """One standard deviation (mm) of printed sizes about their compensated mean."""

    bore_mm: float
    hole_mm: float
    printer: str = ""
    material: str = ""

    @classmethod
    def of(cls, calibration: Calibration) -> PrintScatter:
        """From a calibration; PrintingError where bores or side holes were not measured."""
        bore = calibration.of(FeatureKind.BORE)
        across = calibration.of(FeatureKind.HOLE_ACROSS)
        upright = calibration.of(FeatureKind.HOLE_UPRIGHT)
        if bore is None or across is None or upright is None:
            raise PrintingError(
                say(
                    "bores and both diameters of side holes must be measured to know their scatter"
                ),
                place=say("coupon"),
                remedy=say("Measure at least three features of each of these kinds."),
            )
        return cls(
            bore_mm=bore.scatter_mm,
            hole_mm=math.hypot(across.scatter_mm, upright.scatter_mm) / 2,
            printer=calibration.printer,
            material=calibration.material,
        )


class ErrorBar(Entity):
    """One standard deviation (cents) of a note from printed sizes alone."""

    fingering: str
    cents: float


def error_bars(
    instrument: Instrument, sensitivity: SensitivityMap, scatter: PrintScatter
) -> list[ErrorBar]:
    """How far each note scatters from instrument to instrument, by the print alone.

    Diameters of holes and of bore points are taken to vary independently, so their cents add
    as squares (first order). PrintingError where map and instrument do not belong together.
    """
    names = dimensions(instrument)
    if [str(words) for words in dimension_words(instrument)] != list(sensitivity.columns):
        raise PrintingError(
            say("the sensitivity map lists other dimensions than the instrument has"),
            place=say("'{instrument}'", instrument=instrument.name),
            remedy=say("Work the map out anew for this instrument."),
        )
    by_measure = {"diameter": scatter.hole_mm, "bore_diameter": scatter.bore_mm}
    sigmas = [by_measure.get(one.measure, 0.0) for one in names]
    return [
        ErrorBar(
            fingering=fingering,
            cents=math.sqrt(
                sum((10 * c * sigma) ** 2 for c, sigma in zip(row, sigmas, strict=True))
            ),
        )
        for fingering, row in zip(
            sensitivity.fingerings, sensitivity.cents_per_tenth_mm, strict=True
        )
    ]
