"""How far a hole's place, size and rim may go: keywork, process, and its own drawing."""

from __future__ import annotations

from borewright.fit._sides import Side, within
from borewright.model import (
    Cover,
    FitWishes,
    Instrument,
    KeyworkSurvey,
    Part,
    Rest,
    SurveyItem,
    SurveyRow,
    ToneHole,
)
from borewright.words import say

#: A pad lifts a third of its hole's diameter at least (common practice).
_LIFT_TO_DIAMETER = 3.0
#: Between a measured pad's face and its seat (mm), which a feeler would find; and how far a
#: measured ring stands over its rim when it is down. From memory.
_PAD_FLAT_MM, RING_OVER_MM = 0.05, (0.0, 0.3)
#: A side hole stays clearly narrower than the bore (common practice).
HOLE_TO_BORE = 0.9
#: How much wider a hole is at the bore where it is undercut (mm at most; from memory): a finger
#: hole, a pad that stands open, one that stands closed.
_UNDERCUT_MM = {"finger": 2.0, "open": 1.5, "closed": 1.0}


def hole_side_range(
    drawing: Instrument, survey: KeyworkSurvey | None, part: Part, hole: ToneHole, measure: str
) -> tuple[Side, Side]:
    """Lowest and highest value (mm) of one measure of a drawn hole."""
    wishes = drawing.fit
    row = survey.for_hole(hole.name) if survey else None
    measured = row is not None and row.seat_from_axis_mm is not None
    if measure == "station":
        low, high = _station(wishes, survey, hole)
    elif measure == "diameter":
        return _diameter(wishes, survey, part, hole)
    elif measure == "chimney" and row is not None and measured:
        low, high = _measured_chimney(part, hole, row)
    elif measure == "chimney":
        low, high = _chimney(wishes, hole)
    else:
        low, high = _undercut(hole)
    replacing = measure == "undercut" or (measure == "chimney" and not measured)
    return within(wishes.ranges, (measure,), part.name, hole.name, low, high, replacing=replacing)


def _station(wishes: FitWishes, survey: KeyworkSurvey | None, hole: ToneHole) -> tuple[Side, Side]:
    row = survey.for_hole(hole.name) if survey else None
    if row is not None:
        low, high = row.station_mm - row.up_mm, row.station_mm + row.down_mm
        if row.item is SurveyItem.CUP:
            return (
                Side(low, say("cup window {hole} (up)", hole=hole.name)),
                Side(high, say("cup window {hole} (down)", hole=hole.name)),
            )
        return (
            Side(low, say("ring window {hole} (up)", hole=hole.name)),
            Side(high, say("ring window {hole} (down)", hole=hole.name)),
        )
    value = hole.station_mm
    if hole.cover is Cover.PAD:
        window = wishes.unkeyed_pad_window_mm
        return (
            Side(value - window, say("window of a pad without survey (up)")),
            Side(value + window, say("window of a pad without survey (down)")),
        )
    window = wishes.finger_hole_window_mm
    return (
        Side(value - window, say("finger hole window (up)")),
        Side(value + window, say("finger hole window (down)")),
    )


def _chimney(wishes: FitWishes, hole: ToneHole) -> tuple[Side, Side]:
    window = wishes.chimney_window_mm
    low = max(
        Side(hole.chimney_mm - window, say("chimney window")),
        Side(wishes.lowest_chimney_mm, say("lowest chimney")),
        key=lambda side: side.value,
    )
    high = min(
        Side(hole.chimney_mm + window, say("chimney window")),
        Side(wishes.highest_chimney_mm, say("highest chimney")),
        key=lambda side: side.value,
    )
    return low, high


