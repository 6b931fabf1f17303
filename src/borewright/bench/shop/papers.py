"""Papers of the workshop's records: made here, downloaded here."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from nicegui import ui

from borewright.bench.jobs import Job, Task
from borewright.bench.page import Page, outliving
from borewright.bench.shop.book import opened, worker
from borewright.bench.shop.paper_wishes import WishesForm
from borewright.bench.widgets import Choice, button, heading, text
from borewright.bench.widgets.links import file_link
from borewright.bench.words import _
from borewright.bench.workbench import Change
from borewright.errors import BorewrightError
from borewright.tasks.ledger.papers import PaperKind, PaperWishes, write_ledger_paper
from borewright.words import Reader

if TYPE_CHECKING:
    from borewright.documents import ReportFiles
    from borewright.ledger import Ledger

FOLDER = "papers"
#: Which records a paper is made of.
OF = {
    PaperKind.TRAVELLER: "instrument",
    PaperKind.CERTIFICATE: "instrument",
    PaperKind.CARE: "instrument",
    PaperKind.QUOTATION: "order",
    PaperKind.KEYWORK_ORDER: "quote",
    PaperKind.SET_UP: "sample",
    PaperKind.PLAN: "batch",
    PaperKind.BATCH: "batch",
}


def paper_words() -> dict[PaperKind, str]:
    """What each paper is called."""
    return {
        PaperKind.TRAVELLER: _("job traveller"),
        PaperKind.CERTIFICATE: _("certificate"),
        PaperKind.CARE: _("care sheet"),
        PaperKind.QUOTATION: _("quotation"),
        PaperKind.KEYWORK_ORDER: _("keywork order, from a quote"),
        PaperKind.SET_UP: _("set-up card of a keywork set"),
        PaperKind.PLAN: _("batch plan, for the printers"),
        PaperKind.BATCH: _("batch report"),
    }


def papers_of(page: Page, kind: str, code: str) -> None:
    """Go to the papers and offer those of a record."""
    first = next(paper for paper, of in OF.items() if of == kind)
    page.select(paper=first.value, paper_of=code)
    page.client.run_javascript(
        "setTimeout(() => { const e = document.querySelector('[data-mark=paper]');"
        " e?.scrollIntoView({block: 'center'}); e?.focus({preventScroll: true}); }, 150)"
    )


class PapersCard:
    """Choose a paper and what it is of; the files are linked beneath."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self._kind, self._code = PaperKind.TRAVELLER, ""
        self._asked = ("", "")
        words = paper_words()
        heading(_("Papers"))
        with ui.element("div").classes("bw-row"):
            self._paper = Choice(
                _("Paper"), {kind.value: words[kind] for kind in words}, self._kind.value,
                self._set_kind, mark="paper",
            )  # fmt: skip
            self._of = Choice(_("Of"), {}, "", self._set_code, mark="paper-of")
        self._wishes = WishesForm(page)
        with ui.element("div").classes("bw-row"):
            button(_("Make the paper"), self._make, primary=True, mark="make-paper")
        self._none = text(_("There is nothing in the ledger yet that it could be made of."))
        self._files = ui.element("div").props('data-mark="papers"')
        self._new = ""
        self.refresh()
        self.selected()

    def _set_kind(self, value: str) -> None:
        self._kind = PaperKind(value)
        self.refresh()

    def _set_code(self, value: str) -> None:
        self._code = value
        self._wishes.ask(self._kind, value)

    def selected(self) -> None:
        """Offer the paper that the address names."""
        wanted = self.page.selected.get("paper", ""), self.page.selected.get("paper_of", "")
        if wanted == self._asked or wanted[0] not in set(PaperKind):
            return
        self._asked = wanted
        self._kind, self._code = PaperKind(wanted[0]), wanted[1]
        self._paper.set(self._kind.value)
        self.refresh()

    def refresh(self) -> None:
        """Offer the records there are, and link the papers made."""
        bench = self.page.workbench
        codes = [str(each["code"]) for each in opened(bench).records(OF[self._kind])]
        wanted = self.page.selected.get("serial", "")
        if self._code not in codes:
            self._code = wanted if wanted in codes else next(iter(codes), "")
        self._of.set(self._code, {code: code for code in codes})
        self._none.set_visibility(not codes)
        self._wishes.ask(self._kind, self._code)
        self._files.clear()
        names = [each.name for each in bench.files() if each.name.startswith(f"{FOLDER}/")]
        with self._files:
            if not names:
                text(_("No paper was made yet."), small=True)
                return
            with ui.element("ul").classes("bw-files"):
                for name in sorted(names, key=lambda name: Path(name).stem != self._new):
                    with ui.element("li"):
                        file_link(name, name.removeprefix(f"{FOLDER}/"))
                        if Path(name).stem == self._new:
                            text(" " + _("(just made)"), tag="span")

    @outliving
    async def _make(self) -> None:
        bench = self.page.workbench
        if not self._code or not self._wishes.check():
            return
        book, kind, code, wishes = opened(bench), self._kind, self._code, self._wishes.given()
        who = ""
        if kind is PaperKind.CERTIFICATE:  # put on record, under the name of who issues it
            try:
                who = worker(self.page)
            except BorewrightError as error:
                self.page.fail(error)
                return
        folder, words = bench.folder.path(FOLDER), _.reader
        instrument = bench.path if self._wishes.wants_cents else None
        job = await bench.jobs.run(
            Task.PAPER,
            lambda job: _written(job, book, kind, code, folder, who, words, wishes, instrument),
        )
        if job.error is not None:
            self.page.fail(job.error)
            return
        if job.result is None:
            return  # cancelled
        self.page.clear_message()
        self._new = job.result.pdf.stem
        bench.look()
        bench.tell(Change("files", self.page))


def _written(
    job: Job, book: Ledger, kind: PaperKind, code: str, folder: Path, who: str, words: Reader,
    wishes: PaperWishes, instrument: Path | None,
) -> ReportFiles:  # fmt: skip
    if instrument is not None:
        from borewright.tasks.selecting import only_note

        found = only_note(instrument, None, None, progress=job.tell, cancel=job.wish)
        wishes = replace(wishes, sensitivity=found)
    return write_ledger_paper(book, kind, code, folder, who=who, words=words, wishes=wishes)
