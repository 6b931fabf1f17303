"""What shrinkage along the part would do to holes, where it is not known well enough."""

from __future__ import annotations

from borewright.model import Finding, Instrument, KeyworkSurvey, Part, Severity, ToneHole
from borewright.printing.calibration import Calibration
from borewright.printing.coupon_features import FeatureKind
from borewright.words import Message, Said, joined, say

#: Common shrinkage of printed PLA along the part (from memory).
COMMON_SHARE = 0.003
#: A hole's place and a girth's roundness to which nothing is said (mm).
_STATION_MM, _OVAL_MM = 0.1, 0.05


def length_findings(
    instrument: Instrument,
    survey: KeyworkSurvey | None,
    calibration: Calibration | None,
    lot: str = "",
) -> list[Finding]:
    """Holes that shrinkage would move too far, or may, outsides that come out oval, another lot.

    ``lot`` is the material's that is printed now, where it is told.
    """
    along = calibration.of(FeatureKind.LENGTH) if calibration else None
    share = along.slope_sure if along else COMMON_SHARE
    worst = _worst(instrument, survey, share)
    found = []
    if worst:
        part, hole, window = worst
        off = share * hole.station_mm
        remedy: Said = say("Give the measured sheet of a coupon printed with this lot.")
        what: Said = say(
            "lengths are not compensated: at {percent:g} % of shrinkage along the part, common for "
            "PLA (from memory), it comes {off_mm:.2f} mm too high",
            percent=100 * share,
            off_mm=off,
        )
        if along:
            what = say(
                "its place is known to ±{off_mm:.2f} mm only: shrinkage along the part is "
                "{percent:.2f} %, give or take {sure:.2f} %",
                off_mm=off,
                percent=-100 * along.slope,
                sure=100 * share,
            )
            remedy = say(
                "Measure the first body, write its sizes into inspection.csv and give that "
                "beside the coupon's sheet."
            )
        if window is not None and off > window:
            beyond = say("; its cup allows {window_mm:g} mm", window_mm=window)
            what = joined([what, beyond], "")
        found.append(_notice(part, say("hole '{hole}'", hole=hole.name), what, remedy))
    if calibration and calibration.ovality:
        found += _oval(instrument, calibration)
    if calibration and lot and calibration.lot and lot != calibration.lot:
        what = say(
            "lot '{lot}' is printed by what was measured of lot '{other}'",
            lot=lot,
            other=calibration.lot,
        )
        remedy = say("Print and measure a coupon of this lot: each shrinks in its own way.")
        found.append(Finding(severity=Severity.NOTICE, place=(say("coupon"),), what=what,
                             remedy=remedy))  # fmt: skip
    return found


def _worst(
    instrument: Instrument, survey: KeyworkSurvey | None, share: float
) -> tuple[Part, ToneHole, float | None] | None:
    """The hole that would move furthest, and what its cup allows, where it has one."""
    rows = survey.rows if survey else []
    windows = {row.hole: row.up_mm for row in rows if row.hole}
    found = [
        (share * hole.station_mm, part, hole)
        for part in instrument.parts
        for hole in part.holes
        if share * hole.station_mm > _STATION_MM
    ]
    if not found:
        return None
    _, part, hole = max(found, key=lambda each: each[0])
    return part, hole, windows.get(hole.name)


def _oval(instrument: Instrument, calibration: Calibration) -> list[Finding]:
    oval = calibration.ovality
    assert oval is not None
    tenons = [
        (part, tenon.diameter_mm)
        for part in instrument.parts
        for tenon in (part.tenon_top, part.tenon_bottom)
        if tenon
    ]
    if not tenons or oval.share < oval.sure:
        return []
    part, widest = max(tenons, key=lambda each: each[1])
    if oval.mm(widest) <= _OVAL_MM:
        return []
    what = say(
        "its tenon comes out oval by {off_mm:.2f} mm, give or take {sure_mm:.2f}, widest at "
        "{turn_deg:.0f}°: that is not compensated",
        off_mm=oval.mm(widest),
        sure_mm=oval.sure * widest,
        turn_deg=oval.widest_deg,
    )
    remedy = say(
        "Near 0° or 90° the printer's axes differ in scale, near 45° or 135° they are out of "
        "square: tighten belts, set its steps, and print the coupon again."
    )
    return [_notice(part, say("tenon"), what, remedy)]


def _notice(part: Part, where: Message, what: Said, remedy: Said) -> Finding:
    return Finding(
        severity=Severity.NOTICE,
        place=(say("part '{part}'", part=part.name), where),
        what=what,
        remedy=remedy,
    )
