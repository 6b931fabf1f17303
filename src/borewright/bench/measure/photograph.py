"""A square-on photograph with a scale: clicked, parallax taken back, the drawing laid over it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any
from urllib.parse import quote

import numpy as np
from nicegui import ui
from nicegui.elements.mixins.text_element import TextElement

from borewright.bench.measure.form import NumbersForm
from borewright.bench.page import Page
from borewright.bench.widgets import Choice, FileDrop, button, table, text
from borewright.bench.widgets.buttons import enable
from borewright.bench.widgets.drawn import Drawn
from borewright.bench.widgets.record_field import RecordField
from borewright.bench.widgets.units import decimal, number_from
from borewright.bench.words import _
from borewright.errors import BenchError, BorewrightError
from borewright.keywork.clicked import (
    TARGETS,
    Clicks,
    Sight,
    Target,
    numbers_from_clicks,
)
from borewright.keywork.numbers import Measured, Number
from borewright.keywork.photographs import CLICK_PX, Photograph
from borewright.words import say

_SUFFIXES = (".jpg", ".jpeg", ".png", ".webp")
_MOST_BYTES = 40_000_000
#: Targets that have a depth of their own in a photograph.
_DEEP = (Target.TUBE, Target.RIM, Target.FACE, Target.TOUCH, Target.FOOT)


class ClickedPhotograph(Drawn, component="photograph.js"):
    """The photograph in the browser; every click is told in its own pixels."""

    def __init__(self, url: str) -> None:
        super().__init__()
        self.props.update(
            url=url,
            points=[],
            shapes=[],
            over="",
            words={
                "about": _("The photograph; arrows move a cross, Enter clicks there"),
                "closer": _("Closer"),
                "further": _("Further away"),
                "help": _("The wheel looks closer, dragging moves the picture."),
            },
        )


class PhotographCard:
    """Fills a form from a photograph."""

    def __init__(self, page: Page, form: NumbersForm) -> None:
        self.page, self.form = page, form
        self._sight, self._target = Sight.PAD, Target.SCALE
        self._points: dict[Target, list[tuple[float, float]]] = {}
        self._size, self._fine = (0.0, 0.0), 1.0
        self._found: dict[Number, Measured] = {}
        self._picture: ClickedPhotograph | None = None
        with ui.element("details").classes("bw-panel"):
            TextElement(tag="summary", text=_("From a photograph")).props(
                'data-mark="from-photograph"'
            )
            text(
                _(
                    "Lay a scale beside the key in the plane that you measure, hold the camera "
                    "square on it and 1.5 m away or more, the key in the middle third. What lies "
                    "nearer to the lens than the scale seems larger; say how much nearer, and it "
                    "is taken back."
                ),
                small=True,
            )
            with ui.element("div").classes("bw-row"):
                sights = {sight.value: _.tell(sight.words) for sight in Sight}
                Choice(_("The camera looks"), sights, "pad", self._look, mark="photo-sight")
                self._scale = RecordField(
                    _("Length of the scale, mm"), "100", "number", mark="photo-scale"
                )
                self._distance = RecordField(
                    _("From lens to scale, mm"), "1500", "number", mark="photo-distance"
                )
            FileDrop(_("The photograph"), _SUFFIXES, _MOST_BYTES, self._receive, mark="photo-file")
            self._box = ui.element("div")

    def _look(self, value: str) -> None:
        self._sight = Sight(value)
        self._points = {}
        self._target = Target.SCALE
        if self._picture is not None:
            self._show_targets()
            self._evaluate()

    def _receive(self, name: str, data: bytes) -> None:
        if not data.startswith((b"\xff\xd8", b"\x89PNG", b"RIFF")):
            raise BenchError(
                say("is no picture"), place=name, remedy=say("Save it as JPEG, PNG or WebP.")
            )
        folder = self.page.workbench.folder
        if not (folder.path(name).exists() and folder.read(name) == data):
            folder.receive(name, data)
        self._points, self._target = {}, Target.SCALE
        self._box.clear()
        with self._box:
            self._picture = ClickedPhotograph(f"/files/{quote(name)}")
            self._picture.hear("picked", self._picked)
            self._picture.hear("shown", self._shown)
            self._targets = ui.element("div").classes("bw-row")
            self._answer = ui.element("div").props('role="status" data-mark="photo-answer"')
            with ui.element("div").classes("bw-row"):
                self._take = button(
                    _("Take these numbers"), self._fill, primary=True, mark="photo-take"
                )
                button(_("Take the last click back"), self._back, mark="photo-back")
        self._show_targets()
        self._evaluate()

    def _shown(self, told: dict[str, Any]) -> None:
        self._size = (float(told["width"]), float(told["height"]))
        if not self._size[0]:
            self.page.fail(
                BenchError(
                    say("the photograph cannot be shown"),
                    remedy=say("Save it as JPEG, PNG or WebP."),
                )
            )

    def _show_targets(self) -> None:
        self._targets.clear()
        self._near: dict[Target, RecordField] = {}
        with self._targets:
            wanted = TARGETS[self._sight]
            words = {target.value: _.tell(target.words) for target in wanted}
            self._chosen = Choice(
                _("Click now"), words, self._target.value, self._aim, mark="photo-target"
            )
            for target in wanted:
                if target in _DEEP:
                    self._near[target] = RecordField(
                        _("{what}: nearer than the scale, mm", what=_.tell(target.words)),
                        "0",
                        "number",
                        mark=f"photo-near-{target.value}",
                        on_typed=self._evaluate,
                    )

    def _aim(self, value: str) -> None:
        self._target = Target(value)

    def _most(self, target: Target) -> int:
        if target is Target.TUBE:
            return 2 if self._sight is Sight.PAD else 12
        counts = {Target.SCALE: 2, Target.FACE: 2, Target.RIM: 12}
        return counts.get(target, 1)

    def _picked(self, told: dict[str, Any]) -> None:
        point = (float(told["x"]), float(told["y"]))
        self._fine = max(self._fine, float(told["fine"]))
        points = self._points.setdefault(self._target, [])
        if len(points) >= self._most(self._target):
            points.clear()  # begun anew
        points.append(point)
        least = {Target.RIM: 3, Target.TUBE: 2 if self._sight is Sight.PAD else 3}
        if len(points) == least.get(self._target, self._most(self._target)):
            self._next()
        self._evaluate()

    def _next(self) -> None:
        """Aim at what comes next, where it has not been clicked yet."""
        wanted = TARGETS[self._sight]
        for target in wanted[wanted.index(self._target) + 1 :]:
            if not self._points.get(target):
                self._target = target
                self._chosen.set(target.value)
                return

    def _back(self) -> None:
        if self._points:
            target = list(self._points)[-1]
            self._points[target].pop()
            if not self._points[target]:
                del self._points[target]
            self._target = target
            self._chosen.set(target.value)
            self._evaluate()

    def _clicks(self) -> Clicks | None:
        scale = self._points.get(Target.SCALE, [])
        if len(scale) != 2:
            return None
        length = self._read(self._scale, 1.0, 2000.0)
        distance = self._read(self._distance, 50.0, 20_000.0)
        near = {target: self._read(field, -200.0, 200.0) for target, field in self._near.items()}
        if length is None or distance is None:
            return None
        photograph = Photograph(
            scale_px=(scale[0], scale[1]),
            scale_mm=length,
            middle_px=(self._size[0] / 2, self._size[1] / 2),
            distance_mm=distance,
            click_px=CLICK_PX * self._fine,
        )
        points: dict[Target, Sequence[tuple[float, float]]] = {
            t: tuple(p) for t, p in self._points.items() if t is not Target.SCALE
        }
        return Clicks(
            self._sight, photograph, points, {t: v for t, v in near.items() if v is not None}
        )

    def _read(self, field: RecordField, low: float, high: float) -> float | None:
        try:
            value = number_from(field.value or "0", low, high)
        except BorewrightError as error:
            field.fail(error)
            return None
        field.fail(None)
        return value

    def _evaluate(self) -> None:
        if self._picture is None:
            return
        self._found = {}
        said = ""
        clicks = self._clicks()
        if clicks is None:
            said = _("Click both ends of the scale first.")
        elif not clicks.points.get(Target.TUBE):
            said = _("Now click the tube.")
        else:
            try:
                self._found = numbers_from_clicks(clicks)
            except BorewrightError as error:
                said = error.told(_.reader)
        self._answer.clear()
        with self._answer:
            if said:
                text(said)
            if self._found:
                self._tell()
        enable(self._take, bool(self._found))
        self._draw(clicks)

    def _tell(self) -> None:
        known = self.form.known
        rows = []
        for number, one in self._found.items():
            before = known.get(number)
            off = "–" if before is None else decimal(one.value - before.value, 2)
            rows.append(
                (
                    _.tell(number.words),
                    decimal(one.value, 2),
                    "–" if one.uncertainty is None else decimal(one.uncertainty, 2),
                    off,
                )
            )
        table(
            _("What the clicks say, mm"),
            (_("number"), _("value"), _("±"), _("off the survey")),
            rows,
            right=1,
        )

    def _fill(self) -> None:
        taken = self.form.fill(self._found)
        self.page.tell(_("{count} numbers were taken; look them over and save.", count=len(taken)))

    def _draw(self, clicks: Clicks | None) -> None:
        if self._picture is None:
            return
        clicked = [point for some in self._points.values() for point in some]
        points = [{"x": x, "y": y, "label": str(n)} for n, (x, y) in enumerate(clicked, 1)]
        over = ""
        shapes: list[dict[str, float]] = []
        if clicks is not None and self._found:
            over, shapes = self._laid_over(clicks)
        self._picture.give(points=points, over=over, shapes=shapes)

    def _laid_over(self, clicks: Clicks) -> tuple[str, list[dict[str, float]]]:
        """The key's drawing, in mm from the hinge, and how it lies on the picture."""
        found = {number: one.value for number, one in self._found.items()}
        tube = np.array(clicks.points[Target.TUBE])
        if clicks.sight is Sight.PAD:
            origin, way = tube[0], tube[1] - tube[0]
            rim = np.array(clicks.points.get(Target.RIM, tube[:1])).mean(axis=0)
            shapes = _on_pad(found)
        else:
            face = np.array(clicks.points.get(Target.FACE, ()))
            if len(face) != 2:
                return "", []
            origin, way = tube.mean(axis=0), face[1] - face[0]
            if (face.mean(axis=0) - origin) @ way < 0:
                way = -way
            rim = np.array(clicks.points[Target.TOP][0])
            origin = origin.astype(float)
            shapes = _on_end(found)
        middle = face.mean(axis=0) if clicks.sight is Sight.END else origin
        way = way / np.linalg.norm(way)
        across = np.array([-way[1], way[0]])
        across = across if (rim - middle) @ across > 0 else -across
        near = clicks.nearer_mm.get(Target.TUBE, 0.0)
        distance = clicks.photograph.distance_mm
        scale = distance / (distance - near) / clicks.photograph.mm_per_px
        cells = [*(way * scale), *(across * scale), *origin]
        return f"matrix({' '.join(f'{cell:.5f}' for cell in cells)})", shapes


