"""The body unrolled, with the places of a finding shown."""

from __future__ import annotations

from typing import Any

from nicegui.element import Element

from borewright.bench.print.places import Places
from borewright.bench.words import _
from borewright.model import Instrument, KeyworkSurvey, SurveyItem


class BodyMap(Element, component="body_map.js"):
    """Stations to the right, bearings from the back over the right, front and left to the back."""

    def __init__(self, instrument: Instrument, survey: KeyworkSurvey | None) -> None:
        super().__init__()
        self._instrument = instrument
        offsets = {part.name: instrument.offset_mm(part.name) for part in instrument.parts}
        self._offsets = offsets
        self.props.update(
            parts=[
                {
                    "name": part.name,
                    "from": offsets[part.name],
                    "to": offsets[part.name] + part.length_mm,
                }
                for part in instrument.parts
            ],
            length=instrument.length_mm,
            features=[*_holes(instrument), *_posts(survey, offsets)],
            rows=[
                {"at": -180, "words": _("back")},
                {"at": -90, "words": _("right")},
                {"at": 0, "words": _("front")},
                {"at": 90, "words": _("left")},
                {"at": 180, "words": _("back")},
            ],
        )
        self.show(Places())

    def show(self, places: Places, words: str = "") -> None:
        """Show some places; ``words`` say them to a screen reader."""
        first = self._offsets.get(places.parts[0], 0.0) if places.parts else 0.0
        self.props["shown"] = {
            "parts": list(places.parts),
            "holes": list(places.holes),
            "posts": list(places.posts),
            "stations": [first + station for station in places.stations_mm],
        }
        self.props["label"] = words or _("The body unrolled; choose a finding to see its place")
        self.update()


def _turned(bearing: float) -> float:
    return (bearing + 180.0) % 360.0 - 180.0


def _holes(instrument: Instrument) -> list[dict[str, Any]]:
    return [
        {
            "kind": "hole",
            "name": hole.name,
            "label": hole.name,
            "station": station,
            "bearing": _turned(hole.bearing_deg),
            "radius": hole.diameter_mm / 2,
            "pad": hole.pad.diameter_mm / 2 if hole.pad else 0,
        }
        for _part, hole, station in instrument.placed_holes()
    ]


def _posts(survey: KeyworkSurvey | None, offsets: dict[str, float]) -> list[dict[str, Any]]:
    return [
        {
            "kind": "post",
            "name": row.name,
            "label": _("post {name}", name=row.name),
            "station": offsets[row.part] + row.station_mm,
            "bearing": _turned(row.bearing_deg),
        }
        for row in (survey.rows if survey else [])
        if row.item is SurveyItem.POST and row.part in offsets
    ]
