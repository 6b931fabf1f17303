"""A hole's shape as the model describes it."""

from __future__ import annotations

from borewright.acoustics.solved.shape import HoleCover, HoleShape
from borewright.errors import AcousticsError
from borewright.model import Cover, Instrument, Part, ToneHole
from borewright.words import say


def shape_of(instrument: Instrument, hole_name: str) -> HoleShape:
    """The shape of one hole of an instrument, as its body is made.

    Rims: a finger hole without chimney is drilled straight through; a chimney has the wall
    ``fit.chimney_wall_mm``; a sunk seat has the counterbore of ``ToneHole.seat_radius_mm``
    and under a pad the land and relief of ``body``. Broken edges, bevels and the foot of a
    chimney are left out (they change the outside by a few hundredths of a millimetre), and so
    is a key's ring. The bore's slope is that of the chord over the hole's width.

    Raises
    ------
    AcousticsError
        If there is no such hole.
    """
    for part, hole, _ in instrument.placed_holes():
        if hole.name == hole_name:
            return _shape(instrument, part, hole)
    raise AcousticsError(
        say("there is no hole '{hole}'", hole=hole_name),
        place=say("'{instrument}'", instrument=instrument.name),
        remedy=say(
            "Holes are: {holes}.",
            holes=" ".join(instrument.hole_names()) or say("(none)"),
        ),
    )


def _shape(instrument: Instrument, part: Part, hole: ToneHole) -> HoleShape:
    wall, features = instrument.fit.chimney_wall_mm, instrument.body
    radius = hole.diameter_mm / 2
    bore = part.bore_diameter_at(hole.station_mm) / 2
    body = part.outside_diameter_at(hole.station_mm) / 2
    is_pad = hole.cover is Cover.PAD
    land, relief, counterbore = wall, 0.0, 0.0
    if hole.chimney_mm < 0:
        counterbore = hole.seat_radius_mm(wall)
        if is_pad and features.seat_relief_mm > 0:
            land, relief = min(features.seat_land_mm, wall), features.seat_relief_mm
    elif hole.chimney_mm == 0 and not is_pad:
        land = 0.0
    undercut = hole.undercut if hole.mouth_diameter_mm > hole.diameter_mm else None
    return HoleShape(
        bore_radius_mm=bore,
        radius_mm=radius,
        height_mm=body - bore + hole.chimney_mm,
        bore_slope=_slope(part, hole),
        undercut_radius_mm=undercut.diameter_mm / 2 if undercut else 0.0,
        undercut_depth_mm=undercut.depth_mm if undercut else 0.0,
        body_radius_mm=body,
        chimney_mm=hole.chimney_mm,
        chimney_wall_mm=land,
        counterbore_radius_mm=counterbore,
        seat_relief_mm=relief,
        cover=HoleCover.PAD if is_pad else HoleCover.FINGER,
        pad_radius_mm=hole.pad.diameter_mm / 2 if hole.pad else 0.0,
        lift_mm=hole.pad.lift_mm if hole.pad else 0.0,
        into_bore_mm=hole.into_bore_mm,
        lining_radius_mm=hole.mouth_diameter_mm / 2 + wall if hole.into_bore_mm else 0.0,
    )


def _slope(part: Part, hole: ToneHole) -> float:
    reach = hole.mouth_diameter_mm / 2
    rise = part.bore_diameter_at(hole.station_mm + reach) - part.bore_diameter_at(
        hole.station_mm - reach
    )
    return rise / 2 / (2 * reach)
