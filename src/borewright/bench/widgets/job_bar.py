"""Progress and cancel of jobs in the background."""

from __future__ import annotations

from nicegui import ui
from nicegui.elements.mixins.text_element import TextElement

from borewright.bench.jobs import Job
from borewright.bench.widgets.buttons import button
from borewright.bench.words import _


class JobBar:
    """A bar for one job at a time; call :meth:`show` at every change of kind "job"."""

    def __init__(self) -> None:
        self._job: Job | None = None
        with ui.element("div").classes("bw-job").props('role="status"') as self._box:
            self._words = TextElement(tag="span", text="")
            self._bar = ui.element("progress").props('max="1" data-mark="progress"')
            self._bar.props["aria-label"] = _("Progress")
            button(_("Cancel"), self._cancel, mark="cancel-job")
        self._box.set_visibility(False)

    def show(self, job: Job) -> None:
        """Show how far a job is; a job that is done goes away."""
        if not job.running:
            if job is self._job or self._job is None:
                self._job = None
                self._box.set_visibility(False)
            return
        self._job = job
        self._words.set_text(f"{job.title}: {job.words}" if job.words else f"{job.title} …")
        if job.share is None:
            self._bar.props.pop("value", None)
        else:
            self._bar.props["value"] = round(job.share, 3)
        self._bar.update()
        self._box.set_visibility(True)

    def _cancel(self) -> None:
        if self._job is not None:
            self._job.cancel()