def _on_pad(found: dict[Number, float]) -> list[dict[str, float]]:
    """Along to the right, aside down the page's own way, mm."""
    shapes = [_line(0.0, 0.0, found[Number.LENGTH], 0.0)]
    if Number.ARM in found:
        x, y = found[Number.STATION], found[Number.ARM]
        shapes += [{"x": x, "y": y, "r": found[Number.CUP] / 2}, _line(x, 0.0, x, y)]
    for along, aside in (
        (Number.TOUCH_ALONG, Number.TOUCH_ASIDE),
        (Number.FOOT_ALONG, Number.FOOT_ASIDE),
    ):
        if along in found:
            shapes.append(_line(found[along], 0.0, found[along], found[aside]))
    return shapes


def _on_end(found: dict[Number, float]) -> list[dict[str, float]]:
    shapes: list[dict[str, float]] = [{"x": 0.0, "y": 0.0, "r": found[Number.TUBE] / 2}]
    if Number.HEIGHT in found:
        x, y, half = found[Number.ARM], -found[Number.HEIGHT], found[Number.PAD] / 2
        shapes += [_line(x - half, y, x + half, y), _line(0.0, 0.0, x, y)]
    for aside, over in (
        (Number.TOUCH_ASIDE, Number.TOUCH_OVER),
        (Number.FOOT_ASIDE, Number.FOOT_OVER),
    ):
        if over in found:
            shapes.append(_line(0.0, 0.0, found[aside], found[over]))
    return shapes


def _line(x1: float, y1: float, x2: float, y2: float) -> dict[str, float]:
    if math.hypot(x2 - x1, y2 - y1) < 1e-6:
        x2 += 1e-3
    return {"x1": x1, "y1": y1, "x2": x2, "y2": y2}
