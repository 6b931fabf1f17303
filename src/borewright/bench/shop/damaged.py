"""A damaged ledger on the page: what can still be read is gathered, the damaged file kept."""

from __future__ import annotations

from pathlib import Path

from nicegui import ui

from borewright.bench.jobs import Task
from borewright.bench.page import Page, outliving
from borewright.bench.shop.book import forget, ledger_path
from borewright.bench.widgets import button, text
from borewright.bench.words import _
from borewright.bench.workbench import Change

_ENDINGS = ("", "-wal", "-shm")


class DamagedCard:
    """One button, and afterwards what is lost."""

    def __init__(self, page: Page) -> None:
        self.page = page
        text(
            _(
                "Restore the newest backup, or gather what can still be read: the damaged file is "
                "kept under another name, and a new ledger stands in its place."
            )
        )
        with ui.element("div").classes("bw-row"):
            button(_("Gather what can be read"), self._gather, mark="gather", primary=True)
        self._said = ui.element("div").props('role="status" data-mark="gathered"')

    @outliving
    async def _gather(self) -> None:
        path = ledger_path(self.page.workbench)
        if path is None:
            return
        who = self.page.selected.get("who", "").strip() or _("bench")
        job = await self.page.workbench.jobs.run(Task.GATHER, lambda _job: gathered(path, who))
        if job.error is not None:
            self.page.fail(job.error)
            return
        found, kept = job.result
        forget()
        self._said.clear()
        with self._said:
            text(
                _(
                    "{records} records are gathered. The damaged file is kept as {name}.",
                    records=found.records,
                    name=kept.name,
                )
            )
            for line in found.lost[:50]:
                text(_.tell(line))
            button(_("Go on with the gathered ledger"), self._go_on, mark="go-on")
        self.page.workbench.look()

    def _go_on(self) -> None:
        self.page.workbench.tell(Change("files", self.page))
        with self.page.client.content:
            self.page.show("shop")


def gathered(path: Path, who: str):  # type: ignore[no-untyped-def]
    """Gather a damaged ledger and put the new one in its place; both, and the kept file."""
    from borewright.ledger.gathering import gather

    number, kept = 1, path.with_name(f"{path.name}.damaged")
    while kept.exists():
        number += 1
        kept = path.with_name(f"{path.name}.damaged-{number}")
    made = path.with_name(f".{path.name}.gathering")
    for ending in _ENDINGS:
        made.with_name(made.name + ending).unlink(missing_ok=True)
    found = gather(path, made, who=who)
    for ending in _ENDINGS:
        old = path.with_name(path.name + ending)
        if old.exists():
            old.rename(kept.with_name(kept.name + ending))
    for ending in _ENDINGS[1:]:
        made.with_name(made.name + ending).unlink(missing_ok=True)
    made.rename(path)
    return found, kept
