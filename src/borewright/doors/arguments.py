"""Arguments and options that several commands share.

``readable=False``: whether a path will do is for the rooms to say, in their words.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from borewright.model import SideHoles

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
ClosedForms = Annotated[
    bool | None,
    typer.Option(
        "--closed-forms/--solved-holes",
        help="Compute side holes and bell by closed forms, for study, or solved in 3-D for their "
        "real shape. Default: as FILE was fitted, else solved.",
        show_default=False,
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


def level_of(closed_forms: bool | None) -> SideHoles | None:
    """The level that an option asks for; None where it was not given."""
    if closed_forms is None:
        return None
    from borewright.model import SideHoles

    return SideHoles.CLOSED_FORMS if closed_forms else SideHoles.SOLVED
