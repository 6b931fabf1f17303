"""The Print view: choose, make, look at the findings, take the files to the printer."""

from __future__ import annotations

from nicegui import ui

from borewright.bench.jobs import Job, Task
from borewright.bench.page import Page, outliving
from borewright.bench.print.coupon_card import CouponCard
from borewright.bench.print.key_fit_card import KeyFitCard
from borewright.bench.print.making import Made, digest, made_before, make
from borewright.bench.print.outlook_card import OutlookCard
from borewright.bench.print.result_card import ResultCard
from borewright.bench.print.wishes import wishes_of
from borewright.bench.print.wishes_card import WishesCard
from borewright.bench.widgets import JobBar, button, heading, term, text
from borewright.bench.widgets.buttons import enable
from borewright.bench.words import _
from borewright.bench.workbench import Change


def build(page: Page) -> None:
    """Fill the page's content."""
    _PrintView(page)


class _PrintView:
    def __init__(self, page: Page) -> None:
        self.page = page
        self._shown = ""
        heading(_("Print"), 1)
        with ui.element("div").classes("bw-stack"):
            with ui.element("section").classes("bw-card"):
                self._wishes = WishesCard(page)
            with ui.element("section").classes("bw-card"):
                heading(_("2. Make"))
                text(
                    _(
                        "Bodies with posts, seats and marks, checks of walls and keywork, "
                        "drawings, and a plan with mass and time. The clarinet takes about a "
                        "minute; the page can be used meanwhile."
                    )
                )
                self._button = button(
                    _("Make everything for the printer"), self._make, primary=True, mark="make"
                )
                self._bar = JobBar(_("Nothing was written."))
            self._result = ui.element("section").classes("bw-card").props('data-mark="result"')
            if page.workbench.keys is not None:
                with ui.element("section").classes("bw-card"):
                    KeyFitCard(page)
            with ui.element("section").classes("bw-card"):
                self._outlook = OutlookCard(page)
            with ui.element("section").classes("bw-card"):
                self._coupon = CouponCard(page)
            with ui.element("section").classes("bw-card"), ui.element("div").classes("bw-row"):
                _terms()
        self._refresh()
        self._bar.resume(page.workbench.jobs, Task.PRINT)
        page.on_change(self._changed)
        page.on_key("m", _("Make everything for the printer"), self._make)

    def _changed(self, change: Change) -> None:
        if change.job is not None:
            if change.job.task not in (Task.KEY_FIT, Task.OUTLOOK):  # which have bars of their own
                self._bar.show(change.job)
        elif change.what == "settings" and change.by is not self.page:
            self._wishes.refresh()  # what is made is what is chosen, wherever it was chosen
        elif change.what in ("files", "instrument"):
            self._wishes.refresh()
            self._outlook.refresh()
            self._coupon.refresh()
            self._refresh()

    def _refresh(self) -> None:
        """Show the last answer; built anew only where it, or what it is of, changed."""
        bench = self.page.workbench
        made = made_before(bench)
        now = digest(bench.path) if bench.path.is_file() else ""
        self._result.set_visibility(made is not None)
        if made is None:
            self._shown = ""
            return
        old = made.of != now
        state = f"{made.of} {made.number} {old} {bench.file}"
        if state == self._shown:
            return
        self._shown = state
        self._result.clear()
        with self._result:
            ResultCard(self.page, made, old)

    @outliving
    async def _make(self) -> None:
        bench = self.page.workbench
        if bench.jobs.running(Task.PRINT):
            return
        file, wishes, words = bench.path, wishes_of(self.page), _.reader
        enable(self._button, False)

        def work(job: Job) -> Made:
            return make(job, bench, file, wishes, words)

        try:
            job = await bench.jobs.run(Task.PRINT, work)
        finally:
            enable(self._button, True)
        if job.error is not None:
            self.page.fail(job.error)
            return
        if job.result is not None:
            self.page.clear_message()
        bench.look()
        bench.tell(Change("files", self.page))


def _terms() -> None:
    term(
        _("coupon"),
        _("A small test print whose measured sizes tell how the printer errs, kind by kind."),
    )
    term(
        _("under size"),
        _("Printed smaller on the diameter by so much, and reamed to the drawing's size."),
    )
    term(
        _("closed"),
        _("The surface has no gap: a slicer can tell inside from outside."),
    )
    term(
        _("fault and notice"),
        _(
            "A fault keeps the part from working, and nothing is made unless you say so; "
            "a notice is worth a look."
        ),
    )
