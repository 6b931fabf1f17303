"""What the records say, handed to the quotation, the keywork order and the set-up card."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING

from borewright.doors.ledger.design_files import set_up_rows
from borewright.doors.ledger.instrument_papers import text
from borewright.errors import LedgerError

if TYPE_CHECKING:
    from borewright.documents import KeyworkOrder, Quotation, SetUpCard
    from borewright.ledger import Ledger
    from borewright.model import SensitivityMap


def quotation(book: Ledger, order: str) -> Quotation:
    """The quotation of an order; each line is rounded, and the sum is of rounded lines."""
    from borewright.documents import PriceLine, Quotation
    from borewright.ledger import ROUNDING_WORDS, money_words, rounded

    record = book.get("order", order)
    if record["unit_price"] is None:
        raise LedgerError(
            "has no price yet",
            place=f"order {order}",
            remedy="See `borewright ledger cost`, then correct the order's unit_price.",
        )
    currency, quantity = str(record["currency"]), int(str(record["quantity"]))
    price = Decimal(str(record["unit_price"]))
    goods = rounded(price * quantity, currency)
    shipping = rounded(Decimal(str(record["shipping_price"] or 0)), currency)
    percent = Decimal(str(record["tax_percent"] or 0))
    tax = rounded((goods + shipping) * percent / 100, currency)
    lines = [
        PriceLine(
            "Instrument with certificate and care sheet",
            str(quantity),
            money_words(price, currency),
            money_words(goods, currency),
        )
    ]
    if shipping:
        words = money_words(shipping, currency)
        lines.append(PriceLine("Packing and shipping", "1", words, words))
    fields = ("material", "barrels", "plating", "extras")
    return Quotation(
        order=order,
        customer=str(record["customer"]),
        day=text(record["quoted"]),
        variant=[(name.capitalize(), text(record[name])) for name in fields if record[name]],
        lines=lines,
        totals=[
            ("Sum before tax", money_words(goods + shipping, currency)),
            (f"Tax, {percent.normalize():f} %", money_words(tax, currency)),
            ("Total", money_words(goods + shipping + tax, currency)),
        ],
        deposit="" if record["deposit"] is None
        else money_words(Decimal(str(record["deposit"])), currency),
        promised=text(record["promised"]),
        rounding=ROUNDING_WORDS,
        note=text(record["note"]),
    )  # fmt: skip


def keywork_order(book: Ledger, quote: str, quantity: int, tolerance_mm: float) -> KeyworkOrder:
    """An order at a quote, holding the source to the survey's nominal values."""
    from borewright.documents import KeyworkOrder, Tolerance
    from borewright.ledger import money_words, survey_statistics

    record = book.get("quote", quote)
    least = int(str(record["minimum_order"]))
    if quantity < least:
        raise LedgerError(
            f"{quantity} sets are fewer than the quote's least order of {least}",
            place=f"quote {quote}",
            remedy="Order more, or ask for another quote.",
        )
    currency = str(record["currency"])
    price = Decimal(str(record["unit_price"]))
    tooling = Decimal(str(record["tooling_price"] or 0))
    found = survey_statistics(book, str(record["source"]))
    known = [one for one in found if one.off_nominal_mm is not None]
    if not known:
        raise LedgerError(
            "no measurement of this source has a nominal value to hold it to",
            place=f"quote {quote}",
            remedy="Correct the measurements' nominal_mm.",
        )
    days = record["lead_time_days"]
    return KeyworkOrder(
        order=quote,
        source=str(record["source"]),
        day=date.today().isoformat(),
        plating=str(record["plating"]),
        quantity=quantity,
        unit_price=money_words(price, currency),
        amount=money_words(price * quantity + tooling, currency)
        + (f", tooling {money_words(tooling, currency)} included" if tooling else ""),
        lead_time="by agreement" if days is None else f"{days} days",
        tolerances=[
            Tolerance(
                one.feature,
                one.measure,
                one.mean_mm - (one.off_nominal_mm or 0.0),
                tolerance_mm,
                one.median_mm,  # which one odd set does not move
            )
            for one in known
        ],
        note=text(record["note"]),
    )


def set_up_card(
    book: Ledger, sample: str, design: str, sensitivity: SensitivityMap | None
) -> SetUpCard:
    """The set-up card of a sample."""
    from borewright.documents import CardRow, SetUpCard

    rows = [
        CardRow(
            key=key.key,
            hole=key.hole,
            least_lift_mm=key.least_lift_mm,
            lift_mm=key.lift_mm,
            pitch_effect_cents=key.pitch_effect_cents,
            pitch_effect_note=key.pitch_effect_note,
            lever_ratio=key.lever_ratio,
            touch_travel_mm=key.touch_travel_mm,
            touch_force_g=key.touch_force_g,
            touch_height_mm=key.touch_height_mm,
            end_play_mm=key.end_play_mm,
            remarks=key.remarks,
        )
        for key in set_up_rows(book, sample, design, sensitivity)
    ]
    return SetUpCard(sample, design, rows)
