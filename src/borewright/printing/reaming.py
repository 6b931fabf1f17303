"""Printing under size on purpose, so that reamers have something to take away."""

from __future__ import annotations

import math
from typing import Annotated

from borewright.errors import PrintingError
from borewright.model import Instrument, Part
from borewright.model.base import Entity, NotNegative
from borewright.model.bounds import Bounded
from borewright.words import Message, joined, say, say_many

#: Reamers wander and heat the wall when they take more than this at once (mm on diameter;
#: from memory).
PASS_MM = 0.15


class ReamingAllowance(Entity):
    """How much under size bores and side holes are printed (mm on the diameter).

    Common practice is 0.2 to 0.3 for bores. Register tubes' linings are left as they are.
    """

    bore_mm: Annotated[NotNegative, Bounded("under_size_mm")] = 0.25
    hole_mm: Annotated[NotNegative, Bounded("under_size_mm")] = 0.2


def undersized(instrument: Instrument, allowance: ReamingAllowance) -> Instrument:
    """The instrument as printed before reaming: rims and outsides stay, hollows shrink.

    A hole's rim keeps its place: its chimney stands on the outside, which does not change.
    Sockets and tenons are left alone; their fit is turned or corked.

    Raises PrintingError where a hole or bore would vanish.
    """
    parts = [_part(part, allowance) for part in instrument.parts]
    return instrument.model_copy(update={"parts": parts})


def _part(part: Part, allowance: ReamingAllowance) -> Part:
    holes = []
    for hole in part.holes:
        diameter = hole.diameter_mm - (0.0 if hole.into_bore_mm else allowance.hole_mm)
        if diameter < 1.0:
            raise PrintingError(
                say(
                    "less {allowance_mm:g} mm for reaming, {left_mm:.2f} mm is left of it",
                    allowance_mm=allowance.hole_mm,
                    left_mm=diameter,
                ),
                place=(say("part '{part}'", part=part.name), say("hole '{hole}'", hole=hole.name)),
                remedy=say("Use a smaller allowance."),
            )
        holes.append(hole.model_copy(update={"diameter_mm": round(diameter, 4)}))
    bore = [(s, round(d - allowance.bore_mm, 4)) for s, d in part.bore]
    if min(d for _, d in bore) < 3.0:
        raise PrintingError(
            say(
                "less {allowance_mm:g} mm for reaming, {left_mm:.2f} mm is left of the bore",
                allowance_mm=allowance.bore_mm,
                left_mm=min(d for _, d in bore),
            ),
            place=say("part '{part}'", part=part.name),
            remedy=say("Use a smaller allowance."),
        )
    return part.model_copy(update={"bore": bore, "holes": holes})


def reaming_sequence(instrument: Instrument, allowance: ReamingAllowance) -> list[Message]:
    """What to do after printing, in order, with sizes: bores, holes, seats, sealing, checking."""
    steps = [
        say("Let every part cool and stand a day: plastics creep for hours after printing."),
        say("Brush out strings and loose ends; look through the bore against a light."),
    ]
    for part in instrument.parts:
        diameters = [diameter for _, diameter in part.bore]
        low, high = min(diameters), max(diameters)
        passes = max(1, math.ceil(allowance.bore_mm / PASS_MM - 1e-9))
        size = (
            say("{low_mm:.2f} mm", low_mm=low)
            if high - low < 0.005
            else say("{low_mm:.2f} to {high_mm:.2f} mm", low_mm=low, high_mm=high)
        )
        steps.append(
            say_many(
                "Bore of {part}: ream from {under_mm:g} mm under size to {size} in {count} pass, "
                "from the wide end, by hand, chips out after every turn; gauge at the stations "
                "of the gauge plan.",
                "Bore of {part}: ream from {under_mm:g} mm under size to {size} in {count} passes, "
                "from the wide end, by hand, chips out after every turn; gauge at the stations "
                "of the gauge plan.",
                passes,
                part=part.name,
                under_mm=allowance.bore_mm,
                size=size,
            )
        )
        holes = [hole for hole in part.holes if not hole.into_bore_mm]
        if holes and allowance.hole_mm:
            sizes = joined(
                (
                    say("{hole} {diameter_mm:.2f}", hole=hole.name, diameter_mm=hole.diameter_mm)
                    for hole in holes
                ),
                "; ",
            )
            steps.append(
                say(
                    "Holes of {part}, after its bore: ream square to the body to (mm) {sizes}.",
                    part=part.name,
                    sizes=sizes,
                )
            )
    steps += [
        say("Undercuts last of the cutting, from inside, a little at a time."),
        say(
            "Seal with a thin coat, let it cure fully; a coat takes 0.05 to 0.1 mm off a diameter, "
            "so ream once more where the gauge plan asks for it."
        ),
        say("Face the pad seats with a hand cutter: a layer seam across a rim is a leak."),
        say("Tap or fit the posts, cork the tenons, and only then mount keys."),
    ]
    return steps
