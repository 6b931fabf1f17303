"""What may be done to an instrument, in which direction and how far.

On the finished instrument (rework) some things can be undone: a leak sealed, another barrel
tried or this one drawn out, a pad's lift set either way, tape laid into a hole as a trial. Of
the body itself material only comes off: holes are reamed or undercut, rims faced, the barrel
shortened, the bore reamed. Building up with filler is offered only where it is allowed. For the
next print (design change) every dimension may go both ways.
"""

from __future__ import annotations

from dataclasses import dataclass

from borewright.model import Cover, Dimension, Instrument, Part, ToneHole, Undercut, dimensions
from borewright.model.results.advice import Aim, Leak
from borewright.words import Message, say

_REAM_MM, _UNDERCUT_MM, _FACE_MM, _SHORTEN_MM, _BORE_MM = 0.6, 1.2, 0.4, 1.5, 0.15
_BUILD_UP_MM = 0.4
#: How far another barrel may differ, or this one be drawn out; how much tape narrows a hole.
_BARREL_MM, _TAPE_MM = 1.5, 0.3
#: Tape is no thinner than this: a vent that is nearly as narrow as may be is left alone.
_LEAST_TAPE_MM = 0.15
_LIFT_DOWN_MM, _LIFT_UP_MM = 0.6, 0.8
_NEXT_PRINT_MM = {"station": 1.5, "diameter": 0.6, "chimney": 0.5, "length": 2.0, "bore": 0.2}
#: A hole with less room than this is left out where all are reamed alike.
_EVERY_MM = 0.15
#: A pad that lifts less than this share of its hole dulls the note (common practice: 1/3).
_LEAST_LIFT = 0.25
#: Pads keep this much (mm) of seat all round.
_SEAT_MM = 1.0
_HOLE_TO_BORE = 0.9


@dataclass(frozen=True)
class BenchMove:
    """One thing to do: dimensions that change together by one amount (mm), and its limits.

    Sealing a leak has no columns; its amount is 0 or 1.
    """

    kind: str
    part: str
    hole: str
    columns: tuple[int, ...]
    low: float
    high: float
    up: Message  # what to do for a positive amount
    down: Message | None = None
    reversible: bool = False  # can be undone as if it had never been

    @property
    def lasts(self) -> bool:
        """Whether it can be undone and still stays as it is: tape does not."""
        return self.reversible and self.kind != "tape"

    def task(self, amount: float) -> Message:
        """What to do, such as ``ream L3 by 0.15 mm``."""
        if not self.columns:
            return self.up
        done = self.up if amount > 0 or self.down is None else self.down
        return say("{done} by {amount_mm:.2f} mm", done=done, amount_mm=abs(amount))


def with_neutral_undercuts(instrument: Instrument) -> Instrument:
    """The same instrument with an undercut of no width in every hole that could get one.

    Such an undercut changes no sound, but makes its diameter a dimension with a derivative.
    """
    parts = []
    for part in instrument.parts:
        holes = [
            hole.model_copy(
                update={
                    "undercut": Undercut(
                        diameter_mm=hole.diameter_mm,
                        depth_mm=min(2.0, 0.4 * part.tube_height_mm(hole)),
                    )
                }
            )
            if _may_be_undercut(hole)
            else hole
            for hole in part.holes
        ]
        parts.append(part.model_copy(update={"holes": holes}))
    return instrument.model_copy(update={"parts": parts})


def _may_be_undercut(hole: ToneHole) -> bool:
    return hole.cover is not Cover.PAD and not hole.undercut and hole.diameter_mm > 4.0


def moves(
    instrument: Instrument, leaks: list[Leak], aim: Aim, *, allow_building_up: bool = False
) -> list[BenchMove]:
    """Everything that may be done.

    Parameters
    ----------
    instrument
        As built, with neutral undercuts.
    leaks
        Its leaks, which may be sealed whatever the aim.
    aim
        Rework or next print.
    allow_building_up
        Offer filler and tape on the finished instrument as well.
    """
    index = {(d.part, d.hole, d.measure): i for i, d in enumerate(dimensions(instrument))}
    leaking = {leak.hole for leak in leaks}
    found: list[BenchMove] = []
    for part in instrument.parts:
        found += _part_moves(part, instrument.parts, dimensions(instrument), aim)
        for hole in part.holes:
            if hole.name not in leaking:
                found += _hole_moves(part, hole, index, aim, allow_building_up)
    if aim is Aim.REWORK:
        found += _every_hole(found)
    found += [
        BenchMove("seal", leak.part, leak.hole, (), 0.0, 1.0,
             say("seal the leak of the {part} ({place})", part=leak.part, place=leak.place),
             reversible=True)
        for leak in leaks
    ]  # fmt: skip
    return [move for move in found if move.high - move.low > 0.02]


