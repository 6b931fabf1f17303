"""A scanned key: turned and clicked in the browser, its axis and plane fitted here."""

from __future__ import annotations

import base64
import tempfile
from pathlib import Path
from typing import Any

import numpy as np
from nicegui import ui
from nicegui.elements.mixins.text_element import TextElement

from borewright.bench.measure.form import NumbersForm
from borewright.bench.page import Page
from borewright.bench.widgets import Choice, FileDrop, button, table, text
from borewright.bench.widgets.buttons import enable
from borewright.bench.widgets.drawn import Drawn
from borewright.bench.widgets.units import MM_PER_INCH, decimal
from borewright.bench.words import _
from borewright.errors import BorewrightError
from borewright.keywork.clicked import Target, numbers_from_scan
from borewright.keywork.numbers import Measured, Number
from borewright.keywork.scans import ScannedKey, scanned_key, scanned_mesh, thinned
from borewright.words import Message, say

_MOST_BYTES, _MOST_TRIANGLES = 200_000_000, 60_000
_UNITS = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": MM_PER_INCH}
#: What is clicked on a scan, in order, and how often.
_WANTED: list[tuple[Target, Message, int]] = [
    (Target.TUBE, say("the tube, near each of its ends"), 2),
    (Target.RIM, say("the edge of the pad's face, at three places well apart"), 3),
    (Target.TOP, say("the cup's back"), 1),
    (Target.TOUCH, say("the touch's middle"), 1),
    (Target.FOOT, say("the foot's end"), 1),
]


class ClickedScan(Drawn, component="scan.js"):
    """The mesh in the browser."""

    def __init__(self, points: np.ndarray, faces: np.ndarray) -> None:
        super().__init__()
        self.props.update(
            mesh={
                "at": base64.b64encode(points.astype("<f4").tobytes()).decode(),
                "of": base64.b64encode(faces.astype("<u4").tobytes()).decode(),
            },
            points=[],
            lines=[],
            words={
                "about": _("The scan in the round"),
                "help": _("Drag to turn it, use the wheel to come nearer, click to pick a point."),
            },
        )


