"""What is bought: keywork sources, quotes, samples with their surveys and tests, lots."""

from __future__ import annotations

from borewright.ledger.fields import Field, Kind, RecordKind

NOTE = Field("note", Kind.NOTE, "anything worth remembering")
CURRENCY = Field("currency", Kind.TEXT, "a currency's three letters, such as EUR", required=True)

BUYING = (
    RecordKind(
        "source",
        "firms that offer keywork",
        (
            Field("contact", Kind.TEXT, "whom to ask"),
            Field("verdict", Kind.CHOICE, "what came of it", choices=("open", "chosen", "refused")),
            NOTE,
        ),
        code_words="the source's name",
        must_be_named=True,
    ),
    RecordKind(
        "quote",
        "prices offered for a keywork set",
        (
            Field("source", Kind.LINK, "the source", required=True, link="source"),
            Field("plating", Kind.TEXT, "the plating", required=True),
            Field("unit_price", Kind.MONEY, "the price of one set", required=True, lowest=0),
            CURRENCY,
            Field("minimum_order", Kind.WHOLE, "the fewest sets sold at it", True, lowest=1),
            Field("tooling_price", Kind.MONEY, "what is paid once an order", lowest=0),
            Field("lead_time_days", Kind.WHOLE, "days from order to arrival", lowest=0),
            Field("valid_until", Kind.DAY, "the last day of the offer"),
            NOTE,
        ),
    ),
    RecordKind(
        "sample",
        "keywork sets in the hand, each with its own label",
        (
            Field("source", Kind.LINK, "the source", required=True, link="source"),
            Field("plating", Kind.TEXT, "the plating"),
            Field("carton", Kind.TEXT, "the carton or lot it came from"),
            Field("received", Kind.DAY, "the day it came"),
            Field("verdict", Kind.CHOICE, "the verdict", choices=("open", "good", "refused")),
            Field("survey_file", Kind.FILE, "the survey's file"),
            NOTE,
        ),
        code_words="the label on the set",
        must_be_named=True,
    ),
    RecordKind(
        "measurement",
        "the keywork survey: what callipers and height gauge read",
        (
            Field("sample", Kind.LINK, "the set measured", required=True, link="sample"),
            Field("feature", Kind.TEXT, "which post, cup or ring", required=True),
            Field("measure", Kind.TEXT, "what of it, such as station", required=True),
            Field("nominal_mm", Kind.FIGURE, "what the drawing says, in mm"),
            Field("value_mm", Kind.FIGURE, "the reading in mm", required=True),
            Field("gauge", Kind.TEXT, "what it was measured with"),
            Field("who", Kind.TEXT, "who measured"),
            Field("day", Kind.DAY, "when"),
            NOTE,
        ),
    ),
    RecordKind(
        "lever",
        "levers of a set, for the set-up sheet",
        (
            Field("sample", Kind.LINK, "the set", required=True, link="sample"),
            Field("key", Kind.TEXT, "the key's name", required=True),
            Field("hole", Kind.TEXT, "the hole its pad covers", required=True),
            Field("touch_arm_mm", Kind.FIGURE, "hinge to touch, in mm", True, lowest=0.1),
            Field("pad_arm_mm", Kind.FIGURE, "hinge to pad centre, in mm", True, lowest=0.1),
            Field("lift_mm", Kind.FIGURE, "how far the pad rises, in mm", lowest=0),
            Field("spring_at_pad_g", Kind.FIGURE, "spring force at the pad, in grams", lowest=0),
            Field("rest", Kind.CHOICE, "how it rests", True, choices=("open", "closed")),
            Field("touch_height_mm", Kind.FIGURE, "touch above the body, in mm", lowest=0),
            Field("lowest_touch_mm", Kind.FIGURE, "the owner's least touch height", lowest=0),
            Field("highest_touch_mm", Kind.FIGURE, "the owner's most touch height", lowest=0),
            Field("end_play_mm", Kind.FIGURE, "play along the hinge, in mm", lowest=0),
            NOTE,
        ),
    ),
    RecordKind(
        "trial",
        "bend, wear and plating tests of samples",
        (
            Field("sample", Kind.LINK, "the set tested", required=True, link="sample"),
            Field("test", Kind.CHOICE, "the test", True, choices=("bend", "wear", "plating")),
            Field("feature", Kind.TEXT, "which key or post"),
            Field("force_n", Kind.FIGURE, "the force in newtons", lowest=0),
            Field("deflection_mm", Kind.FIGURE, "how far it gave, in mm", lowest=0),
            Field("cycles", Kind.WHOLE, "how many times", lowest=0),
            Field("passed", Kind.YES_NO, "whether it passed", required=True),
            Field("report_file", Kind.FILE, "the report's file"),
            NOTE,
        ),
    ),
    RecordKind(
        "criterion",
        "what the owner weighs when comparing sources",
        (
            Field("weight", Kind.FIGURE, "its weight", required=True, lowest=0),
            Field("better", Kind.CHOICE, "which is better", True, choices=("low", "high")),
            Field("unit", Kind.TEXT, "the unit of its values"),
            NOTE,
        ),
        code_words="the criterion's name",
        must_be_named=True,
    ),
    RecordKind(
        "score",
        "a source's value under a criterion, where the owner enters it",
        (
            Field("source", Kind.LINK, "the source", required=True, link="source"),
            Field("criterion", Kind.LINK, "the criterion", required=True, link="criterion"),
            Field("value", Kind.FIGURE, "the value", required=True),
            NOTE,
        ),
    ),
    RecordKind(
        "lot",
        "lots of material and small parts",
        (
            Field(
                "stuff",
                Kind.CHOICE,
                "what it is",
                True,
                choices=("filament", "keywork", "pads", "corks", "springs", "coating", "other"),
            ),
            Field("description", Kind.TEXT, "material, colour, size"),
            Field("supplier", Kind.TEXT, "who sold it"),
            Field("supplier_lot", Kind.TEXT, "the supplier's lot number"),
            Field("received", Kind.DAY, "the day it came"),
            Field("moisture_percent", Kind.FIGURE, "moisture by mass, in percent", lowest=0),
            Field("dried_hours", Kind.FIGURE, "hours of drying", lowest=0),
            Field("dried_c", Kind.FIGURE, "drying temperature in °C"),
            Field("coupon_offset_mm", Kind.FIGURE, "what the coupon's holes came out off, in mm"),
            Field("coupon_passed", Kind.YES_NO, "whether the coupon passed"),
            Field("unit_price", Kind.MONEY, "price of a unit", lowest=0),
            Field("unit", Kind.TEXT, "the unit, such as kg or set"),
            Field("currency", Kind.TEXT, "a currency's three letters, such as EUR"),
            NOTE,
        ),
        code_words="the lot's label",
        must_be_named=True,
    ),
)
