"""What springs and stops of keys ask to be drilled, for the list of what to try."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from borewright.model.keys import Spring, SpringShape
from borewright.words import Reader, Text, say

if TYPE_CHECKING:
    from borewright.documents import PlanSection, PlanTable
    from borewright.keywork import Mechanism
    from borewright.model import Instrument
    from borewright.model.results.key_figures import KeyFigures

#: A needle's hole is wider than the needle by this (mm; from memory).
NEEDLE_OVER_MM = 0.05


def spring_holes(
    mechanism: Mechanism, instrument: Instrument, figures: Sequence[KeyFigures], words: Reader
) -> PlanSection:
    """What springs and stops ask to be drilled: in the posts' heads, in the body, or nothing."""
    from borewright.documents import PlanSection, PlanTable
    from borewright.keywork import Body, screw_places

    keys = {one.key for one in figures}
    hinges = {one.hinge for one in figures}
    screws = [one for one in screw_places(mechanism, Body(instrument)) if one.hinge in hinges]
    screwed = {one.post for one in screws}
    riding = [
        spring.key
        for spring in mechanism.keys.of(Spring)
        if spring.key in keys and spring.shape is SpringShape.FLAT and spring.name not in screwed
    ]
    needles = _needles(mechanism, keys, words)
    tables, points = [], []
    if needles is not None:
        tables.append(needles)
        points.append(
            say(
                "Needles sit in holes through their posts' own heads, which bought posts mostly "
                "have: for them nothing is drilled into the body, and no jig guides it. Turn the "
                "post until its hole points as the table says; where it has none, drill it in a "
                "vice before the post goes in."
            )
        )
    if screws:
        tables.append(
            PlanTable(
                say("Flat springs screwed to the body: the screw's hole, square to the outside"),
                (say("spring"), say("part"), say("station"), say("bearing °"), say("deepest mm")),
                [
                    [
                        one.post,
                        one.part,
                        words.number(one.station_mm, ".2f"),
                        words.number(one.bearing_deg, ".2f"),
                        words.number(one.depth_mm, ".1f"),
                    ]
                    for one in screws
                ],
                (0, 1),
            )
        )
        points.append(
            say(
                "These screws go into the body: a jig guides their holes like a post's. Take "
                "bushes of the same outside with the bore of your screw's core drill, and set a "
                "stop on the drill."
            )
        )
    if riding:
        points.append(
            say(
                "Flat springs screwed to their keys only press on the body: no hole, but a smooth "
                "hard place where they slide. Keys: {keys}.",
                keys=" ".join(riding),
            )
        )
    points.append(say("Stops are cork or felt, glued on: nothing is drilled for them."))
    return PlanSection(say("Springs and stops: what is drilled"), points=points, tables=tables)


def _needles(mechanism: Mechanism, keys: set[str], words: Reader) -> PlanTable | None:
    import numpy as np

    from borewright.documents import PlanTable

    rows: list[list[Text]] = []
    for spring in mechanism.keys.of(Spring):
        if spring.key not in keys or spring.shape is not SpringShape.NEEDLE:
            continue
        start, end = mechanism.points[spring.name]
        axis = mechanism.turning[spring.key].axis
        way = (end - start) / np.linalg.norm(end - start)
        angle = float(np.degrees(np.arccos(min(abs(float(way @ axis)), 1.0))))
        holder = next((p for p in mechanism.keys.elements if p.name == spring.held_by), None)
        over: Text = "–"
        if holder is not None:
            foot = mechanism.points[holder.name][0]
            up = mechanism.points[holder.name][1] - foot
            over = words.number(float((start - foot) @ up / np.linalg.norm(up)), ".2f")
        rows.append(
            [
                spring.key,
                spring.held_by or "–",
                words.number(spring.thickness_mm + NEEDLE_OVER_MM, ".2f"),
                over,
                words.number(angle, ".1f"),
                words.number(spring.free_length_mm, ".1f"),
            ]
        )
    if not rows:
        return None
    return PlanTable(
        say("Needles: hole in the post's head (mm, degrees to the hinge's line)"),
        (say("key"), say("post"), say("drill"), say("over its foot"), say("angle"), say("free")),
        rows,
        (0, 1),
    )