class ScanCard:
    """Fills a form from a scan."""

    def __init__(self, page: Page, form: NumbersForm) -> None:
        self.page, self.form = page, form
        self._unit, self._target = "mm", Target.TUBE
        self._points, self._faces = np.empty((0, 3)), np.empty((0, 3), dtype=int)
        self._picked: dict[Target, list[np.ndarray]] = {}
        self._found: dict[Number, Measured] = {}
        self._scan: ClickedScan | None = None
        with ui.element("details").classes("bw-panel"):
            TextElement(tag="summary", text=_("From a scan")).props('data-mark="from-scan"')
            text(
                _(
                    "A scanned mesh of this key alone. A cylinder is fitted to its tube and a "
                    "plane to its pad's face; where they do not fit within 0.05 mm, the tube is "
                    "bent or the scan is bad."
                ),
                small=True,
            )
            with ui.element("div").classes("bw-row"):
                Choice(
                    _("The scan's unit"),
                    {unit: unit for unit in _UNITS},
                    "mm",
                    self._in_unit,
                    mark="scan-unit",
                )
            FileDrop(_("The scan"), (".stl", ".ply"), _MOST_BYTES, self._receive, mark="scan-file")
            self._box = ui.element("div")

    def _in_unit(self, value: str) -> None:
        self._unit = value
        self._fit()

    async def _receive(self, name: str, data: bytes) -> None:
        def work() -> tuple[np.ndarray, np.ndarray, tuple[np.ndarray, np.ndarray]]:
            with tempfile.TemporaryDirectory() as folder:
                path = Path(folder) / f"scan{Path(name).suffix.lower()}"
                path.write_bytes(data)
                points, faces = scanned_mesh(path)
            return points, faces, thinned(points, faces, _MOST_TRIANGLES)

        try:
            self._points, self._faces, shown = await self.page.workbench.kernel(work)
        except BorewrightError as error:
            error.place = name
            raise
        self._picked, self._target = {}, Target.TUBE
        self._box.clear()
        with self._box:
            self._scan = ClickedScan(*shown)
            self._scan.hear("picked", self._pick)
            words = {target.value: _.tell(what) for target, what, _count in _WANTED}
            self._chosen = Choice(
                _("Click now"), words, self._target.value, self._aim, mark="scan-target"
            )
            self._answer = ui.element("div").props('role="status" data-mark="scan-answer"')
            self._take = button(_("Take these numbers"), self._fill, primary=True, mark="scan-take")
        self._fit()

    def _aim(self, value: str) -> None:
        self._target = Target(value)

    def _pick(self, told: dict[str, Any]) -> None:
        point = np.array([float(value) for value in told["at"]])
        order = [target for target, _what, _count in _WANTED]
        most = {target: count for target, _what, count in _WANTED}
        some = self._picked.setdefault(self._target, [])
        if len(some) >= most[self._target]:
            some.clear()
        some.append(point)
        if len(some) == most[self._target]:
            later = [t for t in order[order.index(self._target) + 1 :] if t not in self._picked]
            if later:
                self._target = later[0]
                self._chosen.set(self._target.value)
        self._fit()

    def _fit(self) -> None:
        if self._scan is None:
            return
        self._found = {}
        scale = _UNITS[self._unit]
        lines: list[list[list[float]]] = []
        said = _("Click the tube near both ends, the pad's edge at three places, the cup's back.")
        key: ScannedKey | None = None
        enough = [len(self._picked.get(t, ())) == n for t, _what, n in _WANTED[:3]]
        if all(enough):
            tube, rim, top = (
                np.array(self._picked[target]) * scale
                for target in (Target.TUBE, Target.RIM, Target.TOP)
            )
            others = {
                target: self._picked[target][0] * scale
                for target in (Target.TOUCH, Target.FOOT)
                if self._picked.get(target)
            }
            try:
                # Clicks lie on the tube's skin and somewhere near its ends.
                apart = float(np.linalg.norm(tube[1] - tube[0]))
                key = scanned_key(
                    self._points * scale,
                    (tube[0], tube[1]),
                    rim,
                    top[0],
                    tube_reach_mm=4.0,
                    end_reach_mm=min(4.0, apart / 3),
                )
                self._found = numbers_from_scan(key, others)
                said = ""
                end = key.origin + key.length_mm * key.frame[0]
                middle = key.origin + key.frame.T @ [key.station_mm, key.m_mm, -key.h_mm]
                foot = key.origin + key.station_mm * key.frame[0]
                lines = [
                    [(p / scale).tolist() for p in pair]
                    for pair in ((key.origin, end), (foot, middle))
                ]
            except BorewrightError as error:
                said = error.told(_.reader)
        points = [point.tolist() for some in self._picked.values() for point in some]
        self._scan.give(points=points, lines=lines)
        self._answer.clear()
        with self._answer:
            if said:
                text(said)
            if key is not None and self._found:
                self._tell(key)
        enable(self._take, bool(self._found))

    def _tell(self, key: ScannedKey) -> None:
        known = self.form.known
        rows = []
        for number, one in self._found.items():
            before = known.get(number)
            off = "–" if before is None else decimal(one.value - before.value, 2)
            doubt = "–" if one.uncertainty is None else decimal(one.uncertainty, 2)
            rows.append((_.tell(number.words), decimal(one.value, 2), doubt, off))
        table(
            _("What the scan says, mm and degrees"),
            (_("number"), _("value"), _("±"), _("off the survey")),
            rows,
            right=1,
        )
        text(
            _(
                "The tube fits a cylinder within {tube} mm, "
                "the pad's face a plane within {cup} mm.",
                tube=decimal(key.tube_residual_mm, 3),
                cup=decimal(key.cup_residual_mm, 3),
            )
        )
        if key.bent:
            text(_("The tube is bent, or the scan is bad: over 0.05 mm.")).classes("bw-wrong")

    def _fill(self) -> None:
        taken = self.form.fill(self._found)
        self.page.tell(_("{count} numbers were taken; look them over and save.", count=len(taken)))
