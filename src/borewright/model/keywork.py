"""The keywork survey: cups, rings and posts that the body must respect."""

from __future__ import annotations

from statistics import median
from typing import Annotated

from pydantic import Field, model_validator

from borewright.errors import ModelError, RefusedValue
from borewright.model import plausible
from borewright.model.base import Entity, Finite, Name
from borewright.model.bounds import (
    KeyHeight,
    PadDiameter,
    RingInside,
    SurveyedLift,
    Thread,
    ThreadPitch,
    Window,
)
from borewright.model.instrument import Instrument
from borewright.model.kinds import PostHole, Rest, SurveyItem
from borewright.words import Message, Place, Text, say

#: Units or slips of ten that a whole survey may be in, by station over the instrument's.
_OTHER_SCALES = {
    1 / plausible.MM_PER_INCH: say("looks like inches, not millimetres"),
    0.1: say("looks like centimetres, or ten times too small"),
    10.0: say("is ten times too large"),
    plausible.MM_PER_INCH: say("looks multiplied by 25.4 once too often"),
}


class SurveyRow(Entity):
    """One measured feature of the keywork (mm, degrees).

    A cup or ring names its ``hole``; ``up_mm`` and ``down_mm`` say how far the hole's
    centre may go from the measured station (how far the key can be bent or moved).
    A cup has pad, rest and lift, and where it was measured ``seat_from_axis_mm``, the height
    of the closed pad's face above the bore's axis; a ring its inside diameter, and with
    ``seat_from_axis_mm`` its top's height when pressed down; a post its thread, and the
    thread's pitch where it is known.
    """

    item: SurveyItem
    name: Name
    part: Annotated[str, Field(min_length=1)]
    station_mm: Finite
    bearing_deg: Annotated[Finite, Field(ge=-180, le=180)]
    hole: str = ""
    up_mm: Window = 0.0
    down_mm: Window = 0.0
    pad_diameter_mm: PadDiameter | None = None
    rest: Rest | None = None
    lift_mm: SurveyedLift | None = None
    ring_inside_mm: RingInside | None = None
    thread_mm: Thread | None = None
    thread_pitch_mm: ThreadPitch | None = None
    seat_from_axis_mm: KeyHeight | None = None
    comment: str = ""

    @model_validator(mode="after")
    def _complete(self) -> SurveyRow:
        needs = {
            SurveyItem.CUP: ("hole", "pad_diameter_mm", "rest", "lift_mm"),
            SurveyItem.RING: ("hole", "ring_inside_mm"),
            SurveyItem.POST: ("thread_mm",),
        }[self.item]
        for field in needs:
            if not getattr(self, field):
                raise RefusedValue(
                    say("a {item} needs {field}, but it is empty", item=self.item, field=field),
                    say("Measure it."),
                )
        for field in ("pad_diameter_mm", "ring_inside_mm"):
            value = getattr(self, field)
            if value is not None and value < plausible.SMALLEST_PAD_MM:
                raise plausible.too_small(field, value)
        return self


