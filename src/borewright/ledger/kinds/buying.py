"""What is bought: keywork sources, quotes, samples with their surveys and tests, lots."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Annotated

from borewright.ledger.fields import Kind
from borewright.ledger.record import Currency, CurrencyIfAny, Is, Note, Record, record
from borewright.words import Choice, say, say_as


class Verdict(Choice):
    """What came of asking a source."""

    OPEN = "open", say_as("verdict", "open")
    CHOSEN = "chosen", say_as("verdict", "chosen")
    REFUSED = "refused", say_as("verdict", "refused")


class SetVerdict(Choice):
    """What came of looking at a set."""

    OPEN = "open", say_as("verdict", "open")
    GOOD = "good", say_as("verdict", "good")
    REFUSED = "refused", say_as("verdict", "refused")


class Rest(Choice):
    """How a key rests."""

    OPEN = "open", say_as("key", "open")
    CLOSED = "closed", say_as("key", "closed")


class Trying(Choice):
    """How a sample is tested."""

    BEND = "bend", say_as("test", "bend")
    WEAR = "wear", say_as("test", "wear")
    PLATING = "plating", say_as("test", "plating")


class Better(Choice):
    """Which values of a criterion are the better ones."""

    LOW = "low", say_as("value", "low")
    HIGH = "high", say_as("value", "high")


class Stuff(Choice):
    """What a lot is of."""

    FILAMENT = "filament", say_as("lot", "filament")
    KEYWORK = "keywork", say_as("lot", "keywork")
    PADS = "pads", say_as("lot", "pads")
    CORKS = "corks", say_as("lot", "corks")
    SPRINGS = "springs", say_as("lot", "springs")
    COATING = "coating", say_as("lot", "coating")
    OTHER = "other", say_as("lot", "other")


@record(
    "source",
    say_as("record", "keywork source"),
    say("firms that offer keywork"),
    code=say("the source's name"),
    named=True,
)
class Source(Record):
    """A firm that offers keywork."""

    contact: Annotated[str | None, Is(say("whom to ask"))] = None
    verdict: Annotated[Verdict | None, Is(say("what came of it"))] = None
    note: Note = None


@record("quote", say_as("record", "quote"), say("prices offered for a keywork set"))
class Quote(Record):
    """A price offered for a keywork set."""

    source: Annotated[str, Is(say("the source"), link="source")]
    plating: Annotated[str, Is(say("the plating"))]
    unit_price: Annotated[Decimal, Is(say("the price of one set"), lowest=0, bounds="amount")]
    currency: Currency
    minimum_order: Annotated[int, Is(say("the fewest sets sold at it"), lowest=1, bounds="sets")]
    tooling_price: Annotated[
        Decimal | None, Is(say("what is paid once an order"), lowest=0, bounds="amount")
    ] = None
    lead_time_days: Annotated[
        int | None, Is(say("days from order to arrival"), lowest=0, bounds="lead_days")
    ] = None
    valid_until: Annotated[date | None, Is(say("the last day of the offer"))] = None
    note: Note = None


@record(
    "sample",
    say_as("record", "keywork set"),
    say("keywork sets in the hand, each with its own label"),
    code=say("the label on the set"),
    named=True,
)
class Sample(Record):
    """A keywork set in the hand."""

    source: Annotated[str, Is(say("the source"), link="source")]
    plating: Annotated[str | None, Is(say("the plating"))] = None
    carton: Annotated[str | None, Is(say("the carton or lot it came from"))] = None
    received: Annotated[date | None, Is(say("the day it came"))] = None
    verdict: Annotated[SetVerdict | None, Is(say("the verdict"))] = None
    survey_file: Annotated[str | None, Is(say("the survey's file"), kind=Kind.FILE)] = None
    note: Note = None


@record(
    "measurement",
    say_as("record", "measurement"),
    say("the keywork survey: what callipers and height gauge read"),
)
class Measurement(Record):
    """One reading of the keywork survey."""

    sample: Annotated[str, Is(say("the set measured"), link="sample")]
    feature: Annotated[str, Is(say("which post, cup or ring"))]
    measure: Annotated[str, Is(say("what of it, such as station"))]
    nominal_mm: Annotated[
        float | None, Is(say("what the drawing says, in mm"), bounds="measured_mm")
    ] = None
    value_mm: Annotated[float, Is(say("the reading in mm"), bounds="measured_mm")]
    gauge: Annotated[str | None, Is(say("what it was measured with"))] = None
    who: Annotated[str | None, Is(say("who measured"))] = None
    day: Annotated[date | None, Is(say("when"))] = None
    note: Note = None


@record("lever", say_as("record", "lever"), say("levers of a set, for the set-up sheet"))
class Lever(Record):
    """One key of a set as a lever."""

    sample: Annotated[str, Is(say("the set"), link="sample")]
    key: Annotated[str, Is(say("the key's name"))]
    hole: Annotated[str, Is(say("the hole its pad covers"))]
    touch_arm_mm: Annotated[
        float, Is(say("hinge to touch, in mm"), lowest=0.1, bounds="lever_arm_mm")
    ]
    pad_arm_mm: Annotated[
        float, Is(say("hinge to pad centre, in mm"), lowest=0.1, bounds="lever_arm_mm")
    ]
    lift_mm: Annotated[
        float | None, Is(say("how far the pad rises, in mm"), lowest=0, bounds="pad_lift_mm")
    ] = None
    spring_at_pad_g: Annotated[
        float | None, Is(say("spring force at the pad, in grams"), lowest=0, bounds="touch_force_g")
    ] = None
    rest: Annotated[Rest, Is(say("how it rests"))]
    touch_height_mm: Annotated[
        float | None, Is(say("touch above the body, in mm"), lowest=0, bounds="touch_height_mm")
    ] = None
    lowest_touch_mm: Annotated[
        float | None, Is(say("the owner's least touch height"), lowest=0, bounds="touch_height_mm")
    ] = None
    highest_touch_mm: Annotated[
        float | None, Is(say("the owner's most touch height"), lowest=0, bounds="touch_height_mm")
    ] = None
    end_play_mm: Annotated[
        float | None, Is(say("play along the hinge, in mm"), lowest=0, bounds="hinge_play_mm")
    ] = None
    note: Note = None


@record("trial", say_as("record", "trial"), say("bend, wear and plating tests of samples"))
class Trial(Record):
    """One test of a sample."""

    sample: Annotated[str, Is(say("the set tested"), link="sample")]
    test: Annotated[Trying, Is(say("the test"))]
    feature: Annotated[str | None, Is(say("which key or post"))] = None
    force_n: Annotated[
        float | None, Is(say("the force in newtons"), lowest=0, bounds="test_force_n")
    ] = None
    deflection_mm: Annotated[
        float | None, Is(say("how far it gave, in mm"), lowest=0, bounds="deflection_mm")
    ] = None
    cycles: Annotated[int | None, Is(say("how many times"), lowest=0, bounds="cycles")] = None
    passed: Annotated[bool, Is(say("whether it passed"))]
    report_file: Annotated[str | None, Is(say("the report's file"), kind=Kind.FILE)] = None
    note: Note = None


@record(
    "criterion",
    say_as("record", "criterion"),
    say("what the owner weighs when comparing sources"),
    code=say("the criterion's name"),
    named=True,
)
class Criterion(Record):
    """What the owner weighs."""

    weight: Annotated[float, Is(say("its weight"), lowest=0, bounds="criterion_weight")]
    better: Annotated[Better, Is(say("which is better"))]
    unit: Annotated[str | None, Is(say("the unit of its values"))] = None
    note: Note = None


@record(
    "score",
    say_as("record", "score"),
    say("a source's value under a criterion, where the owner enters it"),
)
class Score(Record):
    """A value that the owner gives a source."""

    source: Annotated[str, Is(say("the source"), link="source")]
    criterion: Annotated[str, Is(say("the criterion"), link="criterion")]
    value: Annotated[float, Is(say("the value"))]
    note: Note = None


@record(
    "lot",
    say_as("record", "lot"),
    say("lots of material and small parts"),
    code=say("the lot's label"),
    named=True,
)
class Lot(Record):
    """A lot of material or small parts."""

    stuff: Annotated[Stuff, Is(say("what it is"))]
    description: Annotated[str | None, Is(say("material, colour, size"))] = None
    supplier: Annotated[str | None, Is(say("who sold it"))] = None
    supplier_lot: Annotated[str | None, Is(say("the supplier's lot number"))] = None
    received: Annotated[date | None, Is(say("the day it came"))] = None
    moisture_percent: Annotated[
        float | None, Is(say("moisture by mass, in percent"), lowest=0, bounds="moisture_percent")
    ] = None
    dried_hours: Annotated[
        float | None, Is(say("hours of drying"), lowest=0, bounds="dried_hours")
    ] = None
    dried_c: Annotated[float | None, Is(say("drying temperature in °C"), bounds="dried_c")] = None
    coupon_offset_mm: Annotated[
        float | None,
        Is(say("what the coupon's holes came out off, in mm"), bounds="coupon_offset_mm"),
    ] = None
    coupon_passed: Annotated[bool | None, Is(say("whether the coupon passed"))] = None
    unit_price: Annotated[Decimal | None, Is(say("price of a unit"), lowest=0, bounds="amount")] = (
        None
    )
    unit: Annotated[str | None, Is(say("the unit, such as kg or set"))] = None
    currency: CurrencyIfAny = None
    note: Note = None


BUYING: tuple[type[Record], ...] = (
    Source,
    Quote,
    Sample,
    Measurement,
    Lever,
    Trial,
    Criterion,
    Score,
    Lot,
)
