"""The command line: a command a step, each answering in text or, with ``--json``, in JSON.

A command imports its rooms in its body, so that ``borewright --help`` answers at once.
"""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from borewright.doors.answering import FAULTS, Answering, answer, reader, run
from borewright.doors.arguments import (
    AsJson,
    ClosedForms,
    Fingerings,
    InstrumentFile,
    Keywork,
    Pulled,
    level_of,
)
from borewright.doors.bores import app as bore_commands
from borewright.doors.bores import products as barrels_and_bells
from borewright.doors.fitting import app as fitting_commands
from borewright.doors.help import Group
from borewright.doors.ledger import app as ledger_commands
from borewright.doors.playing import app as playing_commands
from borewright.doors.printing import app as printing_commands
from borewright.doors.progress import at_work
from borewright.doors.serving import bench
from borewright.doors.sound import app as sound_commands
from borewright.doors.studies import app as study_commands
from borewright.tasks.examples import Example
from borewright.words import say

app = typer.Typer(
    name="borewright",
    cls=Group,
    help="From a survey of bought-in keywork to a printed woodwind that plays in tune.",
    epilog="Lengths in millimetres, temperatures in degrees Celsius, pitches in cents.",
    rich_markup_mode=None,
    add_completion=False,
    no_args_is_help=True,
    pretty_exceptions_enable=False,
)
app.add_typer(barrels_and_bells)
app.add_typer(bore_commands)
app.add_typer(fitting_commands)
app.add_typer(ledger_commands)
app.add_typer(playing_commands)
app.add_typer(printing_commands)
app.add_typer(sound_commands)
app.add_typer(study_commands)


def main() -> None:
    """Run the command line in this process; :mod:`borewright.entry` decides where it runs."""
    run(app)


def _print_version(wanted: bool) -> None:
    if wanted:
        from borewright import __version__

        print(f"borewright {__version__}")
        raise typer.Exit


@app.callback()
def _options(
    version: Annotated[
        bool,
        typer.Option(
            "--version", help="Print the version.", callback=_print_version, is_eager=True
        ),
    ] = False,
) -> None:
    pass


@app.command(cls=Answering)
def tune(
    file: InstrumentFile,
    fingerings: Fingerings = None,
    pulled: Pulled = None,
    error_bars: Annotated[
        bool,
        typer.Option("--error-bars", help="Show how sure each note is, and what makes it unsure."),
    ] = False,
    closed_forms: ClosedForms = None,
    as_json: AsJson = False,
) -> None:
    """Predict the pitch of every fingering."""
    from borewright.doors.showing import tuning_lines
    from borewright.tasks.predicting import predict

    with at_work(reader(), say("side holes")) as (progress, cancel):
        found = predict(
            file,
            fingerings,
            pulled=pulled or (),
            error_bars=error_bars,
            side_holes=level_of(closed_forms),
            progress=progress,
            cancel=cancel,
        )
    answer(
        found.as_dict(),
        lambda words: tuning_lines(words, found.instrument, found.table, found.bars),
        as_json,
    )


@app.command(cls=Answering)
def climates(
    file: InstrumentFile,
    fingerings: Fingerings = None,
    pulled: Pulled = None,
    closed_forms: ClosedForms = None,
    as_json: AsJson = False,
) -> None:
    """Show what cold, warm and hot rooms do, and the warm-up.

    Also how many cents a degree, a reed or a mouthpiece chamber makes in every register.
    """
    from borewright.doors.showing_climates import climate_lines
    from borewright.tasks.climates import in_climates

    with at_work(reader(), say("side holes")) as (progress, cancel):
        found = in_climates(
            file,
            fingerings,
            pulled=pulled or (),
            side_holes=level_of(closed_forms),
            progress=progress,
            cancel=cancel,
        )
    answer(found.as_dict(), lambda words: climate_lines(words, found), as_json)


@app.command(cls=Answering)
def sensitivity(
    file: InstrumentFile,
    note: Annotated[
        str | None,
        typer.Option(metavar="NOTE", help="Only this written note or fingering, such as B4."),
    ] = None,
    fingerings: Fingerings = None,
    closed_forms: ClosedForms = None,
    as_json: AsJson = False,
) -> None:
    """Show what moves each note, in cents for 0.1 mm."""
    from borewright.doors.showing import note_sensitivity_lines, sensitivity_lines
    from borewright.tasks.selecting import only_note

    with at_work(reader(), say("side holes")) as (progress, cancel):
        found = only_note(
            file,
            fingerings,
            note,
            side_holes=level_of(closed_forms),
            progress=progress,
            cancel=cancel,
        )
    lines = note_sensitivity_lines if note else sensitivity_lines
    answer(found.model_dump(mode="json"), lambda words: lines(words, found), as_json)


@app.command(cls=Answering)
def character(
    file: InstrumentFile,
    note: Annotated[
        str | None,
        typer.Option(metavar="NOTE", help="Only this written note or fingering, such as B4."),
    ] = None,
    fingerings: Fingerings = None,
    output: Annotated[
        Path | None,
        typer.Option(metavar="DIR", readable=False, help="Write pictures into this folder."),
    ] = None,
    as_json: AsJson = False,
) -> None:
    """Show how every note will respond and sound.

    Impedance peaks, alignment of the upper resonances, cut-off of the open-hole row, radiated
    share, venting of the register hole, evenness from note to note.
    """
    from borewright.doors.showing_character import character_lines
    from borewright.tasks.character import character_file

    with at_work(reader(), say("character")) as (progress, cancel):
        done = character_file(
            file, fingerings=fingerings, note=note, output=output, words=reader(),
            progress=progress, cancel=cancel,
        )  # fmt: skip
    answer(done.as_dict(), lambda words: character_lines(words, done.table, done.pictures), as_json)


