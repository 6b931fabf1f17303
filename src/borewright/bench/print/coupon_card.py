"""The coupon: made with its sheet, printed, measured, and handed back above."""

from __future__ import annotations

import tempfile
from pathlib import Path

from nicegui import ui
from nicegui.elements.mixins.text_element import TextElement

from borewright.bench.folder.placing import put_files
from borewright.bench.jobs import Job, Task, apart
from borewright.bench.page import Page, outliving
from borewright.bench.print.coupon_form import CouponForm
from borewright.bench.print.wishes import wishes_of
from borewright.bench.widgets import button, heading, text
from borewright.bench.widgets.links import file_link
from borewright.bench.widgets.number_field import TextField
from borewright.bench.words import _
from borewright.bench.workbench import Change
from borewright.tasks.printing.coupon import make_coupon

FOLDER = "coupon"


class CouponCard:
    """Makes the coupon in a job and links what was made."""

    def __init__(self, page: Page) -> None:
        self.page = page
        heading(_("The coupon"))
        text(
            _(
                "A tube, a block and a ring that show how this printer errs with this lot. Print "
                "the tube on its top end and the block on its bottom end, measure them, and type "
                "the sizes in here; or fill the sheet and hand it back under 'A coupon of mine'."
            )
        )
        with ui.element("div").classes("bw-row"):
            self._label = TextField(
                _("Cut into it"), "", placeholder=_("lot 7"), mark="coupon-label"
            )
            button(_("Make the coupon"), self._make, mark="make-coupon")
        self._files = ui.element("div").props('data-mark="coupon-files"')
        CouponForm(page)
        self.refresh()

    def refresh(self) -> None:
        """Link the files that are there."""
        self._files.clear()
        names = [
            each.name for each in self.page.workbench.files() if each.name.startswith("coupon/")
        ]
        if not names:
            return
        with self._files, ui.element("ul").classes("bw-files"):
            for name in sorted(names, key=lambda name: not name.endswith(".csv")):
                with ui.element("li"):
                    file_link(name, name.removeprefix(f"{FOLDER}/"))
                    if name.endswith(".csv"):
                        TextElement(tag="span", text=" " + _("(the sheet)"))

    @outliving
    async def _make(self) -> None:
        bench = self.page.workbench
        label = self._label.value.strip()
        if bench.jobs.running(Task.COUPON):
            return
        target, printer = bench.folder.path(FOLDER), wishes_of(self.page).of(bench).printer

        def work(job: Job) -> None:
            with tempfile.TemporaryDirectory(dir=bench.folder.keep) as aside:
                apart(job, make_coupon, Path(aside), label, printer)
                put_files(Path(aside), target)

        job = await bench.jobs.run(Task.COUPON, work)
        if job.error is not None:
            self.page.fail(job.error)
        bench.look()
        bench.tell(Change("files", self.page))
