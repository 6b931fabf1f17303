"""Before a batch: how many will do as they come, what spoils the others, what pays."""

from __future__ import annotations

import hashlib
import shutil
from dataclasses import dataclass, replace
from decimal import Decimal
from pathlib import Path
from urllib.parse import quote

from nicegui import ui

from borewright.bench.folder.placing import put_folder
from borewright.bench.jobs import Job, Task, apart
from borewright.bench.page import Page, outliving
from borewright.bench.print.wishes import wishes_of
from borewright.bench.shop.book import ledger_path, opened
from borewright.bench.widgets import JobBar, NumberField, button, heading, table, text
from borewright.bench.widgets.choice import Choice
from borewright.bench.widgets.links import file_link
from borewright.bench.words import _
from borewright.bench.workbench import Change, Workbench
from borewright.errors import BorewrightError
from borewright.tasks.studies.answers import YieldAnswer, YieldWishes
from borewright.tasks.studies.tables import tables
from borewright.tasks.studies.telling import sentences, small_print
from borewright.tasks.studies.yields import yield_file
from borewright.words import Reader

FOLDER = "outlook"


@dataclass(frozen=True)
class _Asked:
    """What stands in the card's fields; 0 mm is no other nozzle."""

    instruments: int = 12
    within_cents: float = 8.0
    against_design: bool = False
    nozzle_mm: float = 0.0
    nozzle_price: float = 0.0
    batch: str = ""


