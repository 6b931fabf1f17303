"""An order of keywork at a quote, holding the source to the survey's nominal values."""

from __future__ import annotations

from dataclasses import dataclass

from borewright.errors import LedgerError
from borewright.ledger.kinds.buying import Quote
from borewright.ledger.quotes import BestQuote, at_quote
from borewright.ledger.store import Ledger
from borewright.ledger.survey import FeatureStatistics, survey_statistics
from borewright.words import say


@dataclass(frozen=True)
class KeyworkOrderFacts:
    """The quote, what the sets cost at it, and the measures that have a nominal value."""

    quote: Quote
    offer: BestQuote
    measures: tuple[FeatureStatistics, ...]


def keywork_order_facts(ledger: Ledger, quote: str, quantity: int) -> KeyworkOrderFacts:
    """An order of so many sets; LedgerError where the quote or the survey does not allow it."""
    record = ledger.one(Quote, quote)
    place = say("quote {quote}", quote=quote)
    if quantity < record.minimum_order:
        raise LedgerError(
            say(
                "{count} sets are fewer than the quote's least order of {least}",
                count=quantity,
                least=record.minimum_order,
            ),
            place=place,
            remedy=say("Order more, or ask for another quote."),
        )
    found = survey_statistics(ledger, record.source)
    known = tuple(one for one in found if one.nominal_mm is not None)
    if not known:
        raise LedgerError(
            say("no measurement of this source has a nominal value to hold it to"),
            place=place,
            remedy=say("Correct the measurements' nominal_mm."),
        )
    return KeyworkOrderFacts(record, at_quote(record, quantity), known)
