"""The bodies in the round, with balls where a finding is."""

from __future__ import annotations

import math
from typing import Any
from urllib.parse import quote

from nicegui import ui
from nicegui.elements.mixins.text_element import TextElement

from borewright.bench.page import Page
from borewright.bench.print.making import Made
from borewright.bench.print.places import Places
from borewright.bench.words import _
from borewright.model import Instrument

_SCALE = 0.01
_TINTS = ("#dcb98a", "#e9d6ae", "#cfd9b9", "#d9c2ce", "#c2d3dd")
_FOUND = "#d55e00"
#: Balls stand so far (mm) above the body, and are so large.
_ABOVE_MM, _BALL_MM = 4.0, 4.5


class BodyScene:
    """A panel that loads the bodies when it is opened first."""

    def __init__(self, page: Page, made: Made) -> None:
        self.page, self._made = page, made
        self._scene: Any = None
        self._balls: list[Any] = []
        self._places = Places()
        with ui.element("details").classes("bw-panel") as panel:
            TextElement(tag="summary", text=_("The bodies in the round")).props(
                'data-mark="print-scene"'
            )
            self._box = ui.element("div").classes("bw-scene")
        panel.on("toggle", lambda _event: self._open())

    def _open(self) -> None:
        instrument = self.page.workbench.instrument
        if self._scene is not None or instrument is None:
            return
        box = self._box.props('role="img"')
        box.props["aria-label"] = _("The bodies in the round; drag to turn them")
        length = instrument.length_mm * _SCALE
        edition = self._made.of[:12]
        with (
            box,
            ui.scene(width=900, height=320, grid=False, background_color="#e9e4d8") as scene,
        ):
            for number, part in enumerate(self._made.solids.parts):
                offset = self._made_offset(instrument, part.part) * _SCALE
                with scene.group() as group:
                    body = scene.stl(f"/files/{quote(part.stl)}?of={edition}")
                    body.scale(_SCALE).material(_TINTS[number % len(_TINTS)])
                # The solids stand upright, top at the origin; here they lie left to right.
                group.rotate(0, math.pi / 2, 0).move(offset - length / 2, 0, 0)
        scene.move_camera(x=0, y=-length * 0.9, z=1.2, look_at_x=0, look_at_y=0, look_at_z=0)
        self._scene = scene
        self.show(self._places)

    def _made_offset(self, instrument: Instrument, part: str) -> float:
        """Where a made part begins; one that was cut in two is laid where its owner is."""
        for split in self._made.splits:
            if part == split.upper:
                return instrument.offset_mm(split.part)
            if part == split.lower:
                return instrument.offset_mm(split.part) + float(split.station_mm)
        return instrument.offset_mm(part)

    def show(self, places: Places) -> None:
        """Put a ball at every hole and post that a finding names."""
        from borewright.solids import bearing_direction

        self._places = places
        instrument, survey = self.page.workbench.instrument, self.page.workbench.survey
        if self._scene is None or instrument is None:
            return
        for ball in self._balls:
            ball.delete()
        spots = [
            (station, hole.bearing_deg, part.outside_diameter_at(hole.station_mm))
            for part, hole, station in instrument.placed_holes()
            if hole.name in places.holes
        ]
        for row in survey.rows if survey else []:
            if row.name in places.posts and row.part in {each.name for each in instrument.parts}:
                part = instrument.part(row.part)
                station = instrument.offset_mm(row.part) + row.station_mm
                across = part.outside_diameter_at(row.station_mm)
                spots.append((station, row.bearing_deg, across))
        self._balls = []
        with self._scene:
            for station, bearing, across in spots:
                x, y = bearing_direction(bearing)
                out = (across / 2 + _ABOVE_MM) * _SCALE
                along = (station - instrument.length_mm / 2) * _SCALE
                ball = self._scene.sphere(_BALL_MM * _SCALE).material(_FOUND)
                self._balls.append(ball.move(along, y * out, -x * out))
