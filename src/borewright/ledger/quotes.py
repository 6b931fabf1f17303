"""Which quote is the cheapest for so many sets, counting its least quantity and tooling."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from borewright.errors import LedgerError
from borewright.ledger.store import Ledger


@dataclass(frozen=True)
class BestQuote:
    """A quote and what so many sets really cost at it; money unrounded in ``currency``.

    ``surplus`` sets have to be paid for because the least order is larger than the need.
    """

    code: str
    source: str
    plating: str
    unit_price: Decimal
    tooling_price: Decimal
    currency: str
    quantity: int
    surplus: int
    lead_time_days: int | None

    @property
    def total(self) -> Decimal:
        """Everything that has to be paid for the sets needed."""
        return self.unit_price * (self.quantity + self.surplus) + self.tooling_price


def best_quote(
    ledger: Ledger,
    quantity: int,
    *,
    source: str | None = None,
    plating: str | None = None,
    currency: str | None = None,
) -> BestQuote:
    """The cheapest quote for a quantity, of the chosen source once one is chosen.

    LedgerError where there is none, or currencies mix.
    """
    where = {k: v for k, v in (("source", source), ("plating", plating)) if v}
    verdicts = {r["code"]: r["verdict"] for r in ledger.records("source")}
    chosen = {name for name, verdict in verdicts.items() if verdict == "chosen"}
    wanted = {name for name, verdict in verdicts.items() if verdict != "refused"}
    if chosen and source is None:
        wanted = chosen
    rows = [r for r in ledger.records("quote", where) if r["source"] in wanted]
    words = f"{'' if plating is None else plating + ' '}keywork"
    words += "" if source is None else f" from '{source}'"
    if not rows:
        raise LedgerError(
            f"there is no quote for {words}",
            place="quote",
            remedy="Enter one with `borewright ledger add quote`.",
        )
    others = {str(r["currency"]) for r in rows}
    if len(others) > 1 or (currency and others != {currency}):
        raise LedgerError(
            f"quotes for {words} are in {', '.join(sorted(others))}"
            + (f", the ledger counts in {currency}" if currency else ""),
            place="quote",
            remedy="Enter them in one currency, at the rate your bank gives you that day.",
        )
    offers = [
        BestQuote(
            code=str(r["code"]),
            source=str(r["source"]),
            plating=str(r["plating"]),
            unit_price=Decimal(str(r["unit_price"])),
            tooling_price=Decimal(str(r["tooling_price"] or 0)),
            currency=str(r["currency"]),
            quantity=quantity,
            surplus=max(0, int(str(r["minimum_order"])) - quantity),
            lead_time_days=None if r["lead_time_days"] is None else int(str(r["lead_time_days"])),
        )
        for r in rows
    ]
    return min(offers, key=lambda offer: (offer.total, offer.code))
