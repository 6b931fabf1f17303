"""Papers of an instrument, an order or a batch: made here, downloaded here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nicegui import ui

from borewright.bench.page import Page
from borewright.bench.shop.book import opened
from borewright.bench.widgets import Choice, button, heading, text
from borewright.bench.widgets.links import file_link
from borewright.bench.words import _
from borewright.bench.workbench import Change
from borewright.doors.ledger.papers import PaperKind, write_ledger_paper

if TYPE_CHECKING:
    from pathlib import Path

    from borewright.ledger import Ledger

FOLDER = "papers"
#: Which records a paper is made of.
_OF = {
    PaperKind.TRAVELLER: "instrument",
    PaperKind.CERTIFICATE: "instrument",
    PaperKind.CARE: "instrument",
    PaperKind.QUOTATION: "order",
    PaperKind.BATCH: "batch",
}


class PapersCard:
    """Choose a paper and what it is of; the files are linked beneath."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self._kind = PaperKind.TRAVELLER
        self._code = ""
        words = {
            PaperKind.TRAVELLER: _("job traveller"),
            PaperKind.CERTIFICATE: _("certificate"),
            PaperKind.CARE: _("care sheet"),
            PaperKind.QUOTATION: _("quotation"),
            PaperKind.BATCH: _("batch report"),
        }
        heading(_("Papers"))
        with ui.element("div").classes("bw-row"):
            Choice(
                _("Paper"), {kind.value: words[kind] for kind in words}, self._kind.value,
                self._set_kind, mark="paper",
            )  # fmt: skip
            self._of = Choice(_("Of"), {}, "", self._set_code, mark="paper-of")
            button(_("Make the paper"), self._make, mark="make-paper")
        self._files = ui.element("div").props('data-mark="papers"')
        self.refresh()

    def _set_kind(self, value: str) -> None:
        self._kind = PaperKind(value)
        self.refresh()

    def _set_code(self, value: str) -> None:
        self._code = value

    def refresh(self) -> None:
        """Offer the records there are, and link the papers made."""
        bench = self.page.workbench
        codes = [str(each["code"]) for each in opened(bench).records(_OF[self._kind])]
        wanted = self.page.selected.get("serial", "")
        if self._code not in codes:
            self._code = wanted if wanted in codes else next(iter(codes), "")
        self._of.set(self._code, {code: code for code in codes})
        self._files.clear()
        names = [each.name for each in bench.files() if each.name.startswith(f"{FOLDER}/")]
        with self._files:
            if not names:
                text(_("No paper was made yet."), small=True)
                return
            with ui.element("ul"):
                for name in names:
                    with ui.element("li"):
                        file_link(name, name.removeprefix(f"{FOLDER}/"))

    async def _make(self) -> None:
        bench = self.page.workbench
        if not self._code:
            return
        book, kind, code = opened(bench), self._kind, self._code
        folder = bench.folder.path(FOLDER)
        job = await bench.jobs.run(
            _("Making the paper"), lambda job: _written(book, kind, code, folder)
        )
        if job.error is not None:
            self.page.fail(job.error)
            return
        self.page.clear_message()
        bench.look()
        bench.tell(Change("files", self.page))


def _written(book: Ledger, kind: PaperKind, code: str, folder: Path) -> bool:
    write_ledger_paper(book, kind, code, folder)
    return True