@app.command(cls=Answering)
def differences(
    file: InstrumentFile,
    other: Annotated[
        Path,
        typer.Argument(metavar="OTHER", help="The second instrument file.", readable=False),
    ],
    fingerings: Annotated[
        Path | None,
        typer.Option(
            metavar="CSV",
            readable=False,
            help="Fingering table for both, in place of those they name.",
        ),
    ] = None,
    output: Annotated[
        Path | None,
        typer.Option(metavar="DIR", readable=False, help="Write pictures into this folder."),
    ] = None,
    as_json: AsJson = False,
) -> None:
    """Compare two instruments, note by note.

    Pitch, twelfths and character of the second less the first, and which notes differ most.
    """
    from borewright.doors.showing_character import difference_lines
    from borewright.tasks.character import differences_files

    with at_work(reader(), say("character")) as (progress, cancel):
        done = differences_files(
            file, other, fingerings=fingerings, output=output, words=reader(),
            progress=progress, cancel=cancel,
        )  # fmt: skip
    answer(
        done.as_dict(), lambda words: difference_lines(words, done.found, done.pictures), as_json
    )


@app.command(cls=Answering)
def reference(
    file: InstrumentFile,
    fingering: Annotated[
        str | None,
        typer.Option(
            metavar="NAME",
            help="A written note or a fingering's name; without it, the one of every register "
            "that is furthest out of tune.",
        ),
    ] = None,
    count: Annotated[
        int | None,
        typer.Option(
            min=1, max=12, help="How many resonances; without it, up to the one that sounds."
        ),
    ] = None,
    fingerings: Fingerings = None,
    as_json: AsJson = False,
) -> None:
    """Hold predictions to whole resonators in 3-D.

    Solves all air inside and outside, lossless, on two meshes: seconds for a tube without
    holes, minutes a fingering for a whole instrument. The error bars of this body count with
    what is found. Needs the extra solve3d.
    """
    from borewright.doors.showing_reference import reference_lines
    from borewright.tasks.reference import reference_of

    with at_work(reader(), say("whole resonator")) as (progress, cancel):
        found = reference_of(file, fingerings, fingering, count, progress=progress, cancel=cancel)
    answer(found.as_dict(), lambda words: reference_lines(words, found), as_json)


@app.command(cls=Answering)
def solids(
    file: InstrumentFile,
    output: Annotated[
        Path, typer.Option(metavar="DIR", readable=False, help="Folder for the files.")
    ],
    keywork: Keywork = None,
    as_json: AsJson = False,
) -> None:
    """Write every part as STEP, STL and 3MF.

    STEP is for other shops, STL and 3MF are for printers. Dimensions are nominal. Posts of
    the keywork survey get their seats.
    """
    from borewright.doors.showing import solids_lines
    from borewright.tasks.making import make_solids

    with at_work(reader(), say("solids")) as (progress, cancel):
        made = make_solids(file, output, keywork, progress=progress, cancel=cancel)
    answer(
        made.model_dump(mode="json", by_alias=True),
        lambda words: solids_lines(words, made),
        as_json,
    )


@app.command(cls=Answering)
def check(
    file: InstrumentFile,
    keywork: Keywork = None,
    fingerings: Fingerings = None,
    as_json: AsJson = False,
) -> None:
    """Check instrument, keywork and fingerings.

    The exit code is 0 where there is no fault, and 1 where there are faults.
    """
    from borewright.doors.showing import check_lines
    from borewright.tasks.checking import check_file, findings_as_dict

    findings = check_file(file, keywork=keywork, fingerings=fingerings)
    data = findings_as_dict(findings)
    answer(data, lambda words: check_lines(words, str(file), findings), as_json)
    if data["faults"]:
        raise typer.Exit(FAULTS)


@app.command(cls=Answering)
def new(
    folder: Annotated[
        Path,
        typer.Argument(metavar="FOLDER", readable=False, help="Where to copy it; made if missing."),
    ],
    example: Annotated[Example, typer.Option(help="What to start from.")] = Example.CLARINET,
) -> None:
    """Copy an example to start from.

    The examples are invented. No file is ever replaced.
    """
    from borewright.tasks.examples import copy_example

    made = copy_example(example, folder)
    for path in made:
        print(path)
    words = reader()
    print(words("Next: {command}", command=f"borewright tune {made[0]}"))


@app.command(cls=Answering)
def demo(
    folder: Annotated[
        Path, typer.Argument(metavar="DIR", readable=False, help="Folder for everything made.")
    ] = Path("demo-output"),
) -> None:
    """Go the whole way on the invented clarinet.

    Tunes, fits, checks, makes solids and the report, in a folder of its own: one that is
    new, empty, or holds nothing but files of a former demo.
    """
    from borewright.demo import run_demo

    run_demo(folder, print, reader())


app.command(cls=Answering)(bench)
