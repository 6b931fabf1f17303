"""Proof before the print: slices to try keys on, jigs to drill their posts, and what to feel."""

from __future__ import annotations

import shutil

from nicegui import ui

from borewright.bench.folder.placing import put_folder
from borewright.bench.jobs import Job, Task, apart
from borewright.bench.page import Page, outliving
from borewright.bench.print.wishes import wishes_of
from borewright.bench.widgets import JobBar, button, findings_list, heading, table, text
from borewright.bench.widgets.choice import Choice
from borewright.bench.widgets.links import file_link
from borewright.bench.widgets.units import decimal
from borewright.bench.words import _
from borewright.bench.workbench import Change
from borewright.tasks.printing.key_fit import LIST, make_key_fit
from borewright.tasks.printing.key_fit_job import KeyFit

FOLDER = "key-fit"
_ALL = ""


class KeyFitCard:
    """Choose a key, or all of them, and make what it is tried on."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self._key = _ALL
        keys = page.workbench.keys
        heading(_("Try the keys first"))
        text(
            _(
                "Thin slices of the body with seats, posts and stops only, printed in an hour or "
                "two for most keys; jigs that lead the drill into every post's hole; a list of "
                "what to try and feel. They are made for the printer and material chosen above."
            )
        )
        with ui.element("div").classes("bw-row"):
            Choice(
                _("Key to try, with what works it"),
                {_ALL: _("all of them")} | {key: key for key in (keys.keys if keys else [])},
                _ALL,
                self._choose,
                mark="key-fit-key",
            )
            button(_("Make slices and jigs"), self._make, mark="make-key-fit")
        self._bar = JobBar(_("Nothing was written."))
        self._shown = ui.element("div").props('data-mark="key-fit"')
        self._bar.resume(page.workbench.jobs, Task.KEY_FIT)
        page.on_change(self._changed)
        self._show(None)

    def _choose(self, key: str) -> None:
        self._key = key

    def _changed(self, change: Change) -> None:
        if change.job is not None and change.job.task is Task.KEY_FIT:
            self._bar.show(change.job)

    def _show(self, made: KeyFit | None) -> None:
        folder = self.page.workbench.folder.path(FOLDER)
        files = sorted(each.name for each in folder.glob("*")) if folder.is_dir() else []
        self._shown.clear()
        if not files:
            return
        with self._shown:
            if made is not None:
                what = {one.name: " ".join(one.keys) for one in made.blanks}
                what |= {one.name: " ".join(post.post for post in one.posts) for one in made.jigs}
                table(
                    _("What was made, {mass} g and {hours} h together",
                      mass=decimal(made.estimate.mass_g, 0),
                      hours=decimal(made.estimate.hours, 1)),
                    (_("piece"), _("g"), _("hours"), _("keys or posts")),
                    [
                        (
                            one.part,
                            decimal(one.mass_g, 0),
                            decimal(one.hours, 1),
                            what[one.part],
                        )
                        for one in made.estimate.parts
                    ],
                )  # fmt: skip
                if made.findings:
                    findings_list(made.findings)
            with ui.element("ul").classes("bw-files"):
                for name in sorted(files, key=lambda each: each != LIST):
                    with ui.element("li"):
                        file_link(f"{FOLDER}/{name}", name, mark=f"key-fit-{name}")

    @outliving
    async def _make(self) -> None:
        bench = self.page.workbench
        if bench.jobs.running(Task.KEY_FIT):
            return
        file, words, keys = bench.path, _.reader, (self._key,) if self._key else ()
        wishes = wishes_of(self.page).of(bench)
        target, aside = bench.folder.path(FOLDER), bench.folder.keep / "key fitting"

        def work(job: Job) -> KeyFit:
            shutil.rmtree(aside, ignore_errors=True)
            try:
                made = apart(
                    job,
                    make_key_fit,
                    file,
                    aside,
                    keys,
                    printer=wishes.printer,
                    material=wishes.material,
                    words=words,
                )
                put_folder(aside, target, bench.folder.keep / "key fitted before")
            finally:
                shutil.rmtree(aside, ignore_errors=True)
            return made

        job = await bench.jobs.run(Task.KEY_FIT, work)
        if job.error is not None:
            self.page.fail(job.error)
        elif job.result is not None:
            self.page.clear_message()
            self._show(job.result)
        bench.look()
        bench.tell(Change("files", self.page))
