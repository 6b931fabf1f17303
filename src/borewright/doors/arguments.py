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
SolvedHoles = Annotated[
    bool,
    typer.Option(
        "--solved-holes",
        help="Side holes solved in 3-D for their real shape (extra solve3d), not by closed forms.",
    ),
]
Pulled = Annotated[
    list[str] | None,
    typer.Option(
        metavar="PART=MM",
        help="A joint drawn apart, such as barrel=1.5; give it again for another joint.",
    ),
]
Force = Annotated[bool, typer.Option("--force", help="Allow FILE itself to be replaced.")]
AsJson = Annotated[bool, typer.Option("--json", help="Answer in JSON.")]
