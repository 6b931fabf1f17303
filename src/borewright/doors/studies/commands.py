"""``borewright yield``, ``borewright batch-fit`` and ``borewright siblings``."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from borewright.doors.answering import Answering, answer, reader
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
from borewright.words import Reader, say

app = typer.Typer(rich_markup_mode=None)


@app.command("yield", cls=Answering)
def yield_(
    file: InstrumentFile,
    within: Annotated[
        float, typer.Option(metavar="CENTS", help="No standard note may be further off.")
    ] = 8.0,
    against_design: Annotated[
        bool,
        typer.Option(
            "--against-design", help="Count from the design's own pitches, not the pitch standard."
        ),
    ] = False,
    barrels: Annotated[
        float,
        typer.Option(
            metavar="MM", help="Each gets the barrel that suits it, this much shorter or longer."
        ),
    ] = 0.0,
    instruments: Annotated[int, typer.Option(metavar="N", help="How many the batch is.")] = 12,
    wanted: Annotated[
        float,
        typer.Option(metavar="PERCENT", help="Yield that tolerances are allotted for; 0 for none."),
    ] = 90.0,
    printer: Annotated[
        str, typer.Option(metavar="NAME", help="A printer by name, or a profile (.toml).")
    ] = "tall frame",
    measured: Annotated[
        list[Path] | None,
        typer.Option(
            metavar="CSV",
            readable=False,
            help="Measured coupon or gauged body of this printer and lot. Repeat it for several.",
        ),
    ] = None,
    reamed_bore: Annotated[
        float | None,
        typer.Option(metavar="MM", help="Bores are reamed: their scatter, one standard deviation."),
    ] = None,
    reamed_holes: Annotated[
        float | None,
        typer.Option(metavar="MM", help="Holes are reamed: their scatter, one standard deviation."),
    ] = None,
    nozzle: Annotated[
        float | None, typer.Option(metavar="MM", help="Judge another nozzle too.")
    ] = None,
    nozzle_price: Annotated[
        str, typer.Option(metavar="AMOUNT", help="What the other nozzle costs.")
    ] = "0",
    nozzle_measured: Annotated[
        list[Path] | None,
        typer.Option(
            metavar="CSV", readable=False, help="A coupon printed with the other nozzle, measured."
        ),
    ] = None,
    offers: Annotated[
        Path | None,
        typer.Option(
            metavar="CSV", readable=False, help="Table of other ways of making, with prices."
        ),
    ] = None,
    batch: Annotated[
        str | None,
        typer.Option(metavar="BATCH", help="Batch of the ledger that prices are taken from."),
    ] = None,
    ledger: Annotated[
        str,
        typer.Option(
            "--ledger", metavar="PLACE", envvar="BOREWRIGHT_LEDGER", show_envvar=False,
            help="The ledger: a file, or a postgresql:// address.",
        ),
    ] = "workshop.ledger",
    note_minutes: Annotated[
        str, typer.Option(metavar="MINUTES", help="To put one note right by hand.")
    ] = "15",
    beyond: Annotated[
        float, typer.Option(metavar="CENTS", help="Further off nobody puts a note right by hand.")
    ] = 15.0,
    builds: Annotated[
        int, typer.Option(metavar="N", help="How many virtual instruments are built.")
    ] = 2048,
    seed: Annotated[int, typer.Option(metavar="N", help="Of the random numbers.")] = 1,
    keep: Annotated[
        Path | None,
        typer.Option(
            metavar="DIR",
            readable=False,
            help="Keep all builds here (Parquet); a study cut short goes on from them.",
        ),
    ] = None,
    output: Annotated[
        Path | None,
        typer.Option(
            metavar="DIR", readable=False, help="Write two pages (PDF) and charts into this folder."
        ),
    ] = None,
    workers: Annotated[
        int, typer.Option(metavar="N", help="Processes of this machine; 0 works in one.")
    ] = 0,
    cluster: Annotated[
        str | None,
        typer.Option(metavar="ADDRESS", help="A Dask scheduler, as tcp://host:8786, to work on."),
    ] = None,
    fingerings: Fingerings = None,
    closed_forms: ClosedForms = None,
    as_json: AsJson = False,
) -> None:  # fmt: skip
    """Foretell how many of a batch will be in tune as made.

    Builds thousands of virtual instruments that scatter as printer, lot and reamers do, and
    tells which dimensions spoil the batch, which notes to try first, what may scatter how much
    for a wanted yield, and whether a finer nozzle or a tighter reamer is worth its money.
    """
    from borewright.doors.studies.showing import yield_lines
    from borewright.tasks.ledger.costs import amount_from
    from borewright.tasks.studies.answers import YieldWishes
    from borewright.tasks.studies.yields import yield_file

    wishes = YieldWishes(
        within_cents=within,
        beyond_cents=beyond,
        against_design=against_design,
        barrel_mm=barrels,
        instruments=instruments,
        wanted_percent=wanted or None,
        builds=builds,
        seed=seed,
        printer=printer,
        measured=measured or (),
        reamed_bore_mm=reamed_bore,
        reamed_holes_mm=reamed_holes,
        nozzle_mm=nozzle,
        nozzle_price=amount_from(nozzle_price, "--nozzle-price"),
        nozzle_measured=nozzle_measured or (),
        offers=offers,
        note_minutes=amount_from(note_minutes, "--note-minutes"),
    )
    place = None if batch is None else ledger
    with at_work(reader(), say("batch")) as (progress, cancel):
        found = yield_file(
            file, wishes, fingerings=fingerings, ledger=place, batch=batch, keep=keep,
            output=output, words=reader(), workers=workers, cluster=cluster,
            side_holes=level_of(closed_forms), progress=progress, cancel=cancel,
        )  # fmt: skip
    answer(found.as_dict(), lambda words: yield_lines(words, found), as_json)


@app.command("batch-fit", cls=Answering)
def batch_fit(
    file: InstrumentFile,
    output: Annotated[
        Path | None,
        typer.Option(metavar="NEW", readable=False, help="Where to save the fitted instrument."),
    ] = None,
    within: Annotated[
        float, typer.Option(metavar="CENTS", help="No standard note may be further off.")
    ] = 8.0,
    barrels: Annotated[
        float,
        typer.Option(
            metavar="MM", help="Each gets the barrel that suits it, this much shorter or longer."
        ),
    ] = 0.0,
    printer: Annotated[
        str, typer.Option(metavar="NAME", help="A printer by name, or a profile (.toml).")
    ] = "tall frame",
    measured: Annotated[
        list[Path] | None,
        typer.Option(
            metavar="CSV",
            readable=False,
            help="Measured coupon or gauged body of this printer and lot. Repeat it for several.",
        ),
    ] = None,
    reamed_bore: Annotated[
        float | None,
        typer.Option(metavar="MM", help="Bores are reamed: their scatter, one standard deviation."),
    ] = None,
    reamed_holes: Annotated[
        float | None,
        typer.Option(metavar="MM", help="Holes are reamed: their scatter, one standard deviation."),
    ] = None,
    builds: Annotated[
        int, typer.Option(metavar="N", help="How many virtual instruments are built.")
    ] = 2048,
    seed: Annotated[int, typer.Option(metavar="N", help="Of the random numbers.")] = 1,
    keywork: Keywork = None,
    fingerings: Fingerings = None,
    force: Force = False,
    closed_forms: ClosedForms = None,
    as_json: AsJson = False,
) -> None:
    """Fit so that most of a whole batch is in tune.

    The best single instrument on paper is not the best batch: notes that scatter over the edge
    weigh more here. Every design keeps to the limits of a fit; the one whose batch is surely
    better is saved, otherwise the usual one.
    """
    from borewright.tasks.studies.answers import YieldWishes
    from borewright.tasks.studies.batch_fits import batch_fit_sentences, fit_batch_file

    wishes = YieldWishes(
        within_cents=within,
        barrel_mm=barrels,
        builds=builds,
        seed=seed,
        printer=printer,
        measured=measured or (),
        reamed_bore_mm=reamed_bore,
        reamed_holes_mm=reamed_holes,
    )
    with at_work(reader(), say("fitting")) as (progress, cancel):
        done = fit_batch_file(
            file, output, wishes, keywork=keywork, fingerings=fingerings, force=force,
            side_holes=level_of(closed_forms), progress=progress, cancel=cancel,
        )  # fmt: skip

    def lines(words: Reader) -> list[str]:
        told = [*batch_fit_sentences(done), *done.notes]
        return [*map(words.tell, told), words("saved   {path}", path=done.output)]

    answer(done.as_dict(), lines, as_json)


@app.command(cls=Answering)
def siblings(
    file: InstrumentFile,
    only: Annotated[
        list[str] | None,
        typer.Option(metavar="PITCH", help="Only this one, such as A or 'B-flat 442'; repeat it."),
    ] = None,
    output: Annotated[
        Path | None,
        typer.Option(metavar="DIR", readable=False, help="Save the instruments in this folder."),
    ] = None,
    keywork: Keywork = None,
    fingerings: Fingerings = None,
    closed_forms: ClosedForms = None,
    as_json: AsJson = False,
) -> None:
    """Try one set of keys on bodies of other pitches.

    B-flat at 440 and 442 Hz, A, C and E-flat: once with every key where it is, barrel and bell
    taking what they can, and once with body and keys stretched to the pitch; and what of the
    keywork must change. Each is a whole fit: minutes for all.
    """
    from borewright.doors.studies.showing_siblings import sibling_lines
    from borewright.tasks.studies.siblings import siblings_file

    with at_work(reader(), say("fitting")) as (progress, cancel):
        found = siblings_file(
            file, only=only or (), output=output, keywork=keywork, fingerings=fingerings,
            side_holes=level_of(closed_forms), progress=progress, cancel=cancel,
        )  # fmt: skip
    answer(found.as_dict(), lambda words: sibling_lines(words, found), as_json)
