"""What the records say about the prints to come, handed to the batch plan."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from borewright.documents import BatchPlan
    from borewright.ledger import Ledger


@dataclass(frozen=True)
class PlanHours:
    """When somebody is there to start a print: the first day, and hours of the day.

    ``first_day`` None takes the batch's own.
    """

    first_day: date | None = None
    opens: int = 8
    closes: int = 18
    free_weekends: bool = False


def plan_paper(book: Ledger, batch: str, hours: PlanHours) -> BatchPlan:
    """The plan of a batch; LedgerError where nothing can be planned."""
    from borewright.documents import BatchPlan, PlanRow
    from borewright.ledger import plan_batch

    record = book.get("batch", batch)
    plan = plan_batch(
        book, batch, hours.first_day,
        opens=hours.opens, closes=hours.closes, free_weekends=hours.free_weekends,
    )  # fmt: skip
    rows = []
    for one in plan.prints:
        hour, minutes = divmod(round(one.start_hour * 60), 60)
        rows.append(
            PlanRow(
                f"{one.day:%a} {one.day}", f"{hour:02d}:{minutes:02d}", one.printer, one.part,
                f"{one.hours:.1f} h", f"{one.ready}",
            )
        )  # fmt: skip
    return BatchPlan(
        batch=batch,
        design=str(record["design"]),
        quantity=int(str(record["quantity"])),
        hours=f"{hours.opens} to {hours.closes} o'clock"
        + (", not on weekends" if hours.free_weekends else ""),
        ready=str(plan.ready),
        rows=rows,
        notes=[
            "Prints for the rejects to be expected, by the record, are included",
            "No shorter plan exists" if plan.proved_shortest else "A shorter plan may exist",
        ],
    )
