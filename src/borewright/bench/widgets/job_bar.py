"""Progress and cancel of jobs in the background."""

from __future__ import annotations

from nicegui import ui
from nicegui.elements.mixins.text_element import TextElement

from borewright.bench.jobs import Job, Jobs, Task
from borewright.bench.widgets.buttons import button, enable
from borewright.bench.words import _


class JobBar:
    """A bar for one job at a time; call :meth:`show` at every change of kind "job".

    ``nothing`` is what stands there after a job that was cancelled before it had an outcome,
    behind its title: that nothing was written, say.
    """

    def __init__(self, nothing: str = "") -> None:
        self._job: Job | None = None
        self._nothing = nothing
        with ui.element("div").classes("bw-job").props('role="status"') as self._box:
            self._words = TextElement(tag="span", text="").props('data-mark="job-words"')
            self._bar = ui.element("progress").props('max="1" data-mark="progress"')
            self._bar.props["aria-label"] = _("Progress")
            self._button = button(_("Cancel"), self._cancel, mark="cancel-job")
        self._box.set_visibility(False)

    def resume(self, jobs: Jobs, *tasks: Task) -> None:
        """Show a job of these tasks that is under way: the page may have been told anew."""
        for task in tasks:
            for job in jobs.running(task):
                self.show(job)

    def show(self, job: Job) -> None:
        """Show how far a job is; a job that is done goes away, a cancelled one is told."""
        title = _.tell(job.title)
        if not job.running:
            if job is self._job or self._job is None:
                told = job is self._job and job.cancelled and job.result is None
                self._job = None
                self._words.set_text(_("{job}: cancelled. {nothing}", job=title,
                                       nothing=self._nothing).strip())  # fmt: skip
                self._moving(False)
                self._box.set_visibility(told and job.error is None)
            return
        self._job = job
        if job.cancelled:
            words = _("{job}: it stops at its next step …", job=title)
        else:
            state = _.tell(job.words)
            words = f"{title}: {state}" if state else f"{title} …"
        self._words.set_text(words)
        self._moving(True)
        enable(self._button, not job.cancelled)
        if job.share is None:
            self._bar.props.pop("value", None)
        else:
            self._bar.props["value"] = round(job.share, 3)
        self._bar.update()
        self._box.set_visibility(True)

    def _moving(self, wanted: bool) -> None:
        self._bar.set_visibility(wanted)
        self._button.set_visibility(wanted)

    def _cancel(self) -> None:
        if self._job is not None:
            self._job.cancel()
            self.show(self._job)
