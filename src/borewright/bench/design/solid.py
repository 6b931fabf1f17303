"""The bodies: made in the background as STEP, STL and 3MF, seen in the round, downloaded."""

from __future__ import annotations

import asyncio
import tempfile
from pathlib import Path
from typing import NamedTuple
from urllib.parse import quote

from nicegui import ui
from nicegui.elements.mixins.text_element import TextElement

from borewright.bench.folder.placing import put_files
from borewright.bench.jobs import Job, Task, apart
from borewright.bench.page import Page, outliving
from borewright.bench.widgets import JobBar, button, text
from borewright.bench.widgets.units import decimal
from borewright.bench.words import _
from borewright.bench.workbench import Change
from borewright.model import SolidsReport
from borewright.tasks.making import make_solids

FOLDER = "bodies"
_KEY = "bodies"
#: Wait so long (s) after the last change before the bodies are made anew.
_QUIET_S = 3.0
_TINTS = ("#dcb98a", "#e9d6ae", "#cfd9b9", "#d9c2ce", "#c2d3dd")


class Bodies(NamedTuple):
    """Bodies that were made, as all pages show them: of which file in which state."""

    file: str
    edition: int
    report: SolidsReport


class SolidPanel:
    """A panel that is closed at first; once open, the bodies follow every change."""

    def __init__(self, page: Page) -> None:
        self.page = page
        with ui.element("details").classes("bw-card bw-panel") as panel:
            TextElement(tag="summary", text=_("Bodies: in the round, and files to download")).props(
                'data-mark="bodies"'
            )
            text(
                _(
                    "Every part as a solid: STEP for other shops, STL and 3MF for printers. "
                    "The clarinet takes about half a minute; the page can be used meanwhile."
                )
            )
            button(_("Make the bodies"), self.make, primary=True, mark="make-bodies")
            self._bar = JobBar(_("Nothing was written."))
            self._files = ui.element("div")
            self._scene = ui.element("div")
        self._panel = panel
        self._bar.resume(page.workbench.jobs, Task.BODIES)
        page.on_change(self._changed)
        self._show()

    @property
    def _made(self) -> Bodies | None:
        """The bodies made last, where they are of the file on the bench."""
        found = self.page.workbench.kept.get(_KEY)
        return found if found is not None and found.file == self.page.workbench.file else None

    def _changed(self, change: Change) -> None:
        if change.job is not None and change.job.task is Task.BODIES:
            self._bar.show(change.job)
        elif change.what == _KEY:
            self._show()
        elif change.what == "instrument" and self._made is not None:
            ui.timer(_QUIET_S, self._follow, once=True)

    @outliving
    async def _follow(self) -> None:
        if self._made is not None and self._made.edition != self.page.workbench.edition:
            await self.make()

    @outliving
    async def make(self) -> None:
        """Make the bodies of the instrument as it is now."""
        bench = self.page.workbench
        if bench.jobs.running(Task.BODIES):
            return
        edition, name, file = bench.edition, bench.file, bench.path
        folder = bench.folder.path(FOLDER)

        def work(job: Job) -> SolidsReport:
            with tempfile.TemporaryDirectory(dir=bench.folder.keep) as aside:
                made = apart(job, make_solids, file, Path(aside))
                put_files(Path(aside), folder)
            return made

        job = await bench.jobs.run(Task.BODIES, work)
        if job.error is not None:
            self.page.fail(job.error)
        elif job.result is not None:
            bench.kept[_KEY] = Bodies(name, edition, job.result)
            bench.look()
            await asyncio.sleep(0)
            bench.tell(Change(_KEY, self.page))
            if edition != bench.edition:
                await self.make()

    def _show(self) -> None:
        made = self._made
        if made is None or made.edition != self.page.workbench.edition:
            return
        report, edition = made.report, made.edition
        self._files.clear()
        with self._files, ui.element("ul").classes("bw-files"):
            for part in report.parts:
                good = part.watertight and part.valid
                with ui.element("li"):
                    size = " × ".join(decimal(side, 1) for side in part.bounding_box_mm)
                    state = _("closed") if good else _("NOT CLOSED: do not print")
                    text(f"{part.part}: {size} mm, {state}. ", tag="span")
                    for name, kind in (
                        (part.step, "STEP"),
                        (part.stl, "STL"),
                        (part.three_mf, "3MF"),
                    ):
                        _link(name, kind)
            if report.assembly:
                with ui.element("li"):
                    text(_("all parts together: "), tag="span")
                    _link(report.assembly, "STEP")
        self._scene.clear()
        with self._scene:
            self._draw(report, edition)

    def _draw(self, report: SolidsReport, edition: int) -> None:
        instrument = self.page.workbench.instrument
        if instrument is None:
            return
        box = ui.element("div").classes("bw-scene").props('role="img"')
        box.props["aria-label"] = _("The bodies in the round; drag to turn them")
        with box, ui.scene(width=900, height=320, grid=False, background_color="#e9e4d8") as scene:
            length = instrument.length_mm / 100
            for number, part in enumerate(report.parts):
                offset = instrument.offset_mm(part.part) / 100
                with scene.group() as group:
                    body = scene.stl(f"{_address(part.stl)}?v={edition}")
                    body.scale(0.01).material(_TINTS[number % len(_TINTS)])
                # The solids stand upright, top at the origin; here they lie from left to right.
                group.rotate(0, 1.5707963, 0).move(offset - length / 2, 0, 0)
        scene.move_camera(x=0, y=-0.36 * length - 0.2, z=0.4, look_at_x=0, look_at_y=0, look_at_z=0)


def _address(file: str) -> str:
    return f"/files/{FOLDER}/{quote(Path(file).name)}"


def _link(name: str, words: str) -> None:
    link = TextElement(tag="a", text=words).classes("bw-file")
    link.props["href"] = _address(name)
    link.props["download"] = True
    link.props["data-mark"] = f"file-{Path(name).name}"
