"""Bores measured, laid over each other, blended, bored wider; barrels and bells as products."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from borewright.doors.answering import STOPPED, Answering, answer, reader
from borewright.doors.arguments import AsJson, Fingerings, InstrumentFile, Keywork
from borewright.doors.help import Group
from borewright.doors.progress import at_work
from borewright.words import say

if TYPE_CHECKING:
    from borewright.tasks.bores.families import Wishes

app = typer.Typer(
    name="bore",
    cls=Group,
    help="Measure bores, lay them over each other, blend them, widen them.",
    rich_markup_mode=None,
    no_args_is_help=True,
)
products = typer.Typer(rich_markup_mode=None)

Pictures = Annotated[
    Path | None,
    typer.Option(metavar="DIR", readable=False, help="Write pictures into this folder."),
]
New = Annotated[
    Path | None,
    typer.Option(metavar="NEW", readable=False, help="Where to save the instrument."),
]
OnePart = Annotated[str, typer.Option(metavar="NAME", help="Only this part.")]
Share = Annotated[float | None, typer.Option(metavar="SHARE", min=0, max=1, show_default=False)]


@app.command(cls=Answering)
def measure(
    readings: Annotated[
        Path, typer.Argument(metavar="CSV", readable=False, help="Measured bore (CSV).")
    ],
    part: OnePart = "",
    into: Annotated[
        Path | None,
        typer.Option(metavar="FILE", readable=False, help="Put it into this instrument."),
    ] = None,
    output: New = None,
    plot: Pictures = None,
    as_json: AsJson = False,
) -> None:
    """Smooth a measured bore: cylinders, cones, steps, flare, with 95 % intervals."""
    from borewright.doors.bores.showing import smoothed_lines
    from borewright.tasks.bores.measuring import measure_bore

    done = measure_bore(readings, part=part, into=into, output=output, plot=plot, words=reader())
    answer(done.as_dict(), lambda words: smoothed_lines(words, done), as_json)


@app.command(cls=Answering)
def overlay(
    files: Annotated[
        list[Path],
        typer.Argument(
            metavar="FILE...", readable=False, help="Instruments (TOML) or measured bores (CSV)."
        ),
    ],
    part: OnePart = "",
    every: Annotated[float, typer.Option(metavar="MM", help="Distance of stations.")] = 10.0,
    plot: Pictures = None,
    as_json: AsJson = False,
) -> None:
    """Lay bores over each other: how much wider each is than the first."""
    from borewright.doors.bores.showing import overlay_lines
    from borewright.tasks.bores.measuring import overlay_files

    table, pictures = overlay_files(files, part=part, every_mm=every, plot=plot, words=reader())
    data = table.model_dump(mode="json") | {"pictures": [str(path) for path in pictures]}
    answer(data, lambda words: overlay_lines(words, table, pictures), as_json)


@app.command(cls=Answering)
def blend(
    file: InstrumentFile,
    other: Annotated[
        Path,
        typer.Argument(metavar="OTHER", readable=False, help="Instrument or measured bore."),
    ],
    fraction: Annotated[
        float, typer.Option(metavar="SHARE", min=0, max=1, help="OTHER's share of all features.")
    ] = 0.5,
    barrel: Share = None,
    throat: Share = None,
    cylinder: Share = None,
    flare_start: Share = None,
    flare: Share = None,
    bell: Share = None,
    holes: Share = None,
    refit: Annotated[bool, typer.Option(help="Fit the holes to the blended bore.")] = True,
    character: Annotated[bool, typer.Option("--character", help="Compare character too.")] = False,
    output: New = None,
    plot: Pictures = None,
    keywork: Keywork = None,
    fingerings: Fingerings = None,
    as_json: AsJson = False,
) -> None:
    """Blend two bores feature by feature, and fit the holes again.

    Every feature may have a share of its own, from 0 (FILE's) to 1 (OTHER's). Tells what
    changed, and which holes pay for it.
    """
    from borewright.doors.bores.showing import blend_lines
    from borewright.tasks.bores.blending import blend_files

    shares = {
        "barrel": barrel, "throat": throat, "cylinder": cylinder, "flare_start": flare_start,
        "flare": flare, "bell": bell, "holes": holes,
    }  # fmt: skip
    with at_work(reader(), say("fitting")) as (progress, cancel):
        done = blend_files(
            file, other, fraction,
            {name: each for name, each in shares.items() if each is not None},
            refit=refit, character=character, output=output, plot=plot, keywork=keywork,
            fingerings=fingerings, words=reader(), progress=progress, cancel=cancel,
        )  # fmt: skip
    answer(done.as_dict(), lambda words: blend_lines(words, done), as_json)
    if not done.result.finished:
        raise typer.Exit(STOPPED)


@app.command(cls=Answering)
def perturb(
    file: InstrumentFile,
    widening: Annotated[
        float, typer.Option(metavar="MM", help="Growth of the diameter; negative narrows.")
    ] = 0.05,
    every: Annotated[float, typer.Option(metavar="MM", help="Distance of stations.")] = 5.0,
    plot: Pictures = None,
    fingerings: Fingerings = None,
    as_json: AsJson = False,
) -> None:
    """Show what a wider bore at each station does to every note."""
    from borewright.doors.bores.showing import perturbation_lines
    from borewright.tasks.bores.perturbing import perturb_file

    with at_work(reader(), say("the bore")) as (progress, cancel):
        curves, pictures = perturb_file(
            file, widening_mm=widening, every_mm=every, plot=plot, fingerings=fingerings,
            words=reader(), progress=progress, cancel=cancel,
        )  # fmt: skip
    data = curves.model_dump(mode="json") | {"pictures": [str(path) for path in pictures]}
    answer(data, lambda words: perturbation_lines(words, curves, pictures), as_json)


Sizes = Annotated[str, typer.Option(metavar="MM,MM,...", show_default="around those in place")]
Shapes = Annotated[
    str, typer.Option(metavar="SHAPE,...", help="Inner shapes by name; all without it.")
]
Low = Annotated[float, typer.Option(metavar="CENTS", help="Low end of the range.")]
High = Annotated[float, typer.Option(metavar="CENTS", help="High end of the range.")]
By = Annotated[str, typer.Option(metavar="pitch|twelfths", help="What the range is of.")]
Count = Annotated[int, typer.Option(help="How many to choose.")]
Character = Annotated[bool, typer.Option("--character", help="Character of the chosen.")]


@products.command(cls=Answering)
def barrels(
    file: InstrumentFile,
    lengths: Sizes = "",
    tops: Sizes = "",
    bottoms: Sizes = "",
    shapes: Shapes = "",
    low: Low = -10.0,
    high: High = 10.0,
    by: By = "pitch",
    count: Count = 3,
    character: Character = False,
    plot: Pictures = None,
    fingerings: Fingerings = None,
    as_json: AsJson = False,
) -> None:
    """Map a family of barrels, and choose some that span a range."""
    from borewright.tasks.bores.families import Wishes

    wishes = Wishes("barrel", (lengths, tops, bottoms), shapes, (low, high), by, count, character)
    _answer_family(file, wishes, plot, fingerings, as_json)


@products.command(cls=Answering)
def bells(
    file: InstrumentFile,
    lengths: Sizes = "",
    tops: Sizes = "",
    rims: Sizes = "",
    shapes: Shapes = "",
    low: Low = -2.0,
    high: High = 2.0,
    by: By = "pitch",
    count: Count = 3,
    character: Character = False,
    plot: Pictures = None,
    fingerings: Fingerings = None,
    as_json: AsJson = False,
) -> None:
    """Map a family of bells, and choose some that span a range."""
    from borewright.tasks.bores.families import Wishes

    wishes = Wishes("bell", (lengths, tops, rims), shapes, (low, high), by, count, character)
    _answer_family(file, wishes, plot, fingerings, as_json)


def _answer_family(
    file: Path, wishes: Wishes, plot: Path | None, fingerings: Path | None, as_json: bool
) -> None:
    from borewright.doors.bores.showing import family_lines
    from borewright.tasks.bores.families import family_of_file

    table, pictures = family_of_file(file, wishes, plot=plot, fingerings=fingerings, words=reader())
    data = table.model_dump(mode="json", by_alias=True)
    data["pictures"] = [str(path) for path in pictures]
    answer(data, lambda words: family_lines(words, table, pictures), as_json)
