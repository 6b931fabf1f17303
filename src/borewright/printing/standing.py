"""How a part stands on the bed: which end down, whether it fits, what hangs over air."""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass

from borewright.model import Finding, Instrument, Part, Severity
from borewright.model.base import Entity
from borewright.printing.profiles import PrinterProfile
from borewright.solids import Outline, outlines
from borewright.words import Choice, Message, Said, joined, say, say_as

#: A part taller than so many times its foot rocks loose without a brim (from memory).
SLENDER = 4.0


class Down(Choice):
    """The end on the bed."""

    TOP = "top", say_as("end", "top")
    BOTTOM = "bottom", say_as("end", "bottom")


class Standing(Entity):
    """One way to print a part upright (mm).

    ``down`` is the end on the bed. ``height_mm`` is how tall, ``across_mm`` how wide it is
    with all that stands on it; ``foot_mm`` is the diameter that meets the bed, and
    ``overhang_mm`` the widest ring that must be printed over air.
    """

    part: str
    down: Down
    height_mm: float
    across_mm: float
    foot_mm: float
    overhang_mm: float
    overhang_at: Said
    fits: bool
    reason: Said


@dataclass(frozen=True)
class Ceiling:
    """A flat ring that must be laid over air, outside or in a hollow (mm above the bed)."""

    words: Message
    outer: bool
    inner_mm: float
    outer_mm: float
    height_mm: float

    @property
    def width_mm(self) -> float:
        """How far it hangs over."""
        return self.outer_mm - self.inner_mm


def standings(instrument: Instrument, part: Part, printer: PrinterProfile) -> list[Standing]:
    """Both upright ways, the better one first: bores are then stacks of circles.

    The better way fits, has the least overhang, then the wider foot (common practice).
    """
    found = [_standing(instrument, part, printer, down) for down in Down]
    return sorted(found, key=lambda one: (not one.fits, round(one.overhang_mm, 2), -one.foot_mm))


def _standing(instrument: Instrument, part: Part, printer: PrinterProfile, down: Down) -> Standing:
    outside, _ = outlines(part)
    stations = [station for _, station in outside]
    height = max(stations) - min(stations)
    reach = max(radius for radius, _ in outside)
    for hole in part.holes:
        rim = part.outside_diameter_at(hole.station_mm) / 2 + hole.chimney_mm
        reach = max(reach, rim)
    foot = 2 * (outside[0] if down is Down.TOP else outside[-1])[0]
    found = ceilings(part, down)
    nothing = Ceiling(say("nothing"), True, 0.0, 0.0, 0.0)
    worst = max(found, key=lambda one: one.width_mm, default=nothing)
    room = [side - 2 * printer.margin_mm for side in printer.build_mm]
    fits = height <= room[2] and 2 * reach <= min(room[:2])
    reasons = [
        say("stands on its top, {foot_mm:.1f} mm wide", foot_mm=foot)
        if down is Down.TOP
        else say("stands on its bottom, {foot_mm:.1f} mm wide", foot_mm=foot)
    ]
    if worst.width_mm > printer.widest_overhang_mm:
        reasons.append(
            say(
                "{ceiling} hangs over air by {width_mm:.1f} mm",
                ceiling=worst.words,
                width_mm=worst.width_mm,
            )
        )
    else:
        reasons.append(say("no ring hangs over air by more than the printer bears"))
    if not fits:
        reasons.append(
            say(
                "it is {height_mm:.0f} mm tall and {across_mm:.0f} mm wide, the room is "
                "{room_high_mm:.0f} by {room_wide_mm:.0f} mm",
                height_mm=height,
                across_mm=2 * reach,
                room_high_mm=room[2],
                room_wide_mm=min(room[:2]),
            )
        )
    return Standing(
        part=part.name,
        down=down,
        height_mm=height,
        across_mm=2 * reach,
        foot_mm=foot,
        overhang_mm=worst.width_mm,
        overhang_at=worst.words,
        fits=fits,
        reason=joined(reasons, "; "),
    )


def ceilings(part: Part, down: Down) -> list[Ceiling]:
    """Flat rings that look down: steps outwards going up outside, inwards going up inside."""
    outside, inside = outlines(part)
    found = []
    for words, outline, outer in (
        (say("a shoulder"), outside, True),
        (say("a socket's floor"), inside, False),
    ):
        going_up = above_bed(outline, outside, down)
        for (r0, z0), (r1, z1) in itertools.pairwise(going_up):
            grows = r1 - r0 if outer else r0 - r1
            if grows > 0 and z1 - z0 < grows * math.tan(math.radians(30)):
                found.append(Ceiling(words, outer, min(r0, r1), max(r0, r1), z0))
    return found


def above_bed(outline: Outline, outside: Outline, down: Down) -> Outline:
    """An outline of the part as (radius, height above the bed) in mm, from the bed upwards."""
    if down is Down.TOP:
        return [(radius, station - outside[0][1]) for radius, station in outline]
    return [(radius, outside[-1][1] - station) for radius, station in reversed(outline)]


def hole_overhangs(
    part: Part, printer: PrinterProfile, crowned_to_mm: float = 0.0
) -> list[Finding]:
    """Side holes whose crown, printed over air, is wider than the printer bridges.

    On an upright part a side hole lies on its side. Of a round crown, the stretch flatter
    than 45° is 1/√2 of the diameter wide: it prints as a bridge that sags. Up to a diameter of
    ``crowned_to_mm`` that was measured, and is taken off by how the hole is drawn.
    """
    found = []
    for hole in part.holes:
        span = hole.diameter_mm * math.sqrt(0.5)
        if span > printer.widest_bridge_mm and hole.diameter_mm > crowned_to_mm + 0.5:
            found.append(
                Finding(
                    severity=Severity.NOTICE,
                    place=(
                        say("part '{part}'", part=part.name),
                        say("hole '{hole}'", hole=hole.name),
                    ),
                    what=say(
                        "its crown bridges {span_mm:.2f} mm of air; '{printer}' bridges "
                        "{widest_mm:g} mm cleanly, so the hole will sag there",
                        span_mm=span,
                        printer=printer.name,
                        widest_mm=printer.widest_bridge_mm,
                    ),
                    remedy=say(
                        "Print it under size and ream it, or give a measured coupon: its crown is "
                        "then drawn so much higher."
                    ),
                )
            )
    return found


def seam_advice(part: Part) -> list[Message]:
    """Where the seam goes, in words for the person at the printer."""
    if not part.holes:
        return []
    return [
        say(
            "Put the seam between the tone holes, away from seats and chimneys; "
            "four or more perimeters, near-solid."
        )
    ]