def _part_moves(
    part: Part, parts: list[Part], all_dimensions: list[Dimension], aim: Aim
) -> list[BenchMove]:
    own = [(i, d) for i, d in enumerate(all_dimensions) if d.part == part.name and not d.hole]
    bore = tuple(i for i, d in own if d.measure == "bore_diameter")
    length = tuple(i for i, d in own if d.measure == "length")
    rework = aim is Aim.REWORK
    wide = _BORE_MM if rework else _NEXT_PRINT_MM["bore"]
    found = [
        BenchMove("bore", part.name, "", bore, 0.0 if rework else -wide, wide,
             say("ream the bore of the {part}", part=part.name) if rework
             else say("widen the bore of the {part}", part=part.name),
             say("narrow the bore of the {part}", part=part.name))
    ]  # fmt: skip
    if rework and not part.holes and part is parts[0]:
        found.append(
            BenchMove("barrel", part.name, "", length, -_BARREL_MM, _BARREL_MM,
                 say("draw the {part} out, or try a longer one,", part=part.name),
                 say("try a shorter {part},", part=part.name), reversible=True)
        )  # fmt: skip
    if not part.holes:
        # A barrel or bell; a joint with holes is not shortened.
        far = _NEXT_PRINT_MM["length"]
        low, high = (-_SHORTEN_MM, 0.0) if rework else (-far, far)
        found.append(
            BenchMove("length", part.name, "", length, low, high,
                 say("lengthen the {part}", part=part.name),
                 say("shorten the {part}", part=part.name))
        )  # fmt: skip
    return found


def _every_hole(found: list[BenchMove]) -> list[BenchMove]:
    """Reaming all holes that have room for it by one and the same amount."""
    own = [move for move in found if move.kind == "diameter" and move.high >= _EVERY_MM]
    if len(own) < 2:
        return []
    columns = tuple(column for move in own for column in move.columns)
    ream = say("ream every hole that has room for it")
    return [BenchMove("every hole", "", "", columns, 0.0, min(move.high for move in own), ream)]


def _hole_moves(
    part: Part,
    hole: ToneHole,
    index: dict[tuple[str, str, str], int],
    aim: Aim,
    building_up: bool,
) -> list[BenchMove]:
    def column(measure: str) -> tuple[int, ...]:
        at = index.get((part.name, hole.name, measure))
        return () if at is None else (at,)

    rework = aim is Aim.REWORK
    name = hole.name
    mouth = _HOLE_TO_BORE * part.bore_diameter_at(hole.station_mm)
    widest = min(mouth, hole.pad.diameter_mm - 2 * _SEAT_MM if hole.pad else mouth)
    ream = _REAM_MM if rework else _NEXT_PRINT_MM["diameter"]
    lower = (-_BUILD_UP_MM if building_up else 0.0) if rework else -_NEXT_PRINT_MM["diameter"]
    height = part.tube_height_mm(hole)
    face = _FACE_MM if rework else _NEXT_PRINT_MM["chimney"]
    raised = (_BUILD_UP_MM if building_up else 0.0) if rework else _NEXT_PRINT_MM["chimney"]
    # Whatever widens a hole widens its undercut too, so that the undercut stays as it is.
    found = [
        BenchMove("diameter", part.name, name, column("diameter") + column("undercut_diameter"),
             max(lower, 2.5 - hole.diameter_mm), min(ream, max(widest - hole.diameter_mm, 0.0)),
             say("ream {hole}", hole=name) if rework else say("widen {hole}", hole=name),
             say("build {hole} up", hole=name) if rework else say("narrow {hole}", hole=name)),
        BenchMove("rim", part.name, name, column("chimney"),
             -min(face, max(height - 2.0, 0.0)), raised,
             say("raise the rim of {hole}", hole=name), say("face the rim of {hole}", hole=name)),
    ]  # fmt: skip
    if hole.undercut and hole.cover is not Cover.PAD:
        room = max(mouth - hole.undercut.diameter_mm, 0.0)
        found.append(
            BenchMove("undercut", part.name, name, column("undercut_diameter"), 0.0,
                 min(_UNDERCUT_MM, room), say("undercut {hole}, its mouth wider", hole=name))
        )  # fmt: skip
    if hole.pad:
        least = max(_LEAST_LIFT * hole.diameter_mm, 0.5)
        found.append(
            BenchMove("lift", part.name, name, column("lift"),
                 min(0.0, max(-_LIFT_DOWN_MM, least - hole.pad.lift_mm)), _LIFT_UP_MM,
                 say("raise the pad of {hole}", hole=name),
                 say("lower the pad of {hole}", hole=name), reversible=True)
        )  # fmt: skip
    if rework and hole.diameter_mm >= 2.5 + _LEAST_TAPE_MM:
        found.append(
            BenchMove("tape", part.name, name, column("diameter") + column("undercut_diameter"),
                 max(-_TAPE_MM, 2.5 - hole.diameter_mm), 0.0,
                 say("take tape out of {hole}", hole=name),
                 say("as a trial, lay tape into {hole} so that it is narrower", hole=name),
                 reversible=True)
        )  # fmt: skip
    if not rework:
        far = _NEXT_PRINT_MM["station"]
        if hole.cover is not Cover.FINGER:
            far /= 3  # the key reaches a little either way only
        found.append(
            BenchMove("station", part.name, name, column("station"), -far, far,
                 say("move {hole} down", hole=name), say("move {hole} up", hole=name))
        )  # fmt: skip
    return found
