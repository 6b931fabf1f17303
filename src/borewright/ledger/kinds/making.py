"""What is made: designs, batches, printers, print jobs, instruments and their parts, labour."""

from __future__ import annotations

from datetime import date
from typing import Annotated

from borewright.ledger.fields import Kind
from borewright.ledger.record import Is, Note, Record, record
from borewright.words import Choice, say, say_as


class Outcome(Choice):
    """What came of a print."""

    RUNNING = "running", say_as("print", "running")
    GOOD = "good", say_as("print", "good")
    REJECTED = "rejected", say_as("print", "rejected")


class PartState(Choice):
    """Whether a part can be used."""

    GOOD = "good", say_as("print", "good")
    REJECTED = "rejected", say_as("print", "rejected")


@record(
    "design",
    say_as("record", "design"),
    say("design revisions, each with its file"),
    code=say("the revision's name"),
    named=True,
)
class Design(Record):
    """A revision of a design with its file."""

    name: Annotated[str, Is(say("the instrument's name"))]
    file: Annotated[str, Is(say("the kept file"), kind=Kind.FILE)]
    file_name: Annotated[str, Is(say("the file's name"))]
    parts: Annotated[str, Is(say("names of the printed parts, with semicolons"))]
    sealed_parts: Annotated[str | None, Is(say("parts to be leak tested, with semicolons"))] = None
    note: Note = None


@record(
    "batch",
    say_as("record", "batch"),
    say("instruments made together"),
    code=say("the batch's name"),
    named=True,
)
class Batch(Record):
    """Instruments made together."""

    design: Annotated[str, Is(say("the design"), link="design")]
    quantity: Annotated[int, Is(say("how many"), lowest=1, bounds="instruments")]
    plating: Annotated[str | None, Is(say("the keywork's plating"))] = None
    started: Annotated[date | None, Is(say("the day work starts"))] = None
    due: Annotated[date | None, Is(say("the day all are due"))] = None
    note: Note = None


@record(
    "printer",
    say_as("record", "printer"),
    say("printers"),
    code=say("the printer's name"),
    named=True,
)
class Printer(Record):
    """A printer."""

    height_mm: Annotated[
        float | None,
        Is(say("the tallest part it can print, in mm"), lowest=1, bounds="printer_height_mm"),
    ] = None
    power_w: Annotated[
        float | None, Is(say("mean power while printing, in watts"), lowest=0, bounds="power_w")
    ] = None
    out_of_order: Annotated[bool | None, Is(say("whether it is out of order"))] = None
    note: Note = None


@record("print_job", say_as("record", "print job"), say("print jobs"))
class PrintJob(Record):
    """One print of one part."""

    printer: Annotated[str, Is(say("the printer"), link="printer")]
    lot: Annotated[str, Is(say("the filament's lot"), link="lot")]
    design: Annotated[str, Is(say("the design"), link="design")]
    part: Annotated[str, Is(say("the part's name in the design"))]
    settings: Annotated[str | None, Is(say("nozzle, layer, temperature"))] = None
    orientation: Annotated[str | None, Is(say("how it stood"))] = None
    started: Annotated[date | None, Is(say("the day it began"))] = None
    hours: Annotated[float | None, Is(say("how long it took"), lowest=0, bounds="print_hours")] = (
        None
    )
    mass_g: Annotated[
        float | None, Is(say("the mass used, in grams"), lowest=0, bounds="mass_g")
    ] = None
    height_mm: Annotated[
        float | None, Is(say("its height on the plate, in mm"), lowest=0, bounds="print_height_mm")
    ] = None
    outcome: Annotated[Outcome, Is(say("what came of it"))]
    note: Note = None


@record(
    "instrument",
    say_as("record", "instrument"),
    say("instruments by serial number"),
    code=say("the serial number"),
    named=True,
)
class Instrument(Record):
    """An instrument by its serial number."""

    design: Annotated[str, Is(say("the design"), link="design")]
    batch: Annotated[str | None, Is(say("the batch"), link="batch")] = None
    order: Annotated[str | None, Is(say("the order it is for"), link="order")] = None
    note: Note = None


@record(
    "part",
    say_as("record", "printed part"),
    say("printed parts by serial number"),
    code=say("the part's own number"),
    named=True,
)
class Part(Record):
    """A printed part by its serial number."""

    name: Annotated[str, Is(say("the part's name in the design"))]
    design: Annotated[str, Is(say("the exact design revision"), link="design")]
    print_job: Annotated[str | None, Is(say("the print job"), link="print_job")] = None
    instrument: Annotated[str | None, Is(say("the instrument it is in"), link="instrument")] = None
    outcome: Annotated[PartState, Is(say("its state"))]
    note: Note = None


@record("assembly", say_as("record", "assembly"), say("what went into an instrument"))
class Assembly(Record):
    """What went into an instrument."""

    instrument: Annotated[str, Is(say("the instrument"), link="instrument")]
    keywork_lot: Annotated[str, Is(say("the keywork's lot"), link="lot")]
    pad_lot: Annotated[str | None, Is(say("the pads' lot"), link="lot")] = None
    spring_lot: Annotated[str | None, Is(say("the springs' lot"), link="lot")] = None
    cork_lot: Annotated[str | None, Is(say("the corks' lot"), link="lot")] = None
    coating_lot: Annotated[str | None, Is(say("the coating's lot"), link="lot")] = None
    who: Annotated[str, Is(say("who assembled it"))]
    day: Annotated[date | None, Is(say("the day it was finished"))] = None
    note: Note = None


@record("labour", say_as("record", "labour"), say("hours of work by step"))
class Labour(Record):
    """Hours of work."""

    step: Annotated[str, Is(say("the step, such as fitting keywork"))]
    hours: Annotated[float, Is(say("how long"), lowest=0, bounds="work_hours")]
    instrument: Annotated[str | None, Is(say("the instrument"), link="instrument")] = None
    batch: Annotated[str | None, Is(say("the batch, for work on all of it"), link="batch")] = None
    who: Annotated[str | None, Is(say("who did it"))] = None
    day: Annotated[date | None, Is(say("when"))] = None
    note: Note = None


MAKING: tuple[type[Record], ...] = (
    Design,
    Batch,
    Printer,
    PrintJob,
    Instrument,
    Part,
    Assembly,
    Labour,
)
