"""The commands that move dimensions: ``fit``, ``seat``, ``stand`` and ``choices``.

Only light modules are loaded here; a command loads its rooms in its body.
"""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from borewright.doors.answering import STOPPED, Answering, answer, reader
from borewright.doors.arguments import (
    AsJson,
    ClosedForms,
    Fingerings,
    Force,
    InstrumentFile,
    Keywork,
    level_of,
)
from borewright.doors.progress import at_work
from borewright.words import say

app = typer.Typer()


@app.command(cls=Answering)
def fit(
    file: InstrumentFile,
    keywork: Keywork = None,
    output: Annotated[
        Path | None,
        typer.Option(metavar="NEW", readable=False, help="Where to save the fitted instrument."),
    ] = None,
    fingerings: Fingerings = None,
    report: Annotated[
        Path | None,
        typer.Option(metavar="FOLDER", readable=False, help="Write the report into this folder."),
    ] = None,
    force: Force = False,
    closed_forms: ClosedForms = None,
    as_json: AsJson = False,
) -> None:
    """Bring the notes in tune within the keywork.

    Moves the holes, and whatever else FILE sets free, no further than keywork, body and
    process allow, and tells which limit stops a note that stays out of reach.

    Ctrl-C ends the search: the best so far is saved, and the exit code is 130.
    """
    from borewright.doors.showing_fits import fit_lines
    from borewright.tasks.fitting import fit_file

    with at_work(reader(), say("fitting")) as (progress, cancel):
        done = fit_file(
            file,
            output,
            keywork=keywork,
            fingerings=fingerings,
            report=report,
            force=force,
            side_holes=level_of(closed_forms),
            words=reader(),
            progress=progress,
            cancel=cancel,
        )
    answer(done.as_dict(), lambda words: fit_lines(words, done), as_json)
    if not done.result.finished:
        raise typer.Exit(STOPPED)


@app.command(cls=Answering)
def seat(
    file: InstrumentFile,
    keywork: Keywork = None,
    output: Annotated[
        Path | None,
        typer.Option(metavar="NEW", readable=False, help="Where to save the seated instrument."),
    ] = None,
    force: Force = False,
    as_json: AsJson = False,
) -> None:
    """Set the holes where the keywork is.

    Stations outside their key's window, bearings, pads, lifts and measured seats become those of
    the survey; sizes give way as little as walls, pads and rings ask. Before a fit or after one.
    """
    from borewright.doors.showing_seating import seating_lines
    from borewright.tasks.seating import seat_file

    done = seat_file(file, output, keywork=keywork, force=force)
    answer(done.as_dict(), lambda words: seating_lines(words, done), as_json)


@app.command(cls=Answering)
def stand(
    file: InstrumentFile,
    output: Annotated[
        Path,
        typer.Option(metavar="NEW", readable=False, help="Where to save the keys as they stand."),
    ],
    keys: Annotated[
        Path | None,
        typer.Option(
            metavar="SURVEY",
            readable=False,
            help="Key survey (CSV), in place of the one FILE names: of another body, say.",
        ),
    ] = None,
    force: Annotated[
        bool, typer.Option("--force", help="Allow the key survey itself to be replaced.")
    ] = False,
    as_json: AsJson = False,
) -> None:
    """Stand a set of keys on the body of FILE.

    The holes stay; every hinge, with all that turns on it, goes where its pads and rings lie on
    this body, and its posts are set anew: station, bearing, foot, height, and how the hole leans.
    The other way round is seat, which moves holes to keys.
    """
    from borewright.doors.showing_standing import standing_lines
    from borewright.tasks.standing import stand_keys

    made = stand_keys(file, output, keys=keys, force=force)
    answer(made.as_dict(), lambda words: standing_lines(words, made), as_json)


@app.command(cls=Answering)
def choices(
    file: InstrumentFile,
    keywork: Keywork = None,
    fingerings: Fingerings = None,
    take: Annotated[
        int | None, typer.Option(min=0, metavar="N", help="Take this design, by its number.")
    ] = None,
    only: Annotated[
        str | None,
        typer.Option(metavar="NAMES", help="Take only these holes and parts; fit the rest anew."),
    ] = None,
    output: Annotated[
        Path | None,
        typer.Option(metavar="NEW", readable=False, help="Where to save what is taken."),
    ] = None,
    picture: Annotated[
        Path | None,
        typer.Option(metavar="PICTURE", readable=False, help="Draw the chart (.svg or .png)."),
    ] = None,
    force: Force = False,
    as_json: AsJson = False,
) -> None:
    """Show designs from your drawing to the best in tune.

    Each is the best for its price of a move: what it gains in cents, and how far it leaves the
    drawing. Take one, or some holes and parts of one.
    """
    from borewright.doors.showing_choices import choice_lines
    from borewright.tasks.choices import choose_from_file, draw_family

    with at_work(reader(), say("designs")) as (progress, cancel):
        done = choose_from_file(
            file,
            output,
            keywork=keywork,
            fingerings=fingerings,
            take=take,
            only=[name.strip() for name in only.split(",")] if only else None,
            force=force,
            progress=progress,
            cancel=cancel,
        )
    if picture is not None:
        draw_family(done, picture, words=reader())
    answer(done.as_dict(), lambda words: choice_lines(words, done), as_json)
