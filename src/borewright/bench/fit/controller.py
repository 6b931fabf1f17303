"""What happens in the Fit view: ticking, running, taking."""

from __future__ import annotations

import tempfile
from pathlib import Path
from typing import Any

from nicegui import background_tasks, ui
from nicegui.element import Element

from borewright.bench.design.elements import Pitches
from borewright.bench.design.pitch_data import pitch_data
from borewright.bench.fit.elements import Course, Grid, Moves
from borewright.bench.fit.proposal import Proposal
from borewright.bench.fit.wishes import free_cells, wishes_from
from borewright.bench.jobs import Job, Task
from borewright.bench.page import Page, outliving
from borewright.bench.widgets import JobBar, button, findings_list, heading, text
from borewright.bench.widgets.units import decimal
from borewright.bench.words import _
from borewright.bench.workbench import Change
from borewright.errors import BorewrightError
from borewright.model import OutOfReach, TuningTable
from borewright.tasks.fitting import FileFit, fit_file
from borewright.words import Message, Said, say

_KEY = "fit"


class FitController:
    """Keeps the view in step with the run and with what is taken of it."""

    def __init__(
        self, page: Page, *, bar: JobBar, course: Course, outcome: Element, grid: Grid
    ) -> None:
        self.page, self.bench = page, page.workbench
        self.bar, self.course, self.outcome, self.grid = bar, course, outcome, grid
        self._pitches: Pitches | None = None
        self._summary: Any = None
        page.on_change(self._changed)
        grid.hear("set", self._ticked)
        bar.resume(self.bench.jobs, Task.FIT)

    @property
    def proposal(self) -> Proposal | None:
        """The fit that waits to be taken, where it belongs to the file on the bench."""
        found = self.bench.kept.get(_KEY)
        return found if found is not None and found.file == self.bench.file else None

    def _changed(self, change: Change) -> None:
        if change.job is not None and change.job.task is Task.FIT:
            self.bar.show(change.job)
            self.course.give(points=list(self.bench.kept.get("course", [])))
        elif change.what == "fit":
            self.show()
        elif change.what == "instrument" and self.bench.instrument is not None:
            self.grid.give(free=sorted(free_cells(self.bench.instrument)))

    def _ticked(self, told: dict[str, Any]) -> None:
        instrument = self.bench.instrument
        if instrument is None:
            return
        cells = {str(cell) for cell in told["cells"]}
        free = free_cells(instrument)
        free = free | cells if told["on"] else free - cells
        wishes = wishes_from(instrument, free)
        named = ", ".join(sorted(cells)[:2])
        what = say("free {cells}", cells=named) if told["on"] else say("fix {cells}", cells=named)
        new = instrument.model_copy(update={"fit": wishes})
        self.page.save(lambda: self.bench.edit(new, what, self.page))
        self.grid.give(free=sorted(free_cells(self.bench.instrument or instrument)))

    # Running -----------------------------------------------------------------------------------

    @outliving
    async def run(self) -> None:
        """Run the fit in the background."""
        bench, start, table = self.bench, self.bench.instrument, self.bench.fingerings
        if start is None or bench.jobs.running(Task.FIT):
            return
        if table is None:
            self.page.tell(_("No fingering table: name one in the file to see pitches."))
            return
        file, path = bench.file, bench.path
        points: list[tuple[int, float, float]] = []
        bench.kept["course"] = points

        def work(job: Job) -> FileFit:
            def progress(share: float | None, said: Said) -> None:
                values = dict(said.values) if isinstance(said, Message) else {}
                if "rms_cents" in values:  # a round; what else is told is no point of the course
                    points.append((values["number"], values["rms_cents"], values["worst_cents"]))
                job.tell(share, said)

            with tempfile.TemporaryDirectory(dir=bench.folder.keep) as aside:
                fitted = Path(aside) / path.name
                return fit_file(path, fitted, progress=progress, cancel=job.wish)

        job = await bench.jobs.run(Task.FIT, work)
        if job.error is not None:
            self.page.fail(job.error)
        elif job.result is not None:
            made = job.result
            bench.kept[_KEY] = Proposal(file, made.before, made.after, made.result)
            bench.tell(Change("fit", self.page))

    # Showing the outcome -----------------------------------------------------------------------

    def show(self) -> None:
        """Show the proposal, if there is one."""
        proposal, instrument = self.proposal, self.bench.instrument
        self.course.give(points=list(self.bench.kept.get("course", [])) if proposal else [])
        self.outcome.clear()
        if proposal is None or instrument is None:
            return
        result = proposal.result
        with self.outcome:
            heading(_("What it proposes"))
            if not result.finished:
                text(_("Cancelled in round {number}. Nothing was changed: this is the best so "
                       "far, to take or to leave.", number=result.rounds)
                     ).props('role="status" data-mark="fit-cancelled"')  # fmt: skip
            self._summary = text("").props('data-mark="fit-summary"')
            self._pitches = Pitches(pitch_data(result.after, instrument.fit, before=result.before))
            text(_("Rings: before. Filled: with what is ticked below."), small=True)
            with ui.element("div").classes("bw-row"):
                button(_("Take all"), self.take_all, primary=True, mark="take-all")
                button(_("Take what is ticked"), self.take_ticked, mark="take-ticked")
                button(_("Leave it"), self.leave, mark="leave-fit")
            moves = Moves(proposal.rows(self.page.units), sorted(proposal.left))
            moves.hear("take", self._take_or_leave)
            _out_of_reach(result.out_of_reach)
            if result.findings:
                heading(_("What the checks say"), 3)
                findings_list(result.findings)
        self._summarise(result.after)
        if proposal.left:
            background_tasks.create(self._preview(), name="pitches as ticked")

    def _summarise(self, after: TuningTable) -> None:
        proposal = self.proposal
        if proposal is None or self._summary is None:
            return
        before = proposal.result.before.summary
        self._summary.set_text(
            _(
                "Standard fingerings before: mean {rms}, worst {worst} cents at {note}. "
                "Then: mean {rms2}, worst {worst2} cents at {note2}. "
                "The course above counts alternates too.",
                rms=decimal(before.rms_cents, 1),
                worst=_.number(before.worst_cents, "+.1f"),
                note=before.worst_note,
                rms2=decimal(after.summary.rms_cents, 1),
                worst2=_.number(after.summary.worst_cents, "+.1f"),
                note2=after.summary.worst_note,
            )
        )

    def _take_or_leave(self, told: dict[str, Any]) -> None:
        proposal = self.proposal
        if proposal is None:
            return
        owner = str(told["owner"])
        if told["on"]:
            proposal.left.discard(owner)
        else:
            proposal.left.add(owner)
        background_tasks.create(self._preview(), name="pitches as ticked")

    @outliving
    async def _preview(self) -> None:
        """Pitches with only what is ticked."""
        from borewright.acoustics import tuning

        proposal, present = self.proposal, self.bench.instrument
        table = self.bench.fingerings
        if proposal is None or present is None or table is None or self._pitches is None:
            return
        try:
            after = await self.bench.kernel(tuning, proposal.taken(present), table)
        except BorewrightError as error:
            self.page.fail(error)
            return
        before = proposal.result.before
        self._pitches.give(data=pitch_data(after, present.fit, before=before))
        self._summarise(after)

    # Taking ------------------------------------------------------------------------------------

    def take_all(self) -> None:
        """Save everything the fit proposes."""
        if self.proposal is not None:
            self.proposal.left.clear()
            self.take_ticked()

    def take_ticked(self) -> None:
        """Save what is ticked, as one step."""
        proposal, present = self.proposal, self.bench.instrument
        if proposal is None or present is None:
            return
        left = ", ".join(sorted(proposal.left))
        what = say("fit without {left}", left=left) if left else say("fit")
        if self.page.save(lambda: self.bench.edit(proposal.taken(present), what, self.page)):
            self.page.tell(_("Taken and saved. Undo brings the old dimensions back."))
            self.leave()

    def leave(self) -> None:
        """Forget the proposal."""
        self.bench.kept.pop(_KEY, None)
        self.bench.tell(Change("fit", self.page))


def _out_of_reach(notes: list[OutOfReach]) -> None:
    if not notes:
        text(_("Every note is within its tolerance."))
        return
    heading(_("Out of reach, and why"), 3)
    with ui.element("ul").classes("bw-findings"):
        for note in notes:
            with ui.element("li"):
                text(f"{note.fingering} {_.number(note.cents, '+.1f')}", tag="strong")
                told = [f"(±{_.number(note.tolerance_cents, 'g')}). {_.tell(note.advice)}"]
                told += [
                    _(
                        "{change}: {cents} cents.",
                        change=_.tell(each.change or each.limit),
                        cents=_.number(each.cents_after, "+.1f"),
                    )
                    for each in note.relaxations
                ]
                text(" ".join(told), tag="span")
