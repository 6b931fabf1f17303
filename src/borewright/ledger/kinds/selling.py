"""What is sold: the owner's settings, orders, service, and the price list behind the cost."""

from __future__ import annotations

from borewright.ledger.fields import Field, Kind, RecordKind
from borewright.ledger.kinds.buying import CURRENCY, NOTE

#: What a price in the list is paid for.
PER = ("kg", "printer hour", "kWh", "labour hour", "instrument", "batch", "percent of price", "tax")

#: Settings the owner may give, each with its meaning.
SETTINGS = {
    "owner": "name on documents",
    "address": "lines under the name, with semicolons",
    "mark": "SHA-256 of a kept SVG file, printed beside the name",
    "paper": "A4 or Letter",
    "currency": "the ledger's own currency",
    "language": "language tag of documents",
}

SELLING = (
    RecordKind(
        "setting",
        "the owner's settings",
        (Field("value", Kind.TEXT, "the setting's value", required=True), NOTE),
        code_words=f"one of: {', '.join(SETTINGS)}",
        must_be_named=True,
    ),
    RecordKind(
        "order",
        "orders of customers",
        (
            Field("customer", Kind.TEXT, "the customer's name", required=True),
            Field("contact", Kind.TEXT, "how to reach the customer"),
            Field("quantity", Kind.WHOLE, "how many", required=True, lowest=1),
            Field("material", Kind.TEXT, "the body's material"),
            Field("barrels", Kind.TEXT, "barrels supplied, such as 64 and 66 mm"),
            Field("plating", Kind.TEXT, "the keywork's plating"),
            Field("extras", Kind.TEXT, "case, mouthpiece, other extras"),
            Field("unit_price", Kind.MONEY, "price of one, before tax", lowest=0),
            CURRENCY,
            Field("tax_percent", Kind.MONEY, "tax in percent", lowest=0),
            Field("shipping_price", Kind.MONEY, "shipping, before tax", lowest=0),
            Field("deposit", Kind.MONEY, "the deposit asked for", lowest=0),
            Field("deposit_paid", Kind.DAY, "the day the deposit came"),
            Field("quoted", Kind.DAY, "the day of the quotation"),
            Field("accepted", Kind.DAY, "the day of the order"),
            Field("promised", Kind.DAY, "the day promised"),
            Field("delivered", Kind.DAY, "the day delivered"),
            NOTE,
        ),
        code_words="the order's number",
        must_be_named=True,
    ),
    RecordKind(
        "service",
        "service visits",
        (
            Field("instrument", Kind.LINK, "the instrument", required=True, link="instrument"),
            Field("day", Kind.DAY, "the day it came", required=True),
            Field("complaint", Kind.TEXT, "what was wrong", required=True),
            Field("work", Kind.TEXT, "what was done"),
            Field("hours", Kind.FIGURE, "how long it took", lowest=0),
            Field("charge", Kind.MONEY, "what was charged", lowest=0),
            Field("currency", Kind.TEXT, "a currency's three letters, such as EUR"),
            Field("warranty", Kind.YES_NO, "whether under warranty"),
            NOTE,
        ),
    ),
    RecordKind(
        "expense",
        "the price list behind the cost",
        (
            Field("per", Kind.CHOICE, "what it is paid for", required=True, choices=PER),
            Field("price", Kind.MONEY, "the price, or the percentage", required=True, lowest=0),
            Field("currency", Kind.TEXT, "a currency's three letters; empty for percentages"),
            Field("plating", Kind.TEXT, "only for instruments of this plating"),
            NOTE,
        ),
        code_words="what is paid, such as filament",
        must_be_named=True,
    ),
)
