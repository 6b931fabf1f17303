"""What is sold: the owner's settings, orders, service, and the price list behind the cost."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Annotated

from borewright.ledger.record import Currency, CurrencyIfAny, Is, Note, Record, record
from borewright.words import Choice, joined, say, say_as


class Per(Choice):
    """What a price in the list is paid for."""

    KG = "kg", say_as("price", "kg")
    PRINTER_HOUR = "printer hour", say_as("price", "printer hour")
    KWH = "kWh", say_as("price", "kWh")
    LABOUR_HOUR = "labour hour", say_as("price", "labour hour")
    INSTRUMENT = "instrument", say_as("price", "instrument")
    BATCH = "batch", say_as("price", "batch")
    PERCENT_OF_PRICE = "percent of price", say_as("price", "percent of price")
    TAX = "tax", say_as("price", "tax")


class Language(Choice):
    """The languages that papers are printed in."""

    ENGLISH = "en", say("English")
    GERMAN = "de", say("German")


#: Settings the owner may give, each with its meaning.
SETTINGS = {
    "owner": say("name on documents"),
    "address": say("lines under the name, with semicolons"),
    "mark": say("SHA-256 of a kept SVG file, printed beside the name"),
    "paper": say("A4 or Letter"),
    "currency": say("the ledger's own currency"),
    "language": say("language tag of documents"),
}


@record(
    "setting",
    say_as("record", "setting"),
    say("the owner's settings"),
    code=say("one of: {names}", names=joined(SETTINGS, ", ")),
    named=True,
)
class Setting(Record):
    """One thing the owner has set."""

    value: Annotated[str, Is(say("the setting's value"))]
    note: Note = None


@record(
    "order",
    say_as("record", "order"),
    say("orders of customers"),
    code=say("the order's number"),
    named=True,
)
class Order(Record):
    """What a customer ordered, or was offered."""

    customer: Annotated[str, Is(say("the customer's name"))]
    contact: Annotated[str | None, Is(say("how to reach the customer"))] = None
    quantity: Annotated[int, Is(say("how many"), lowest=1, bounds="instruments")]
    material: Annotated[str | None, Is(say("the body's material"))] = None
    barrels: Annotated[str | None, Is(say("barrels supplied, such as 64 and 66 mm"))] = None
    plating: Annotated[str | None, Is(say("the keywork's plating"))] = None
    extras: Annotated[str | None, Is(say("case, mouthpiece, other extras"))] = None
    unit_price: Annotated[
        Decimal | None, Is(say("price of one, before tax"), lowest=0, bounds="amount")
    ] = None
    currency: Currency
    tax_percent: Annotated[
        Decimal | None, Is(say("tax in percent"), lowest=0, bounds="tax_percent")
    ] = None
    shipping_price: Annotated[
        Decimal | None, Is(say("shipping, before tax"), lowest=0, bounds="amount")
    ] = None
    deposit: Annotated[
        Decimal | None, Is(say("the deposit asked for"), lowest=0, bounds="amount")
    ] = None
    deposit_paid: Annotated[date | None, Is(say("the day the deposit came"))] = None
    quoted: Annotated[date | None, Is(say("the day of the quotation"))] = None
    accepted: Annotated[date | None, Is(say("the day of the order"))] = None
    promised: Annotated[date | None, Is(say("the day promised"))] = None
    language: Annotated[Language | None, Is(say("the language of its papers"))] = None
    delivered: Annotated[date | None, Is(say("the day delivered"))] = None
    note: Note = None


@record("service", say_as("record", "service visit"), say("service visits"))
class Service(Record):
    """An instrument that came back to the workshop."""

    instrument: Annotated[str, Is(say("the instrument"), link="instrument")]
    day: Annotated[date, Is(say("the day it came"))]
    complaint: Annotated[str, Is(say("what was wrong"))]
    work: Annotated[str | None, Is(say("what was done"))] = None
    hours: Annotated[float | None, Is(say("how long it took"), lowest=0, bounds="work_hours")] = (
        None
    )
    charge: Annotated[Decimal | None, Is(say("what was charged"), lowest=0, bounds="amount")] = None
    currency: CurrencyIfAny = None
    warranty: Annotated[bool | None, Is(say("whether under warranty"))] = None
    note: Note = None


@record(
    "expense",
    say_as("record", "expense"),
    say("the price list behind the cost"),
    code=say("what is paid, such as filament"),
    named=True,
)
class Expense(Record):
    """One price of the list behind the cost."""

    per: Annotated[Per, Is(say("what it is paid for"))]
    price: Annotated[Decimal, Is(say("the price, or the percentage"), lowest=0, bounds="amount")]
    currency: Annotated[
        str | None, Is(say("a currency's three letters; empty for percentages"), currency=True)
    ] = None
    plating: Annotated[str | None, Is(say("only for instruments of this plating"))] = None
    note: Note = None


SELLING: tuple[type[Record], ...] = (Setting, Order, Service, Expense)
