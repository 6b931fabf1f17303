"""The points of a key survey that a body must respect, as a keywork survey lists them."""

from __future__ import annotations

from borewright.model.keys.elements import Cup, Post, Ring
from borewright.model.keys.key_set import KeySet
from borewright.model.keywork import KeyworkSurvey, SurveyRow
from borewright.model.kinds import SurveyItem


def points_of(keys: KeySet, survey: KeyworkSurvey | None = None) -> KeyworkSurvey:
    """Cups, rings and posts of a key set, so that nothing is typed twice.

    How far a key can be bent, names and comments come from the rows of ``survey`` for the same
    holes, if there are any; its other cups and rings stay, its posts go: keys have their own.
    """
    rows = []
    covered = set()
    for element in keys.elements:
        if isinstance(element, Cup | Ring):
            covered.add(element.hole)
            rows.append(_row(element, survey.for_hole(element.hole) if survey else None))
        elif isinstance(element, Post):
            rows.append(
                SurveyRow(
                    item=SurveyItem.POST,
                    name=element.name,
                    part=element.part,
                    station_mm=element.first.station_mm,
                    bearing_deg=_within_a_turn(element.first.bearing_deg),
                    thread_mm=element.thread_mm,
                )
            )
    for row in survey.rows if survey else ():
        if row.item is not SurveyItem.POST and row.hole not in covered:
            rows.append(row)
    return KeyworkSurvey(rows=rows, source=keys.source)


def _row(element: Cup | Ring, known: SurveyRow | None) -> SurveyRow:
    ring = isinstance(element, Ring)
    return SurveyRow(
        item=SurveyItem.RING if ring else SurveyItem.CUP,
        name=known.name if known else element.name,
        part=element.part,
        station_mm=element.first.station_mm,
        bearing_deg=_within_a_turn(element.first.bearing_deg),
        hole=element.hole,
        up_mm=known.up_mm if known else 0.0,
        down_mm=known.down_mm if known else 0.0,
        pad_diameter_mm=element.pad_mm if isinstance(element, Cup) else None,
        rest=element.rest if isinstance(element, Cup) else None,
        lift_mm=element.lift_mm if isinstance(element, Cup) else None,
        ring_inside_mm=element.inside_mm if isinstance(element, Ring) else None,
        seat_from_axis_mm=element.first.height_mm,
        comment=known.comment if known else element.comment,
    )


def _within_a_turn(bearing_deg: float) -> float:
    """The same bearing from -180 to 180."""
    return bearing_deg if abs(bearing_deg) <= 180 else (bearing_deg + 180) % 360 - 180
