"""The quotation, the keywork order and the set-up card."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING

from borewright.tasks.ledger.designs import instrument_of, set_up_rows, surveyed_figures
from borewright.words import Text, say

if TYPE_CHECKING:
    from borewright.documents import KeyworkOrder, Quotation, SetUpCard, Tolerance
    from borewright.ledger import Ledger
    from borewright.model import SensitivityMap

#: How the measures of a mechanism are taken, for who makes the keys.
_HOW = say(
    "How to measure: key shut, pad on its seat. Hinge: its middle line. To the pad's middle: "
    "square to that line, along the pad's face. Over or below the pad's face: square to the "
    "face; below is nearer to the bore. Tube: between its ends. Lift: at the pad's middle, key "
    "open."
)


def quotation(book: Ledger, order: str) -> Quotation:
    """The quotation of an order; LedgerError where it has no price yet."""
    from borewright.documents import PriceLine, Quotation
    from borewright.ledger import ROUNDING, quotation_facts

    facts = quotation_facts(book, order)
    record, shipping = facts.order, facts.shipping.words
    goods = say("Instrument with certificate and care sheet")
    lines = [PriceLine(goods, record.quantity, facts.each.words, facts.goods.words)]
    if facts.shipping:
        lines.append(PriceLine(say("Packing and shipping"), 1, shipping, shipping))
    variant: list[tuple[Text, str | None]] = [
        (say("Material"), record.material),
        (say("Barrels"), record.barrels),
        (say("Plating"), record.plating),
        (say("Extras"), record.extras),
    ]
    percent = (record.tax_percent or Decimal(0)).normalize()
    return Quotation(
        order=order,
        customer=record.customer,
        day=record.quoted,
        variant=[(name, value) for name, value in variant if value],
        lines=lines,
        totals=[
            (say("Sum before tax"), facts.before_tax.words),
            (say("Tax, {percent:f} %", percent=percent), facts.tax.words),
            (say("Total"), facts.total.words),
        ],
        deposit="" if facts.deposit is None else facts.deposit.words,
        promised=record.promised,
        rounding=ROUNDING,
        note=record.note or "",
    )


def keywork_order(
    book: Ledger, quote: str, quantity: int, tolerance_mm: float, design: str | None = None
) -> KeyworkOrder:
    """An order at a quote, holding the source to the survey's nominal values.

    With a design, and a key survey kept with a sample of the source, what decides seating and
    pitch on that body is added, each measure with the tolerance that it bears.
    """
    from borewright.documents import KeyworkOrder, Tolerance
    from borewright.model.bounds import check_asked

    check_asked("tolerance_mm", tolerance_mm, "--tolerance")
    from borewright.ledger import keywork_order_facts

    facts = keywork_order_facts(book, quote, quantity)
    offer = facts.offer
    amount = offer.total.words
    of_mechanism = _of_mechanism(book, facts.quote.source, design)
    if offer.tooling_price:
        amount = say(
            "{amount}, tooling {tooling} included", amount=amount, tooling=offer.tooling_price.words
        )
    return KeyworkOrder(
        order=quote,
        source=offer.source,
        day=date.today(),
        plating=offer.plating,
        quantity=quantity,
        unit_price=offer.unit_price.words,
        amount=amount,
        lead_time_days=offer.lead_time_days,
        tolerances=[
            # The median is what one odd set does not move.
            Tolerance(one.feature, one.measure, one.nominal_mm, tolerance_mm, one.median_mm)
            for one in facts.measures
            if one.nominal_mm is not None
        ]
        + of_mechanism,
        note=facts.quote.note or "",
        hint=_HOW if of_mechanism else "",
    )


def _of_mechanism(book: Ledger, source: str, design: str | None) -> list[Tolerance]:
    if design is None:
        return []
    from borewright.documents import Tolerance
    from borewright.keywork import key_tolerances

    figures = surveyed_figures(book, design, source)
    if not figures:
        return []
    instrument = instrument_of(book, design)
    diameters = {hole.name: hole.diameter_mm for _, hole, _ in instrument.placed_holes()}
    return [
        Tolerance(one.key, one.measure, one.nominal_mm, one.tolerance_mm)
        for one in key_tolerances(figures, diameters)
    ]


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
            wanted_lift_mm=key.wanted_lift_mm,
            wanted_travel_mm=key.wanted_travel_mm,
            wanted_force_g=key.wanted_force_g,
            wanted_height_mm=key.wanted_height_mm,
            wanted_play_mm=key.wanted_play_mm,
        )
        for key in set_up_rows(book, sample, design, sensitivity)
    ]
    return SetUpCard(sample, design, rows)