class KeyworkSurvey(Entity):
    """All rows of a survey, in the order of the file.

    ``lines`` are the rows' line numbers in the file ``source``, for messages.
    """

    rows: list[SurveyRow]
    source: str = ""
    lines: tuple[int, ...] = Field(default=(), exclude=True, repr=False)

    @model_validator(mode="after")
    def _one_row_a_feature(self) -> KeyworkSurvey:
        holes: dict[str, int] = {}
        names: dict[tuple[SurveyItem, str], int] = {}
        for index, row in enumerate(self.rows):
            if (row.item, row.name) in names:
                first = self.row_place(names[row.item, row.name])
                raise RefusedValue(
                    say(
                        "the {item} '{row}' appears twice ({first} and {second})",
                        item=row.item,
                        row=row.name,
                        first=first,
                        second=self.row_place(index),
                    ),
                    say("Give each its own name."),
                )
            names[row.item, row.name] = index
            if not row.hole or row.item is SurveyItem.POST:
                continue
            if row.hole in holes:
                raise RefusedValue(
                    say(
                        "hole '{hole}' has two rows ({first} and {second})",
                        hole=row.hole,
                        first=self.row_place(holes[row.hole]),
                        second=self.row_place(index),
                    ),
                    say("Keep one cup or ring for it."),
                )
            holes[row.hole] = index
        return self

    def row_place(self, index: int) -> Message:
        """Where a row stands: its line in the file, or its number in the survey."""
        if index < len(self.lines):
            return say("line {line}", line=self.lines[index])
        return say("row {row}", row=index + 1)

    def for_hole(self, hole: str) -> SurveyRow | None:
        """The cup or ring over a hole, or None."""
        for row in self.rows:
            if row.hole == hole and row.item is not SurveyItem.POST:
                return row
        return None

    def posts(self) -> list[SurveyRow]:
        """Every post."""
        return [row for row in self.rows if row.item is SurveyItem.POST]

    def check_against(self, instrument: Instrument) -> None:
        """Raise ModelError where the survey cannot belong to this instrument.

        Parts and holes must exist, cups and rings lie over the part that has their hole,
        stations lie on their part, and all stations together be in millimetres.
        """
        source = self.source or say("keywork survey")
        parts = {part.name: part for part in instrument.parts}
        owners = {hole.name: part.name for part, hole, _ in instrument.placed_holes()}
        self._check_scale(instrument, source)
        for index, row in enumerate(self.rows):
            where = (source, self.row_place(index))
            if row.part not in parts:
                raise ModelError(
                    say(
                        "'{row}' is on part '{part}', which the instrument does not have",
                        row=row.name,
                        part=row.part,
                    ),
                    place=(*where, "part"),
                    remedy=say("Parts are: {parts}.", parts=", ".join(parts)),
                )
            if row.item is not SurveyItem.POST and row.hole not in owners:
                raise ModelError(
                    say(
                        "'{row}' is over hole '{hole}', which the instrument does not have",
                        row=row.name,
                        hole=row.hole,
                    ),
                    place=(*where, "hole"),
                    remedy=say("Holes are: {holes}.", holes=" ".join(owners) or say("(none)")),
                )
            if row.item is not SurveyItem.POST and owners[row.hole] != row.part:
                raise ModelError(
                    say(
                        "'{row}' is surveyed on part '{part}', but hole '{hole}' is in part "
                        "'{owner}'",
                        row=row.name,
                        part=row.part,
                        hole=row.hole,
                        owner=owners[row.hole],
                    ),
                    place=(*where, "part"),
                    remedy=say("Correct the part here, or move the hole in the instrument."),
                )
            length = parts[row.part].length_mm
            if not 0 <= row.station_mm <= length:
                raise ModelError(
                    say(
                        "'{row}' at station {station_mm:g} is beyond part '{part}', which is "
                        "{length:g} mm long",
                        row=row.name,
                        station_mm=row.station_mm,
                        part=row.part,
                        length=length,
                    ),
                    place=(*where, "station_mm"),
                    remedy=say("Measure stations in mm from the part's own top shoulder."),
                )

    def check_covers(self, instrument: Instrument) -> None:
        """Raise ModelError where a pad or ring is no wider than its hole, a post's hole no wall.

        A survey as it was measured, on the body as it was drawn: what a fit tries is its own
        affair. :meth:`check_against` comes first.
        """
        for index, row in enumerate(self.rows):
            place = (self.source or say("keywork survey"), self.row_place(index))
            _check_covers(instrument, row, place)

    def _check_scale(self, instrument: Instrument, source: Text) -> None:
        stations = {hole.name: hole.station_mm for _, hole, _ in instrument.placed_holes()}
        ratios = [
            row.station_mm / stations[row.hole]
            for row in self.rows
            if row.item is not SurveyItem.POST and row.hole in stations
        ]
        if len(ratios) < 2:
            return  # one row alone may simply be mistyped; its own checks speak of it
        middle = median(ratios)
        for scale, words in _OTHER_SCALES.items():
            if abs(middle / scale - 1) < 0.15:
                raise ModelError(
                    say(
                        "the survey {words}: its stations are about {middle:.3g} times "
                        "those of the holes in '{instrument}'",
                        words=words,
                        middle=middle,
                        instrument=instrument.name,
                    ),
                    place=(source, "station_mm"),
                    remedy=say("Convert the survey's lengths to millimetres."),
                )


def _check_covers(instrument: Instrument, row: SurveyRow, where: Place) -> None:
    """A pad or ring reaches over its hole, and a post's hole ends in the wall."""
    part = instrument.part(row.part)
    if row.item is SurveyItem.POST:
        if instrument.body.post_hole is PostHole.NONE:
            return
        station = min(max(row.station_mm, 0.0), part.length_mm)
        outside = part.outside_diameter_at(station)
        wall = (outside - part.bore_diameter_at(station)) / 2
        if instrument.body.post_depth_mm >= wall:
            raise ModelError(
                say(
                    "the hole of post '{row}' is {depth_mm:g} mm deep, but the wall there is "
                    "{wall_mm:.2f} mm",
                    row=row.name,
                    depth_mm=instrument.body.post_depth_mm,
                    wall_mm=wall,
                ),
                place=(*where, "station_mm"),
                remedy=say("Make post_depth_mm under [body] less than the wall."),
            )
        return
    column = "pad_diameter_mm" if row.item is SurveyItem.CUP else "ring_inside_mm"
    hole = part.hole(row.hole)
    if (getattr(row, column) or 0.0) <= hole.diameter_mm:
        raise ModelError(
            say(
                "the {item} '{row}' is {cover_mm:g} mm across, but its hole '{hole}' "
                "{hole_mm:g} mm",
                item=row.item,
                row=row.name,
                cover_mm=getattr(row, column) or 0.0,
                hole=hole.name,
                hole_mm=hole.diameter_mm,
            ),
            place=(*where, column),
            remedy=say("A pad or ring is wider than its hole; measure both again."),
        )
