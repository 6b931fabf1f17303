"""The whole ledger: a backup to put away, its tables for a spreadsheet, and whether it is whole."""

from __future__ import annotations

import io
import tempfile
import zipfile
from datetime import datetime
from pathlib import Path

from nicegui import ui

from borewright.bench.jobs import Task
from borewright.bench.page import Page, outliving
from borewright.bench.rights import Right, require
from borewright.bench.shop.book import opened
from borewright.bench.shop.damaged import DamagedCard
from borewright.bench.widgets import button, heading, text
from borewright.bench.words import _
from borewright.errors import BorewrightError


class WholeCard:
    """Three buttons; backup and tables are handed to the browser, nothing stays in the folder."""

    def __init__(self, page: Page) -> None:
        self.page = page
        heading(_("The ledger as a whole"))
        text(
            _(
                "Put a backup away after every day's work, on another machine. "
                "'borewright ledger restore' brings it back, all of it or nothing."
            )
        )
        with ui.element("div").classes("bw-row"):
            button(_("Save a backup"), self._back_up, mark="backup")
            button(_("Tables for a spreadsheet"), self._tables, mark="export")
            button(_("Is it whole?"), self._verify, mark="verify")
        self._said = ui.element("div").props('role="status" data-mark="whole-said"')

    def _say(self, *lines: str) -> None:
        self._said.clear()
        with self._said:
            for line in lines:
                text(line)

    @outliving
    async def _back_up(self) -> None:
        from borewright.ledger import back_up

        book = opened(self.page.workbench)

        def made() -> tuple[bytes, int]:
            with tempfile.TemporaryDirectory() as scratch:
                path = Path(scratch) / "ledger.backup"
                summary = back_up(book, path)
                return path.read_bytes(), summary.rows.get("history", 0)

        job = await self.page.workbench.jobs.run(Task.BACKUP, lambda _job: made())
        if job.error is not None:
            self.page.fail(job.error)
        elif job.result is not None:
            data, entries = job.result
            ui.download.content(data, f"ledger {datetime.now():%Y-%m-%d %H%M}.backup")
            self._say(_("The backup holds {count} entries, and was read back.", count=entries))

    def _tables(self) -> None:
        from borewright.ledger import RECORD_KINDS, csv_text

        try:
            require(Right.OWN)
        except BorewrightError as error:
            self.page.fail(error)
            return
        book, stream = opened(self.page.workbench), io.BytesIO()
        with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as archive:
            for name in RECORD_KINDS:
                rows = book.records(name, withdrawn=True)
                archive.writestr(f"{name}.csv", csv_text(name, rows))
        ui.download.content(stream.getvalue(), "ledger-tables.zip")
        self._say(_("Every table is a CSV file in it; 'borewright ledger add --csv' reads them."))

    def _verify(self) -> None:
        from borewright.ledger import verify

        wrong = verify(opened(self.page.workbench))
        self._say(*([_.tell(each) for each in wrong] or [_("The ledger is whole.")]))
        if wrong:
            with self._said:
                DamagedCard(self.page)
