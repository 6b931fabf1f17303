"""How sizes scatter as they come off a printer: from a measured coupon, else by rule of thumb.

The rule: scatters go with the nozzle across the body and with the layer along it, from the
scatters of a 0.4 mm nozzle in 0.12 mm layers that ``Doubts`` holds (from memory). A coupon
measured on the same printer, material and lot replaces it kind by kind.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from borewright.model import Doubts, Spread
from borewright.printing.calibration import Calibration
from borewright.printing.coupon_features import FeatureKind
from borewright.printing.lines import KindCalibration, student
from borewright.printing.profiles import PrinterProfile
from borewright.words import Message, say

#: What the rule's scatters belong to (mm).
RULE_NOZZLE_MM, RULE_LAYER_MM = 0.4, 0.12
#: Across the body, drawn by the nozzle; along it, stacked in layers. Pads' lifts and tubes that
#: are set into the bore are the bench's own.
_BY_NOZZLE = ("diameter", "bore_diameter", "chimney", "undercut_diameter", "undercut_depth")
_BY_LAYER = ("length", "station", "bore_station")
#: The bore and the hole (mm) that a coupon's line is read at for what is common to all.
_TYPICAL_MM = {"bore_diameter": 14.8, "diameter": 8.0}


class Making(NamedTuple):
    """Standard deviations (mm) of made sizes, and where each comes from."""

    scatter: Doubts
    notes: list[Message]


def making_of(printer: PrinterProfile, calibration: Calibration | None = None) -> Making:
    """How sizes scatter from a printer; a calibration goes before the rule of thumb.

    What is common to all of a kind is, once sizes are compensated by the coupon, how well the
    coupon knows the mean: the standard error of its line.
    """
    across, along = printer.nozzle_mm / RULE_NOZZLE_MM, printer.layer_mm / RULE_LAYER_MM
    rule = Doubts(parameters={})
    found = {kind: _times(rule.of(kind), across) for kind in _BY_NOZZLE}
    found |= {kind: _times(rule.of(kind), along) for kind in _BY_LAYER}
    measured: set[str] = set()
    if calibration is not None:
        own = _measured(calibration)
        found |= own
        measured = set(own)
    notes = _notes(printer, calibration, measured)
    return Making(rule.model_copy(update=found), notes)


def reamed(making: Making, measure: str, scatter_mm: float, what: Message) -> Making:
    """The same, one kind finished by a tool that is alike on all and scatters by so much (mm)."""
    changed = making.scatter.model_copy(update={measure: Spread(each=scatter_mm)})
    note = say("{what}: {scatter_mm:g} mm each for itself, as stated", what=what,
               scatter_mm=scatter_mm)  # fmt: skip
    return Making(changed, [*making.notes, note])


def _times(spread: Spread, factor: float) -> Spread:
    return Spread(common=spread.common * factor, each=spread.each * factor)


def _measured(calibration: Calibration) -> dict[str, Spread]:
    found: dict[str, Spread] = {}
    bore = calibration.of(FeatureKind.BORE)
    across, upright = (
        calibration.of(kind) for kind in (FeatureKind.HOLE_ACROSS, FeatureKind.HOLE_UPRIGHT)
    )
    length, outside = calibration.of(FeatureKind.LENGTH), calibration.of(FeatureKind.OUTSIDE)
    if bore is not None:
        size = _TYPICAL_MM["bore_diameter"]
        found["bore_diameter"] = Spread(each=bore.scatter_mm, common=_error(bore, size))
    if across is not None and upright is not None:
        # A hole's size is the mean of its two diameters.
        size = _TYPICAL_MM["diameter"]
        found["diameter"] = Spread(
            each=math.hypot(across.scatter_mm, upright.scatter_mm) / 2,
            common=math.hypot(_error(across, size), _error(upright, size)) / 2,
        )
    if outside is not None and bore is not None:
        # A chimney stands from the bore's wall to the outside: half of each diameter.
        found["chimney"] = Spread(
            each=math.hypot(outside.scatter_mm, bore.scatter_mm) / 2,
            common=math.hypot(_error(outside, 30.0), _error(bore, 14.8)) / 2,
        )
    if length is not None:
        for kind in ("length", "station", "bore_station"):
            found[kind] = Spread(each=length.scatter_mm)
    return found


def _error(line: KindCalibration, size_mm: float) -> float:
    """Standard error (mm) of a line's expected error at a size."""
    sloped = line.slope_high is not None
    return line.sure_mm(size_mm) / student(line.readings - (2 if sloped else 1))


def _notes(
    printer: PrinterProfile, calibration: Calibration | None, measured: set[str]
) -> list[Message]:
    rule = say(
        "scatters by rule of thumb for a {nozzle_mm:g} mm nozzle in {layer_mm:g} mm layers "
        "(from memory): print and measure a coupon to know your own",
        nozzle_mm=printer.nozzle_mm,
        layer_mm=printer.layer_mm,
    )
    if calibration is None:
        return [rule]
    lot = calibration.lot or say("not named")
    told = [say("scatters from the measured coupon, lot {lot}", lot=lot)]
    missing = [kind for kind in (*_BY_NOZZLE, *_BY_LAYER) if kind not in measured]
    if {"bore_diameter", "diameter"} & set(missing):
        told.append(say("what the coupon does not tell: {rule}", rule=rule))
    return told
