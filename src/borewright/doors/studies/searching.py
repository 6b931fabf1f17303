"""The command ``borewright try-bores``."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from borewright.doors.answering import Answering, answer, reader
from borewright.doors.arguments import (
    AsJson,
    ClosedForms,
    Fingerings,
    InstrumentFile,
    Keywork,
    level_of,
)
from borewright.doors.columns import columns, signed
from borewright.doors.progress import at_work
from borewright.doors.studies.commands import app as app
from borewright.words import Reader, say


@app.command("try-bores", cls=Answering)
def try_bores(
    file: InstrumentFile,
    features: Annotated[
        Path,
        typer.Option(
            metavar="CSV", readable=False, help="What is varied: feature, from_mm, to_mm."
        ),
    ],
    tries: Annotated[int, typer.Option(metavar="N", help="How many designs are tried.")] = 40,
    seed: Annotated[int, typer.Option(metavar="N", help="Of the random numbers.")] = 1,
    output: Annotated[
        Path | None,
        typer.Option(
            metavar="DIR", readable=False, help="New folder for the best designs and two charts."
        ),
    ] = None,
    keywork: Keywork = None,
    fingerings: Fingerings = None,
    closed_forms: ClosedForms = None,
    as_json: AsJson = False,
) -> None:
    """Search for a better bore and bell within ranges.

    Each design gets its holes fitted anew; what counts is the tuning, and how even strength and
    cut-off run from note to note. Told are those that none other beats in every aim.
    """
    from borewright.tasks.naming import title
    from borewright.tasks.studies.bore_searches import search_file, search_sentences

    with at_work(reader(), say("designs")) as (progress, cancel):
        found = search_file(
            file, features, tries=tries, seed=seed, output=output, keywork=keywork,
            fingerings=fingerings, side_holes=level_of(closed_forms), words=reader(),
            progress=progress, cancel=cancel,
        )  # fmt: skip

    def lines(words: Reader) -> list[str]:
        heads = [words("design"), words("rms"), words("worst"), words("at"), words("strength, dB"),
                 words("cut-off, Hz"), *(one.name for one in found.result.features)]  # fmt: skip
        rows = [
            [
                str(one.number),
                words.number(one.rms_cents, ".2f"),
                signed(words, one.worst_cents),
                one.worst_note,
                words.number(one.strength_step_db, ".2f"),
                words.number(one.cutoff_step_hz, ".0f"),
                *(signed(words, change, 2) for change in one.changes_mm),
            ]
            for one in found.best
        ]
        return [
            words.tell(title(found.instrument)),
            *map(words.tell, search_sentences(found)),
            "",
            *columns(heads, rows, right=(0, 1, 2, *range(4, len(heads)))),
            *(words("saved   {path}", path=path) for path in found.files),
        ]

    answer(found.as_dict(), lines, as_json)
