"""Whether a part could be a body: profiles, walls, ends, and holes that keep apart.

Each check raises RefusedValue with cause and remedy; :class:`~borewright.model.part.Part`
calls them when it is made.
"""

from __future__ import annotations

import itertools
import math

from borewright.errors import RefusedValue
from borewright.model import plausible
from borewright.model.bounds import within
from borewright.model.hole import ToneHole
from borewright.model.mouths import gap_mm
from borewright.model.part_shape import PartShape
from borewright.model.profile import diameter_at
from borewright.words import say


def check_units(part: PartShape) -> None:
    """Lengths, bores and holes that cannot be millimetres."""
    plausible.check_length(
        "length_mm", part.length_mm, plausible.SHORTEST_PART_MM, plausible.LONGEST_PART_MM
    )
    for _, diameter in part.bore:
        plausible.check_length(
            say("a bore diameter"), diameter, plausible.NARROWEST_BORE_MM, plausible.WIDEST_BORE_MM
        )
    for _, diameter in part.outside:
        within("outside_mm")(diameter)
    for hole in part.holes:
        if hole.diameter_mm < plausible.SMALLEST_HOLE_MM:
            raise plausible.too_small(
                say("the diameter of hole '{hole}'", hole=hole.name), hole.diameter_mm
            )


def check_profile(label: str, profile: list[tuple[float, float]], length_mm: float) -> None:
    """Stations run downwards, at most two to a step, and cover the body."""
    stations = [station for station, _ in profile]
    for first, second in itertools.pairwise(stations):
        if second < first:
            raise RefusedValue(
                say(
                    "{label} stations run backwards at {second:g} after {first:g}",
                    label=label,
                    second=second,
                    first=first,
                ),
                say("List them from the top downwards."),
            )
    for first, third in zip(stations, stations[2:], strict=False):
        if first == third:
            raise RefusedValue(
                say("{label} station {first:g} appears more than twice", label=label, first=first),
                say("Twice makes a step."),
            )
    if stations[0] > 1e-9 or stations[-1] < length_mm - 1e-9:
        raise RefusedValue(
            say(
                "the {label} is given from {top_mm:g} to {bottom_mm:g} mm, but the part "
                "runs from 0 to {length_mm:g}",
                label=label,
                top_mm=stations[0],
                bottom_mm=stations[-1],
                length_mm=length_mm,
            ),
            say("Add stations so that it covers the whole length."),
        )


def check_walls(part: PartShape) -> None:
    """The bore stays inside the outside, between the shoulders."""
    stations = {s for s, _ in part.bore} | {s for s, _ in part.outside}
    stations |= {0.0, part.length_mm}
    for station in sorted(s for s in stations if 0 <= s <= part.length_mm):
        # Beyond a shoulder the tenon decides, so a step there counts on the body's side only.
        sides = (1,) if station == 0 else (-1,) if station == part.length_mm else (-1, 1)
        for side in sides:
            inner = diameter_at(part.bore, station, side)
            outer = diameter_at(part.outside, station, side)
            if inner >= outer:
                raise RefusedValue(
                    say(
                        "the bore ({inner:g} mm) reaches the outside ({outer:g} mm) at station "
                        "{station:g}",
                        inner=inner,
                        outer=outer,
                        station=station,
                    ),
                    say("Make the bore narrower or the body thicker."),
                )


def check_ends(part: PartShape) -> None:
    """One joint at each end, and a bore that stays inside its tenon.

    Whether grooves, sockets and shoulders leave enough to make is the solids' affair.
    """
    for end, tenon, socket in (
        (say("top"), part.tenon_top, part.socket_top),
        (say("bottom"), part.tenon_bottom, part.socket_bottom),
    ):
        if tenon and socket:
            raise RefusedValue(
                say("the {end} has both a tenon and a socket", end=end), say("Keep one of them.")
            )
        if tenon:
            reach = (-tenon.length_mm, 0.0)
            if tenon is part.tenon_bottom:
                reach = (part.length_mm, part.length_mm + tenon.length_mm)
            inner = max(_diameters(part.bore, *reach))
            if inner >= tenon.diameter_mm:
                raise RefusedValue(
                    say(
                        "the bore ({inner:g} mm) reaches the outside of the {end} tenon "
                        "({diameter_mm:g} mm)",
                        inner=inner,
                        end=end,
                        diameter_mm=tenon.diameter_mm,
                    ),
                    say("Make the bore narrower or the tenon thicker."),
                )


