"""Arguments and options that several commands share.

``readable=False``: whether a path will do is for the rooms to say, in their words.
"""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

InstrumentFile = Annotated[
    Path, typer.Argument(metavar="FILE", help="Instrument file (TOML).", readable=False)
]
Fingerings = Annotated[
    Path | None,
    typer.Option(
        metavar="CSV", readable=False, help="Fingering table, in place of the one FILE names."
    ),
]
Keywork = Annotated[
    Path | None,
    typer.Option(
        metavar="SURVEY",
        readable=False,
        help="Keywork survey (CSV), in place of the one FILE names.",
    ),
]
AsJson = Annotated[bool, typer.Option("--json", help="Answer in JSON.")]
