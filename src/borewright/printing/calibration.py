"""What a printer and a material really do: errors by kind and size, with their confidence."""

from __future__ import annotations

from collections.abc import Sequence

from borewright.errors import PrintingError
from borewright.model.base import Entity
from borewright.printing.along import crown_readings, length_line
from borewright.printing.coupon_features import FeatureKind
from borewright.printing.lines import FEWEST, KindCalibration, fitted_line
from borewright.printing.measuring import MeasuredFeature
from borewright.printing.ovality import Ovality, ovality_of
from borewright.words import Said, say

_TOO_FEW = (
    say(
        "none measured; at least three are needed to know offset and scatter, so sizes of this "
        "kind are not compensated"
    ),
    say(
        "one measured; at least three are needed to know offset and scatter, so sizes of this "
        "kind are not compensated"
    ),
    say(
        "two measured; at least three are needed to know offset and scatter, so sizes of this "
        "kind are not compensated"
    ),
)
_NO_LENGTHS = say(
    "it is judged from the ledge, and lengths were not measured, so all of what holes are lower "
    "than wide is taken for the crown's"
)


class Calibration(Entity):
    """All kinds that were measured well enough, and those that were not, with the reason."""

    printer: str
    material: str
    kinds: list[KindCalibration]
    refused: dict[FeatureKind, Said]
    lot: str = ""
    ovality: Ovality | None = None

    def of(self, kind: FeatureKind) -> KindCalibration | None:
        """The line of a kind; None where it was refused."""
        return next((one for one in self.kinds if one.kind is kind), None)


def calibrate(
    readings: Sequence[MeasuredFeature], printer: str = "", material: str = "", lot: str = ""
) -> Calibration:
    """Lines of every kind with at least three readings; the others are refused by name.

    Lengths have a line of their own: what the bed takes off, and shrinkage along the part; the
    crowns' line is read against it. Raises PrintingError where no kind has three readings.
    """
    kinds: list[KindCalibration] = []
    refused: dict[FeatureKind, Said] = {}
    along: KindCalibration | None = None
    for kind in FeatureKind:
        own = [one for one in readings if one.feature.kind is kind]
        if len(own) < FEWEST:
            refused[kind] = _TOO_FEW[len(own)]
        elif kind is FeatureKind.LENGTH:
            along = length_line(own)
            kinds.append(along)
        elif kind is not FeatureKind.CROWN:
            sizes = [one.feature.nominal_mm for one in own]
            kinds.append(fitted_line(kind, sizes, [one.error_mm for one in own]))
        elif along is None:
            refused[kind] = _NO_LENGTHS
        else:
            kinds.append(fitted_line(kind, *crown_readings(own, along)))
    if not kinds:
        raise PrintingError(
            say("no kind of feature has three readings"),
            place=say("coupon"),
            remedy=say("Measure at least three features of a kind; more make it surer."),
        )
    return Calibration(
        printer=printer,
        material=material,
        lot=lot,
        kinds=kinds,
        refused=refused,
        ovality=ovality_of(readings),
    )
