"""The command that prints the workshop's papers from the records."""

from __future__ import annotations

from datetime import datetime
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from borewright.doors.answering import Answering, answer
from borewright.doors.arguments import AsJson
from borewright.doors.ledger.options import (
    DEFAULT_PLACE,
    LedgerPlace,
    Sensitivity,
    opened,
    read_sensitivities,
)
from borewright.doors.ledger.plan_paper import PlanHours
from borewright.errors import LedgerError

if TYPE_CHECKING:
    from borewright.documents import Paper, ReportFiles
    from borewright.ledger import Ledger


class PaperKind(StrEnum):
    """What can be printed, and of what."""

    TRAVELLER = "traveller"
    CERTIFICATE = "certificate"
    CARE = "care"
    QUOTATION = "quotation"
    KEYWORK_ORDER = "keywork-order"
    BATCH = "batch"
    PLAN = "plan"
    SET_UP = "set-up"


def register(app: typer.Typer) -> None:
    """Put this command on the ledger's command line."""
    app.command("print", cls=Answering)(print_paper)


def print_paper(
    kind: Annotated[PaperKind, typer.Argument(metavar="PAPER", help="Which paper.")],
    code: Annotated[
        str,
        typer.Argument(
            metavar="CODE",
            help="Serial number; order; quote for keywork-order; batch for batch and plan; sample.",
        ),
    ],
    output: Annotated[Path, typer.Option(metavar="DIR", help="Folder for PDF and HTML.")],
    design: Annotated[str | None, typer.Option(help="For set-up: the design.")] = None,
    quantity: Annotated[
        int | None, typer.Option(min=1, help="For keywork-order: how many sets.")
    ] = None,
    tolerance: Annotated[
        float, typer.Option(min=0.01, help="For keywork-order: allowed to both sides, in mm.")
    ] = 0.1,
    from_day: Annotated[
        datetime | None,
        typer.Option("--from", formats=["%Y-%m-%d"], help="For plan: the first day."),
    ] = None,
    opens: Annotated[int, typer.Option(help="For plan: prints start from this hour on.")] = 8,
    closes: Annotated[int, typer.Option(help="For plan: none starts from this hour on.")] = 18,
    weekends: Annotated[
        bool, typer.Option("--free-weekends", help="For plan: nothing starts on weekends.")
    ] = False,
    sensitivity: Sensitivity = None,
    ledger: LedgerPlace = DEFAULT_PLACE,
    as_json: AsJson = False,
) -> None:
    """Print a paper of the workshop: a traveller, certificate, order, plan and so on."""
    files = write_ledger_paper(
        opened(ledger), kind, code, output,
        design=design, quantity=quantity, tolerance=tolerance, sensitivity=sensitivity,
        hours=PlanHours(from_day.date() if from_day else None, opens, closes, weekends),
    )  # fmt: skip
    data = {"pdf": str(files.pdf), "html": str(files.html)}
    answer(data, lambda: [str(files.pdf), str(files.html)], as_json)


def write_ledger_paper(
    book: Ledger,
    kind: PaperKind,
    code: str,
    output: Path,
    *,
    design: str | None = None,
    quantity: int | None = None,
    tolerance: float = 0.1,
    sensitivity: Path | None = None,
    hours: PlanHours | None = None,
) -> ReportFiles:
    """Write a paper as PDF and HTML into a folder; LedgerError where something is missing."""
    from borewright.documents import write_paper
    from borewright.doors.ledger import buying_papers, instrument_papers
    from borewright.doors.ledger.plan_paper import plan_paper

    paper: Paper
    head = instrument_papers.letterhead(book)
    match kind:
        case PaperKind.TRAVELLER:
            paper = instrument_papers.traveller(book, code)
        case PaperKind.CERTIFICATE:
            paper = instrument_papers.certificate(book, code)
        case PaperKind.CARE:
            paper = instrument_papers.care_sheet(book, code)
        case PaperKind.QUOTATION:
            paper = buying_papers.quotation(book, code)
        case PaperKind.BATCH:
            paper = instrument_papers.batch_report(book, code)
        case PaperKind.PLAN:
            paper = plan_paper(book, code, hours or PlanHours())
        case PaperKind.KEYWORK_ORDER:
            if quantity is None:
                raise LedgerError("--quantity is missing", place="print keywork-order")
            paper = buying_papers.keywork_order(book, code, quantity, tolerance)
        case PaperKind.SET_UP:
            if design is None:
                raise LedgerError("--design is missing", place="print set-up")
            known = None if sensitivity is None else read_sensitivities(sensitivity)
            paper = buying_papers.set_up_card(book, code, design, known)
    return write_paper(output, paper, head)
