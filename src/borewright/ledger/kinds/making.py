"""What is made: designs, batches, printers, print jobs, instruments and their parts, labour."""

from __future__ import annotations

from borewright.ledger.fields import Field, Kind, RecordKind
from borewright.ledger.kinds.buying import NOTE

OUTCOMES = ("running", "good", "rejected")

MAKING = (
    RecordKind(
        "design",
        "design revisions, each with its file",
        (
            Field("name", Kind.TEXT, "the instrument's name", required=True),
            Field("file", Kind.FILE, "the kept file", required=True),
            Field("file_name", Kind.TEXT, "the file's name", required=True),
            Field("parts", Kind.TEXT, "names of the printed parts, with semicolons", True),
            Field("sealed_parts", Kind.TEXT, "parts to be leak tested, with semicolons"),
            NOTE,
        ),
        code_words="the revision's name",
        must_be_named=True,
    ),
    RecordKind(
        "batch",
        "instruments made together",
        (
            Field("design", Kind.LINK, "the design", required=True, link="design"),
            Field("quantity", Kind.WHOLE, "how many", required=True, lowest=1),
            Field("plating", Kind.TEXT, "the keywork's plating"),
            Field("started", Kind.DAY, "the day work starts"),
            Field("due", Kind.DAY, "the day all are due"),
            NOTE,
        ),
        code_words="the batch's name",
        must_be_named=True,
    ),
    RecordKind(
        "printer",
        "printers",
        (
            Field("height_mm", Kind.FIGURE, "the tallest part it can print, in mm", lowest=1),
            Field("power_w", Kind.FIGURE, "mean power while printing, in watts", lowest=0),
            Field("out_of_order", Kind.YES_NO, "whether it is out of order"),
            NOTE,
        ),
        code_words="the printer's name",
        must_be_named=True,
    ),
    RecordKind(
        "print_job",
        "print jobs",
        (
            Field("printer", Kind.LINK, "the printer", required=True, link="printer"),
            Field("lot", Kind.LINK, "the filament's lot", required=True, link="lot"),
            Field("design", Kind.LINK, "the design", required=True, link="design"),
            Field("part", Kind.TEXT, "the part's name in the design", required=True),
            Field("settings", Kind.TEXT, "nozzle, layer, temperature"),
            Field("orientation", Kind.TEXT, "how it stood"),
            Field("started", Kind.DAY, "the day it began"),
            Field("hours", Kind.FIGURE, "how long it took", lowest=0),
            Field("mass_g", Kind.FIGURE, "the mass used, in grams", lowest=0),
            Field("height_mm", Kind.FIGURE, "its height on the plate, in mm", lowest=0),
            Field("outcome", Kind.CHOICE, "what came of it", True, choices=OUTCOMES),
            NOTE,
        ),
    ),
    RecordKind(
        "instrument",
        "instruments by serial number",
        (
            Field("design", Kind.LINK, "the design", required=True, link="design"),
            Field("batch", Kind.LINK, "the batch", link="batch"),
            Field("order", Kind.LINK, "the order it is for", link="order"),
            NOTE,
        ),
        code_words="the serial number",
        must_be_named=True,
    ),
    RecordKind(
        "part",
        "printed parts by serial number",
        (
            Field("name", Kind.TEXT, "the part's name in the design", required=True),
            Field("design", Kind.LINK, "the exact design revision", True, link="design"),
            Field("print_job", Kind.LINK, "the print job", link="print_job"),
            Field("instrument", Kind.LINK, "the instrument it is in", link="instrument"),
            Field("outcome", Kind.CHOICE, "its state", True, choices=("good", "rejected")),
            NOTE,
        ),
        code_words="the part's own number",
        must_be_named=True,
    ),
    RecordKind(
        "assembly",
        "what went into an instrument",
        (
            Field("instrument", Kind.LINK, "the instrument", required=True, link="instrument"),
            Field("keywork_lot", Kind.LINK, "the keywork's lot", required=True, link="lot"),
            Field("pad_lot", Kind.LINK, "the pads' lot", link="lot"),
            Field("spring_lot", Kind.LINK, "the springs' lot", link="lot"),
            Field("cork_lot", Kind.LINK, "the corks' lot", link="lot"),
            Field("coating_lot", Kind.LINK, "the coating's lot", link="lot"),
            Field("who", Kind.TEXT, "who assembled it", required=True),
            Field("day", Kind.DAY, "the day it was finished"),
            NOTE,
        ),
    ),
    RecordKind(
        "labour",
        "hours of work by step",
        (
            Field("step", Kind.TEXT, "the step, such as fitting keywork", required=True),
            Field("hours", Kind.FIGURE, "how long", required=True, lowest=0),
            Field("instrument", Kind.LINK, "the instrument", link="instrument"),
            Field("batch", Kind.LINK, "the batch, for work on all of it", link="batch"),
            Field("who", Kind.TEXT, "who did it"),
            Field("day", Kind.DAY, "when"),
            NOTE,
        ),
    ),
)
