"""The command that prints the workshop's papers from the records."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import Annotated

import typer

from borewright.doors.answering import Answering, answer, reader
from borewright.doors.arguments import AsJson
from borewright.doors.ledger.options import LedgerPlace, Sensitivity, Who, author
from borewright.tasks.ledger.batch_papers import PlanHours
from borewright.tasks.ledger.opening import DEFAULT_PLACE, opened, read_sensitivities
from borewright.tasks.ledger.papers import PaperKind, PaperWishes, write_ledger_paper


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
    design: Annotated[
        str | None, typer.Option(help="For set-up and keywork-order: the design.")
    ] = None,
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
    who: Who = "",
    as_json: AsJson = False,
) -> None:
    """Print a paper of the workshop: a traveller, certificate, order, plan and so on.

    A certificate is put on record, and refused where a check failed after the sign-off.
    """
    wishes = PaperWishes(
        design=design,
        quantity=quantity,
        tolerance_mm=tolerance,
        sensitivity=None if sensitivity is None else read_sensitivities(sensitivity),
        hours=PlanHours(from_day.date() if from_day else None, opens, closes, weekends),
    )
    files = write_ledger_paper(
        opened(ledger), kind, code, output, who=author(who), words=reader(), wishes=wishes
    )
    data = {"pdf": str(files.pdf), "html": str(files.html)}
    answer(data, lambda words: [str(files.pdf), str(files.html)], as_json)
