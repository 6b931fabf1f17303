"""The commands of the play test: takes, as-built, diagnose, correct, compare.

Only light modules are loaded here; a command loads its room in its body.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Annotated

import typer

from borewright.doors.answering import Answering, answer, reader
from borewright.doors.arguments import AsJson, Fingerings, InstrumentFile, Pulled
from borewright.doors.progress import at_work
from borewright.words import say

__all__ = ["app"]

app = typer.Typer(rich_markup_mode=None)

NotesFile = Annotated[
    Path, typer.Argument(metavar="NOTES", readable=False, help="Notes written by takes (CSV).")
]

Readings = Annotated[
    Path | None,
    typer.Option(metavar="READINGS", readable=False, help="Gauge and leak readings (CSV)."),
]
TakesOf = Annotated[
    str, typer.Option(metavar="NAME", help="Whose takes, where NOTES holds several.")
]


@app.command(cls=Answering)
def takes(
    recordings: Annotated[
        list[Path],
        typer.Argument(
            metavar="RECORDING...",
            readable=False,
            help="WAV, FLAC, OGG, MP3, M4A, Opus or WebM files.",
        ),
    ],
    instrument: Annotated[
        Path,
        typer.Option(metavar="FILE", readable=False, help="Instrument file of what was played."),
    ],
    temperature: Annotated[float, typer.Option(metavar="C", help="Room temperature, Celsius.")],
    a4: Annotated[
        float | None, typer.Option(metavar="HZ", help="Reference A, if not the instrument's.")
    ] = None,
    order: Annotated[
        str,
        typer.Option(
            metavar="NOTES",
            help="Notes in the order of playing, with commas between; 'scale' for all standard "
            "fingerings of the table. Without it notes are named by the nearest semitone.",
        ),
    ] = "",
    name: Annotated[
        str, typer.Option(metavar="NAME", help="What was played, if not FILE's own name.")
    ] = "",
    player: Annotated[str, typer.Option(metavar="NAME", help="Who played.")] = "",
    mouthpiece: Annotated[str, typer.Option(metavar="NAME", help="On which mouthpiece.")] = "",
    day: Annotated[str, typer.Option(metavar="DAY", help="On which day.")] = "",
    output: Annotated[
        Path | None,
        typer.Option(metavar="NOTES", readable=False, help="Write or extend a table of notes."),
    ] = None,
    plot: Annotated[
        Path | None,
        typer.Option(metavar="FOLDER", readable=False, help="Draw the pitch track of each."),
    ] = None,
    pulled: Pulled = None,
    fingerings: Fingerings = None,
    as_json: AsJson = False,
) -> None:
    """Measure the steady notes of recordings."""
    from borewright.doors.playing.showing import takes_lines
    from borewright.tasks.playing.recordings import measure_takes

    with at_work(reader(), say("takes")) as (progress, cancel):
        done = measure_takes(
            recordings, instrument, temperature, a4=a4, order=order, name=name, player=player,
            mouthpiece=mouthpiece, day=day, output=output, plot=plot, fingerings=fingerings,
            pulled=pulled or (), words=reader(), progress=progress, cancel=cancel,
        )  # fmt: skip
    answer(done.as_dict(), lambda words: takes_lines(words, done), as_json)


@app.command("as-built", cls=Answering)
def as_built(
    file: InstrumentFile,
    readings: Annotated[
        Path | None,
        typer.Argument(
            metavar="READINGS", readable=False,
            help="Gauge and leak readings (CSV); without it they are read from the keyboard.",
        ),
    ] = None,
    output: Annotated[
        Path | None,
        typer.Option(metavar="NEW", readable=False, help="Where to save the revision."),
    ] = None,
    notes: Annotated[
        Path | None,
        typer.Option(metavar="NOTES", readable=False, help="Takes, to fit parameters from."),
    ] = None,
    fit: Annotated[
        str,
        typer.Option(
            metavar="PARAMETERS",
            help="What to fit, with commas between, such as mouthpiece.chamber_mm3.",
        ),
    ] = "",
    pulled: Pulled = None,
    fingerings: Fingerings = None,
    as_json: AsJson = False,
) -> None:  # fmt: skip
    """Revise an instrument by gauge readings."""
    from borewright.doors.playing.showing import as_built_lines
    from borewright.tasks.playing.revising import revise_file

    done = revise_file(
        file, readings, output, notes=notes, fit=fit, fingerings=fingerings, typed=_typed(),
        pulled=pulled or (),
    )  # fmt: skip
    answer(done.as_dict(), lambda words: as_built_lines(words, done), as_json)


def _typed() -> Iterator[str]:
    """Lines from the keyboard, which is asked first, or from a pipe."""
    if sys.stdin.isatty():
        words = reader()
        told = words(
            "One reading a line: diameter L3 7.42, height R1 8.1, lift AE 3.0, length barrel "
            "65.5, bore barrel 10 14.95 (station first), leak upper joint 0.8. "
            "An empty line ends."
        )
        print(told, file=sys.stderr)
    yield from sys.stdin


@app.command(cls=Answering)
def diagnose(
    file: InstrumentFile,
    notes: NotesFile,
    readings: Readings = None,
    name: TakesOf = "",
    player_cents: Annotated[
        float | None,
        typer.Option(metavar="CENTS", help="How far the player's own pitch may be off, as one "
                     "standard deviation; 3 where it is not given."),
    ] = None,
    pulled: Pulled = None,
    fingerings: Fingerings = None,
    as_json: AsJson = False,
) -> None:  # fmt: skip
    """Name the causes after a play test, and the reading that would decide."""
    from borewright.doors.playing.showing_causes import diagnosis_lines
    from borewright.tasks.playing.diagnosing import diagnose_file

    with at_work(reader(), say("diagnosis")) as (progress, cancel):
        found = diagnose_file(
            file, notes, readings=readings, name=name, player_cents=player_cents,
            fingerings=fingerings, pulled=pulled or (), progress=progress, cancel=cancel,
        )  # fmt: skip
    answer(found.model_dump(mode="json"), lambda words: diagnosis_lines(words, found), as_json)


@app.command(cls=Answering)
def correct(
    file: InstrumentFile,
    notes: NotesFile,
    readings: Readings = None,
    name: TakesOf = "",
    next_print: Annotated[
        bool, typer.Option("--next-print", help="Change the design instead of this instrument.")
    ] = False,
    build_up: Annotated[
        bool, typer.Option("--build-up", help="Allow filler and tape, too.")
    ] = False,
    steps: Annotated[int, typer.Option(metavar="N", help="At most so many steps.")] = 8,
    player_cents: Annotated[
        float,
        typer.Option(metavar="CENTS", help="How far a player's own pitch may be off, as one "
                     "standard error."),
    ] = 0.0,
    picture: Annotated[
        Path | None,
        typer.Option(metavar="PICTURE", readable=False, help="Draw the chart (.svg or .png)."),
    ] = None,
    earlier: Annotated[
        list[str] | None,
        typer.Option(metavar="FILE=NOTES", help="Takes from before steps that were done, and "
                     "the instrument's file of that time (repeatable)."),
    ] = None,
    pulled: Pulled = None,
    fingerings: Fingerings = None,
    as_json: AsJson = False,
) -> None:  # fmt: skip
    """Advise what to change after a play test."""
    from borewright.doors.playing.showing import plan_lines
    from borewright.tasks.playing.correcting import correct_file, draw_plan

    with at_work(reader(), say("corrections")) as (progress, cancel):
        plan = correct_file(
            file, notes, readings=readings, name=name, next_print=next_print, build_up=build_up,
            steps=steps, player_cents=player_cents, fingerings=fingerings, pulled=pulled or (),
            earlier=earlier or (), progress=progress, cancel=cancel,
        )  # fmt: skip
    if picture is not None:
        draw_plan(file, plan, picture, words=reader())
    answer(plan.model_dump(mode="json"), lambda words: plan_lines(words, plan), as_json)


@app.command(cls=Answering)
def compare(
    notes: Annotated[
        Path | None,
        typer.Argument(metavar="NOTES", readable=False, help="Notes written by takes (CSV)."),
    ] = None,
    first: Annotated[str, typer.Option(metavar="NAME", help="The one.")] = "",
    second: Annotated[str, typer.Option(metavar="NAME", help="The other.")] = "",
    by: Annotated[
        str, typer.Option(metavar="COLUMN", help="What differs: instrument or mouthpiece.")
    ] = "instrument",
    matters: Annotated[
        float, typer.Option(metavar="CENTS", help="The smallest difference that matters.")
    ] = 4.0,
    blind: Annotated[
        int, typer.Option(metavar="PAIRS", help="Write a blind order list of so many pairs.")
    ] = 0,
    output: Annotated[
        Path | None,
        typer.Option(metavar="FOLDER", readable=False, help="Where the blind lists go."),
    ] = None,
    seed: Annotated[int, typer.Option(metavar="N", help="Another number, another order.")] = 1,
    as_json: AsJson = False,
) -> None:
    """Compare two instruments fairly.

    With --first and --second: their takes in pairs. With NOTES alone: instrument, player, day
    and repeat told apart. With --blind: the order to record in, and who plays must not see
    the key.
    """
    from borewright.doors.playing.showing import blind_lines, campaign_lines, comparison_lines
    from borewright.tasks.playing.comparing import compare_file, separate_file, write_blind_lists

    if blind:
        lists = write_blind_lists(first, second, blind, seed, output)
        answer(lists, lambda words: blind_lines(words, lists), as_json)
    elif first or second:
        compared = compare_file(notes, first, second, by, matters)
        answer(
            compared.model_dump(mode="json"),
            lambda words: comparison_lines(words, compared),
            as_json,
        )
    else:
        campaign, needed = separate_file(notes, matters)
        data = {**campaign.model_dump(mode="json"), "takes_advised": needed}
        answer(data, lambda words: campaign_lines(words, campaign, needed, matters), as_json)