def _undercut(hole: ToneHole) -> tuple[Side, Side]:
    """How much wider than itself a hole may be at the bore, by its job, or as drawn."""
    if hole.pad is None:
        most, words = _UNDERCUT_MM["finger"], say("usual undercut of a finger hole")
    elif hole.pad.rest is Rest.OPEN:
        most, words = _UNDERCUT_MM["open"], say("usual undercut under an open pad")
    else:
        most, words = _UNDERCUT_MM["closed"], say("usual undercut under a closed pad")
    own = hole.mouth_diameter_mm - hole.diameter_mm
    high = Side(most, words) if most >= own else Side(own, say("its drawn undercut"))
    return Side(0.0, say("no undercut")), high


def _measured_chimney(part: Part, hole: ToneHole, row: SurveyRow) -> tuple[Side, Side]:
    """A stiff key, once its posts stand, says where a pad's seat is, and a ring's rim."""
    seat = (row.seat_from_axis_mm or 0.0) - part.outside_diameter_at(hole.station_mm) / 2
    if row.item is SurveyItem.CUP:
        stays = abs(seat - hole.chimney_mm) <= _PAD_FLAT_MM
        side = Side(hole.chimney_mm if stays else seat, say("the pad of '{key}'", key=row.name))
        return side, side
    least, most = RING_OVER_MM
    words = say("ring '{key}' flush to {most_mm:g} mm above its rim", key=row.name, most_mm=most)
    return Side(seat - most, words), Side(seat - least, words)


def _diameter(
    wishes: FitWishes, survey: KeyworkSurvey | None, part: Part, hole: ToneHole
) -> tuple[Side, Side]:
    """The drawn size and its window, inside what finger, pad, ring and process allow."""
    drawn_mm, share = hole.diameter_mm, wishes.hole_size_window
    near = say("{share:.0%} of the drawn {drawn_mm:g} mm", share=share, drawn_mm=drawn_mm)
    low = Side(drawn_mm * (1 - share), near)
    high = Side(drawn_mm * (1 + share), near)
    low, high = within(
        wishes.ranges, ("diameter",), part.name, hole.name, low, high, replacing=True
    )
    least = Side(wishes.smallest_hole_mm, say("smallest hole"))
    highest = largest_side(wishes, survey, part, hole)
    # A drawn hole that its cover does not allow is made to fit: the cover goes before the window.
    if highest.value < low.value:
        low = least
    return (
        max(low, least, key=lambda side: side.value),
        min(high, highest, key=lambda side: side.value),
    )


def largest_side(
    wishes: FitWishes, survey: KeyworkSurvey | None, part: Part, hole: ToneHole
) -> Side:
    """The largest diameter (mm) that cover, pad, ring and process allow a hole."""
    bore = part.bore_diameter_at(hole.station_mm)
    sides = [Side(HOLE_TO_BORE * bore, say("{share:.0%} of the bore", share=HOLE_TO_BORE))]
    row = survey.for_hole(hole.name) if survey else None
    if hole.into_bore_mm:
        sides.append(Side(wishes.largest_vent_mm, say("largest vent")))
    if hole.pad:
        pad = row.pad_diameter_mm if row and row.pad_diameter_mm else hole.pad.diameter_mm
        lift = row.lift_mm if row and row.lift_mm else hole.pad.lift_mm
        overlap = wishes.pad_overlap_mm
        sides.append(
            Side(
                pad - 2 * overlap,
                say(
                    "pad {pad_mm:g} mm less {overlap_mm:g} mm of seat all round",
                    pad_mm=pad,
                    overlap_mm=overlap,
                ),
            )
        )
        sides.append(
            Side(
                _LIFT_TO_DIAMETER * lift,
                say("three times the lift of {lift_mm:g} mm", lift_mm=lift),
            )
        )
    else:
        sides.append(Side(wishes.largest_finger_hole_mm, say("largest finger hole")))
    if row and row.ring_inside_mm:
        sides.append(
            Side(
                row.ring_inside_mm - 2 * wishes.chimney_wall_mm,
                say(
                    "ring {ring_mm:g} mm inside less the chimney's wall",
                    ring_mm=row.ring_inside_mm,
                ),
            )
        )
    return min(sides, key=lambda side: side.value)
