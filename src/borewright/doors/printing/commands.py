"""``borewright print``, ``borewright coupon`` and ``borewright drawings``."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from borewright.doors.answering import FAULTS, Answering, answer, reader
from borewright.doors.arguments import AsJson, InstrumentFile, Keywork
from borewright.doors.help import WrongUse
from borewright.doors.progress import at_work
from borewright.words import say

app = typer.Typer(rich_markup_mode=None)

Folder = Annotated[Path, typer.Option(metavar="DIR", help="Folder for the files.")]
Printer = Annotated[
    str, typer.Option(metavar="NAME", help="A printer by name, or a profile (.toml).")
]
Stuff = Annotated[
    str, typer.Option(metavar="NAME", help="A material by name, or a profile (.toml).")
]


@app.command("print", cls=Answering)
def print_(
    file: InstrumentFile,
    output: Folder,
    printer: Printer = "tall frame",
    material: Stuff = "plain PLA",
    measured: Annotated[
        list[Path] | None,
        typer.Option(
            metavar="CSV",
            readable=False,
            help="Measured coupon or gauged body: compensate by it. Repeat it for several.",
        ),
    ] = None,
    lot: Annotated[
        str, typer.Option(metavar="TEXT", help="Lot of the material, as on its coupon.")
    ] = "",
    ream_bore: Annotated[
        float, typer.Option(metavar="MM", min=0, help="Print bores under size by this.")
    ] = 0.0,
    ream_holes: Annotated[
        float, typer.Option(metavar="MM", min=0, help="Print tone holes under size by this.")
    ] = 0.0,
    drawings: Annotated[bool, typer.Option(help="Draw sections and templates too.")] = True,
    keywork: Keywork = None,
    despite_faults: Annotated[
        bool, typer.Option("--despite-faults", help="Go on where faults were found.")
    ] = False,
    as_json: AsJson = False,
) -> None:
    """Make everything for the printer and the bench.

    Bodies with posts, seats and marks, cut into pieces where the printer is too small; checks of
    walls and keywork; a picture; drawings; and a plan with mass, time, advice and cautions.

    Where a fault was found nothing is made, unless --despite-faults says to go on: then the
    plan says so. A part that this printer cannot make is told of, and the others are made. The
    exit code is 1 either way.
    """
    from borewright.doors.printing.showing import job_lines, refusal_lines
    from borewright.tasks.checking import findings_as_dict
    from borewright.tasks.gate import FaultsFoundError
    from borewright.tasks.printing.printing import PrintWishes, print_file

    wishes = PrintWishes(
        printer=printer,
        material=material,
        measured=measured or (),
        lot=lot,
        ream_bore_mm=ream_bore,
        ream_hole_mm=ream_holes,
        drawings=drawings,
        keywork=keywork,
        despite_faults=despite_faults,
    )
    try:
        with at_work(reader(), say("solids")) as (progress, cancel):
            job = print_file(file, output, wishes, words=reader(), progress=progress, cancel=cancel)
    except FaultsFoundError as refusal:
        found = refusal.findings
        answer(findings_as_dict(found), lambda words: refusal_lines(words, found), as_json)
        raise typer.Exit(FAULTS) from None
    answer(job.as_dict(), lambda words: job_lines(words, job), as_json)
    if any(finding.severity == "fault" for finding in job.findings):
        raise typer.Exit(FAULTS)


@app.command(cls=Answering)
def coupon(
    output: Annotated[
        Path | None, typer.Option(metavar="DIR", help="Write solids and sheet into this folder.")
    ] = None,
    measured: Annotated[
        list[Path] | None,
        typer.Option(
            metavar="CSV",
            readable=False,
            help="Show what a measured sheet says; repeat it for several of a lot.",
        ),
    ] = None,
    label: Annotated[
        str, typer.Option(metavar="TEXT", help="Lot of the material: cut into the coupon.")
    ] = "",
    printer: Printer = "small cube",
    as_json: AsJson = False,
) -> None:
    """Make the calibration coupon, or read a measured one."""
    if (output is None) == (not measured):
        raise WrongUse(say("give either --output to make it, or --measured to read one"))
    from borewright.doors.printing.showing import calibration_lines, written_lines
    from borewright.tasks.printing.coupon import make_coupon, read_coupon

    if output is not None:
        with at_work(reader(), say("solids")) as (progress, cancel):
            made = make_coupon(
                output, label, printer, words=reader(), progress=progress, cancel=cancel
            )
        answer(made.as_dict(), lambda words: written_lines(words, _files(made)), as_json)
    elif measured:
        found = read_coupon(measured)
        answer(
            found.model_dump(mode="json"), lambda words: calibration_lines(words, found), as_json
        )


@app.command("key-fit", cls=Answering)
def key_fit(
    file: InstrumentFile,
    output: Folder,
    keys: Annotated[
        list[str] | None,
        typer.Option("--key", metavar="NAME", help="A key to try; repeat it. Otherwise all."),
    ] = None,
    printer: Printer = "tall frame",
    material: Stuff = "plain PLA",
    as_json: AsJson = False,
) -> None:
    """Make slices of the body to try keys on, and jigs to drill their posts.

    The slices have seats, chimneys and posts of the joint and nothing else; jigs seat on the
    joint, located by a pin in a tone hole. With them comes a list of what to try and feel.
    """
    from borewright.doors.printing.showing import key_fit_lines
    from borewright.tasks.printing.key_fit import make_key_fit

    made = make_key_fit(
        file, output, keys or (), printer=printer, material=material, words=reader()
    )
    answer(made.as_dict(), lambda words: key_fit_lines(words, made), as_json)
    if any(finding.severity == "fault" for finding in made.findings):
        raise typer.Exit(FAULTS)


@app.command("keys", cls=Answering)
def keys_sheet(
    file: InstrumentFile,
    output: Annotated[Path, typer.Option(metavar="PDF", help="The sheet to write.")],
    material: Stuff = "plain PLA",
    as_json: AsJson = False,
) -> None:
    """Write a sheet of the keys: how they move, posts, springs, warmth, hands.

    Lifts, travels and weights of every key; where each post stands and how it is drilled; how
    far each spring is bent for its weight; end play in cold and warmth; and, for a player, what
    each finger meets and how the distances suit small, middling and large hands.
    """
    from borewright.doors.printing.showing import written_lines
    from borewright.tasks.keys_sheet import write_keys_sheet

    made = write_keys_sheet(file, output, material=material, words=reader())
    answer({"files": [str(made)]}, lambda words: written_lines(words, [made]), as_json)


def _files(made: object) -> list[str]:
    from borewright.tasks.printing.coupon import MadeCoupon

    assert isinstance(made, MadeCoupon)
    solids = [name for p in made.solids.parts for name in (p.step, p.stl, p.three_mf)]
    return [*solids, *made.solids.beds, str(made.sheet)]


@app.command(cls=Answering)
def drawings(
    file: InstrumentFile,
    output: Folder,
    paper: Annotated[
        str | None,
        typer.Option(metavar="A4|A3", help="Paper of templates; otherwise the smallest that does."),
    ] = None,
    keywork: Keywork = None,
    as_json: AsJson = False,
) -> None:
    """Draw every part for the shop, with 1:1 templates and inspection sheets.

    PDF, SVG and DXF of a section with dimensions, tolerances, details and tables on A3, and of
    the outside unrolled at 1:1 as a drilling template; inspection sheets to write on, and the
    same as a table that is read back as gauge readings; the gauge plan as CSV.
    """
    if paper not in (None, "A4", "A3"):
        raise WrongUse(say("paper is A4 or A3"))
    from borewright.doors.printing.showing import written_lines
    from borewright.tasks.printing.drawing import make_drawings

    made = make_drawings(file, output, keywork=keywork, paper=paper, words=reader())
    data = {"files": [str(path) for path in made]}
    answer(data, lambda words: written_lines(words, made), as_json)
