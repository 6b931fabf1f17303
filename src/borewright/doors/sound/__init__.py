"""Commands that blow a design: the blowing table, and sound to listen to."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from borewright.doors.answering import Answering, answer, reader
from borewright.doors.arguments import AsJson, Fingerings, InstrumentFile
from borewright.doors.progress import at_work
from borewright.words import say

__all__ = ["app"]

app = typer.Typer()

Pressure = Annotated[
    float,
    typer.Option(metavar="SHARE", help="Mouth pressure, as a share of what closes the reed."),
]
Embouchure = Annotated[
    float,
    typer.Option(metavar="NUMBER", help="Flow through the open slit over what the bore can carry."),
]
Distance = Annotated[float, typer.Option(metavar="METRES", help="How far off the listener is.")]


@app.command(cls=Answering)
def blowing(
    file: InstrumentFile,
    note: Annotated[
        str | None,
        typer.Option(metavar="NOTE", help="Only this written note or fingering, such as B4."),
    ] = None,
    pressure: Pressure = 0.5,
    embouchure: Embouchure = 0.3,
    distance: Distance = 1.0,
    output: Annotated[
        Path | None,
        typer.Option(metavar="DIR", readable=False, help="Folder for the picture."),
    ] = None,
    fingerings: Fingerings = None,
    as_json: AsJson = False,
) -> None:
    """Blow every fingering in time.

    Tells from which pressure on it speaks, in which register, at which pitch, and how the
    pitch moves with breath and lip.
    """
    from borewright.doors.sound.showing import blowing_lines
    from borewright.tasks.sound.blowing import blow_file

    with at_work(reader(), say("blowing")) as (progress, cancel):
        done = blow_file(
            file, note=note, pressure=pressure, embouchure=embouchure, distance=distance,
            output=output, fingerings=fingerings, words=reader(),
            progress=progress, cancel=cancel,
        )  # fmt: skip
    answer(done.as_dict(), lambda words: blowing_lines(words, done), as_json)


@app.command(cls=Answering)
def sound(
    file: InstrumentFile,
    output: Annotated[
        Path, typer.Option(metavar="DIR", readable=False, help="Folder for sound and sheet.")
    ],
    notes: Annotated[
        str, typer.Option(metavar="NOTES", help="Notes or fingerings, with commas between.")
    ] = "",
    scale: Annotated[
        bool, typer.Option("--scale", help="Every standard fingering in turn.")
    ] = False,
    midi: Annotated[
        Path | None,
        typer.Option(metavar="MIDI", readable=False, help="A short tune, as it sounds."),
    ] = None,
    against: Annotated[
        Path | None,
        typer.Option(metavar="OTHER", readable=False, help="Another design, for comparison."),
    ] = None,
    seconds: Annotated[
        float, typer.Option(metavar="S", help="Length of a note, except in MIDI.")
    ] = 0.8,
    pressure: Pressure = 0.5,
    embouchure: Embouchure = 0.3,
    distance: Distance = 1.0,
    fingerings: Fingerings = None,
    as_json: AsJson = False,
) -> None:
    """Render a design to sound.

    Writes WAV files at equal loudness and a sheet that says what they can and cannot tell.
    Turn the volume down before you listen.
    """
    from borewright.doors.sound.showing import sound_lines
    from borewright.tasks.sound.rendering import sound_files

    with at_work(reader(), say("sound")) as (progress, cancel):
        done = sound_files(
            file, output, notes=notes, scale=scale, midi=midi, against=against, seconds=seconds,
            pressure=pressure, embouchure=embouchure, distance=distance, fingerings=fingerings,
            words=reader(), progress=progress, cancel=cancel,
        )  # fmt: skip
    answer(done.model_dump(mode="json"), lambda words: sound_lines(words, done), as_json)