def _diameters(profile: list[tuple[float, float]], top: float, bottom: float) -> list[float]:
    inside = [diameter for station, diameter in profile if top < station < bottom]
    return [diameter_at(profile, top, 1), *inside, diameter_at(profile, bottom, -1)]


def check_hole(part: PartShape, hole: ToneHole) -> None:
    """A hole lies inside its part, is narrower than the bore and has a tube."""
    half = hole.diameter_mm / 2
    if not half <= hole.station_mm <= part.length_mm - half:
        raise RefusedValue(
            say(
                "hole '{hole}' at station {station_mm:g} is outside its part, which is "
                "{length_mm:g} mm long",
                hole=hole.name,
                station_mm=hole.station_mm,
                length_mm=part.length_mm,
            ),
            say("Stations run from the part's own top shoulder."),
        )
    bore = part.bore_diameter_at(hole.station_mm)
    if hole.diameter_mm >= bore:
        raise RefusedValue(
            say(
                "hole '{hole}' ({diameter_mm:g} mm) is as wide as the bore there ({bore:.2f} mm)",
                hole=hole.name,
                diameter_mm=hole.diameter_mm,
                bore=bore,
            ),
            say("A side hole must be narrower than the bore."),
        )
    if hole.undercut and hole.undercut.diameter_mm >= bore:
        raise RefusedValue(
            say(
                "hole '{hole}': its undercut ({diameter_mm:g} mm) is as wide as the bore "
                "there ({bore:.2f} mm)",
                hole=hole.name,
                diameter_mm=hole.undercut.diameter_mm,
                bore=bore,
            ),
            say("Make the undercut narrower."),
        )
    if hole.into_bore_mm >= bore / 2:
        raise RefusedValue(
            say(
                "hole '{hole}': the lining stands {into_bore_mm:g} mm into a bore of {bore:.2f} mm",
                hole=hole.name,
                into_bore_mm=hole.into_bore_mm,
                bore=bore,
            ),
            say("Keep it short of the axis, usually 2 to 4 mm."),
        )
    height = part.tube_height_mm(hole)
    if height <= 0.5:
        raise RefusedValue(
            say(
                "hole '{hole}': wall and chimney leave a tube of {height:.2f} mm",
                hole=hole.name,
                height=height,
            ),
            say("Raise the chimney or thicken the body; at least 0.5 mm is needed."),
        )
    if hole.undercut and hole.undercut.depth_mm >= height:
        raise RefusedValue(
            say(
                "hole '{hole}': the undercut is {depth_mm:g} mm deep but the tube is only "
                "{height:.2f} mm high",
                hole=hole.name,
                depth_mm=hole.undercut.depth_mm,
                height=height,
            ),
            say("Make the undercut shallower."),
        )


def check_overlaps(part: PartShape) -> None:
    """No two holes run into each other; how thick the wall between them is, a fit decides."""
    for first, second in itertools.combinations(part.holes, 2):
        if (
            abs(first.station_mm - second.station_mm)
            >= (first.mouth_diameter_mm + second.mouth_diameter_mm) / 2
        ):
            continue  # clear along the bore, whatever their bearings
        wall = wall_between_mm(part, first, second)
        if wall < 0:
            raise RefusedValue(
                say(
                    "holes '{first}' and '{second}' overlap by {wall:.2f} mm in the bore",
                    first=first.name,
                    second=second.name,
                    wall=-wall,
                ),
                say("Move them apart, along the body or round it, or make them smaller."),
            )


def wall_between_mm(part: PartShape, first: ToneHole, second: ToneHole) -> float:
    """Wall (mm) left between two holes on the bore's surface rolled out flat; negative: none.

    Holes run radially, so they are closest at the bore; an undercut counts with its mouth.
    """
    bore = part.bore_diameter_at((first.station_mm + second.station_mm) / 2) / 2
    turn = math.radians(abs(first.bearing_deg - second.bearing_deg) % 360)
    return gap_mm(
        first.station_mm - second.station_mm,
        min(turn, 2 * math.pi - turn),
        bore,
        first.mouth_diameter_mm / 2,
        second.mouth_diameter_mm / 2,
    )