class OutlookCard:
    """Ask for a batch's outlook, and show the answer as sentences, charts and tables."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self._asked = _Asked()
        now = self._asked
        heading(_("Before a batch"))
        text(
            _(
                "Thousands of virtual instruments are built that scatter as this printer and its "
                "measured coupon say: how many will be in tune as they come, which dimensions "
                "spoil the others, and whether a finer nozzle is worth its money."
            )
        )
        with ui.element("div").classes("bw-row"):
            NumberField(
                _("Instruments"), now.instruments, lambda v: self._set(instruments=round(v)),
                decimals=0, low=1, high=1000, mark="outlook-instruments",
            )  # fmt: skip
            NumberField(
                _("No note further off than"), now.within_cents,
                lambda v: self._set(within_cents=v), unit=_("cents"), decimals=1, low=0.5,
                high=15, mark="outlook-within",
            )  # fmt: skip
            Choice(
                _("Counted from"),
                {"no": _("the pitch standard"), "yes": _("the design's own pitches")}, "no",
                lambda v: self._set(against_design=v == "yes"), mark="outlook-against",
            )  # fmt: skip
            NumberField(
                _("Another nozzle"), now.nozzle_mm, lambda v: self._set(nozzle_mm=v), unit="mm",
                low=0, high=1.2, help=_("0 for none."), mark="outlook-nozzle",
            )  # fmt: skip
            NumberField(
                _("It costs"), now.nozzle_price, lambda v: self._set(nozzle_price=v), low=0,
                high=100_000, mark="outlook-price",
            )  # fmt: skip
            self._batch = Choice(
                _("Prices of the batch"), {}, "", lambda v: self._set(batch=v),
                help=_("From the shop's ledger; without it nothing is said of money."),
                mark="outlook-batch",
            )  # fmt: skip
            self._button = button(_("Foretell the batch"), self._foretell, mark="foretell")
        self._bar = JobBar(_("What was built so far is kept."))
        self._shown = ui.element("div").props('data-mark="outlook" role="status"')
        self._bar.resume(page.workbench.jobs, Task.OUTLOOK)
        page.on_change(self._changed)
        self.refresh()

    def _set(self, **changes: object) -> None:
        self._asked = replace(self._asked, **changes)  # type: ignore[arg-type]

    def refresh(self) -> None:
        """Offer the batches that the ledger has now."""
        batches: list[str] = []
        if ledger_path(self.page.workbench) is not None:
            try:
                records = opened(self.page.workbench).records("batch")
                batches = [str(each["code"]) for each in records]
            except BorewrightError:
                pass  # the Shop view tells what is wrong with the ledger
        if self._asked.batch not in batches:
            self._set(batch="")
        self._batch.set(self._asked.batch, {"": _("none")} | {each: each for each in batches})

    def _changed(self, change: Change) -> None:
        if change.job is not None and change.job.task is Task.OUTLOOK:
            self._bar.show(change.job)
        elif change.what == "ledger":
            self.refresh()

    def _wishes(self) -> YieldWishes:
        bench, asked = self.page.workbench, self._asked
        chosen = wishes_of(self.page)
        return YieldWishes(
            within_cents=asked.within_cents,
            against_design=asked.against_design,
            instruments=asked.instruments,
            printer=chosen.of(bench).printer,
            measured=tuple(chosen.sheets(bench)),
            nozzle_mm=asked.nozzle_mm or None,
            nozzle_price=Decimal(str(asked.nozzle_price)),
        )

    @outliving
    async def _foretell(self) -> None:
        bench = self.page.workbench
        if bench.jobs.running(Task.OUTLOOK):
            return
        file, wishes, words, batch = bench.path, self._wishes(), _.reader, self._asked.batch

        def work(job: Job) -> YieldAnswer:
            return _answer(job, bench, file, wishes, batch, words)

        job = await bench.jobs.run(Task.OUTLOOK, work)
        if job.error is not None:
            self.page.fail(job.error)
        elif job.result is not None:
            self.page.clear_message()
            self._show(job.result)
        bench.look()
        bench.tell(Change("files", self.page))

    def _show(self, found: YieldAnswer) -> None:
        self._shown.clear()
        told = [_.tell(each) for each in sentences(found)]
        with self._shown:
            text(told[0], tag="strong").props('data-mark="outlook-head"')
            with ui.element("ul"):
                for each in told[1:]:
                    text(each, tag="li")
            for name, alt in (
                ("yield-curve.svg", _("Yield over the tolerance")),
                ("culprits.svg", _("What spoils it")),
            ):
                picture = ui.element("img").classes("bw-picture")
                address = f"/files/{quote(FOLDER)}/{name}?{found.result.digest[:12]}"
                picture.props["src"], picture.props["alt"] = address, f"{alt}: {told[0]}"
            for one in tables(found, _.reader, kinds=False):
                heads = [_.tell(head) for head in one.headings]
                table(_.tell(one.caption), heads, one.rows, right=1)
            for said in small_print(found):
                text(_.tell(said), small=True)
            file_link(f"{FOLDER}/yield.pdf", _("Two pages to pin up (PDF)"), mark="outlook-pdf")


def _answer(
    job: Job, bench: Workbench, file: Path, wishes: YieldWishes, batch: str, words: Reader
) -> YieldAnswer:
    """Run the study apart; builds are kept, so that one that was cancelled goes on."""
    target, aside = bench.folder.path(FOLDER), bench.folder.keep / "foretelling"
    ledger = ledger_path(bench)
    shutil.rmtree(aside, ignore_errors=True)
    try:
        found = apart(
            job, yield_file, file, wishes,
            ledger=str(ledger) if ledger and batch else None, batch=batch or None,
            keep=_kept(bench, file, wishes), output=aside, words=words,
        )  # fmt: skip
        put_folder(aside, target, bench.folder.keep / "foretold before")
    finally:
        shutil.rmtree(aside, ignore_errors=True)
    return found


def _kept(bench: Workbench, file: Path, wishes: YieldWishes) -> Path:
    """Where builds are kept; those of another question go, they are made again in a minute."""
    builds = bench.folder.keep / "builds"
    sheets = [each.read_bytes() for each in wishes.measured]
    asked = [file.read_bytes(), wishes.printer.encode(), *sheets]
    if wishes.printer.lower().endswith(".toml"):
        asked.append(Path(wishes.printer).read_bytes())
    asked += [each.read_bytes() for each in sorted(file.parent.glob("*.csv"))]
    own = builds / hashlib.sha256(b"\0".join(asked)).hexdigest()[:16]
    for other in builds.glob("*"):
        if other != own:
            shutil.rmtree(other, ignore_errors=True)
    return own
