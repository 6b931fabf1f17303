"""Which quote is the cheapest for so many sets, counting its least quantity and tooling."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from borewright.errors import LedgerError
from borewright.ledger.kinds.buying import Quote, Source, Verdict
from borewright.ledger.money import Money
from borewright.ledger.store import Ledger
from borewright.words import Message, joined, say


@dataclass(frozen=True)
class BestQuote:
    """A quote and what so many sets really cost at it, unrounded.

    ``surplus`` sets have to be paid for because the least order is larger than the need.
    ``lapsed`` is the last day of an offer that has ended.
    """

    code: str
    source: str
    plating: str
    unit_price: Money
    tooling_price: Money
    quantity: int
    surplus: int
    lead_time_days: int | None
    lapsed: date | None = None

    @property
    def total(self) -> Money:
        """Everything that has to be paid for the sets needed."""
        return self.unit_price * (self.quantity + self.surplus) + self.tooling_price


def at_quote(quote: Quote, quantity: int, day: date | None = None) -> BestQuote:
    """What so many sets cost at one quote, on a day (today by default)."""
    return BestQuote(
        code=quote.code,
        source=quote.source,
        plating=quote.plating,
        unit_price=Money(quote.unit_price, quote.currency),
        tooling_price=Money(quote.tooling_price or Decimal(0), quote.currency),
        quantity=quantity,
        surplus=max(0, quote.minimum_order - quantity),
        lead_time_days=quote.lead_time_days,
        lapsed=quote.valid_until if _has_lapsed(quote, day or date.today()) else None,
    )


def _has_lapsed(quote: Quote, day: date) -> bool:
    return quote.valid_until is not None and quote.valid_until < day


def best_quote(
    ledger: Ledger,
    quantity: int,
    *,
    source: str | None = None,
    plating: str | None = None,
    currency: str | None = None,
    day: date | None = None,
) -> BestQuote:
    """The cheapest quote for a quantity, of the chosen source once one is chosen.

    An offer that ended before the day (today by default) counts only where no other stands, and
    then says so. LedgerError where there is none, or currencies mix.
    """
    where = {k: v for k, v in (("source", source), ("plating", plating)) if v}
    sources = ledger.every(Source)
    wanted = {each.code for each in sources if each.verdict is not Verdict.REFUSED}
    chosen = {each.code for each in sources if each.verdict is Verdict.CHOSEN}
    if chosen and source is None:
        wanted = chosen
    quotes = [quote for quote in ledger.every(Quote, where) if quote.source in wanted]
    what = _what(source, plating)
    if not quotes:
        raise LedgerError(
            say("there is no quote for {what}", what=what),
            place="quote",
            remedy=say("Enter one in the table of quotes."),
        )
    others = sorted({quote.currency for quote in quotes})
    if len(others) > 1 or (currency and others != [currency]):
        names = joined(others, ", ")
        cause = say("quotes for {what} are in {currencies}", what=what, currencies=names)
        if currency:
            cause = say(
                "quotes for {what} are in {currencies}, the ledger counts in {own}",
                what=what,
                currencies=names,
                own=currency,
            )
        remedy = say("Enter them in one currency, at the rate your bank gives you that day.")
        raise LedgerError(cause, place="quote", remedy=remedy)
    offers = [at_quote(quote, quantity, day) for quote in quotes]
    return min(offers, key=lambda offer: (offer.lapsed is not None, offer.total, offer.code))


def _what(source: str | None, plating: str | None) -> Message:
    what = say("keywork") if plating is None else say("{plating} keywork", plating=plating)
    return what if source is None else say("{what} from '{source}'", what=what, source=source)
