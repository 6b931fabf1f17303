"""Options and arguments that the ledger's commands share."""

from __future__ import annotations

import getpass
from collections.abc import Sequence
from pathlib import Path
from typing import Annotated

import typer

from borewright.errors import LedgerError
from borewright.words import say

LedgerPlace = Annotated[
    str,
    typer.Option(
        "--ledger", metavar="PLACE", envvar="BOREWRIGHT_LEDGER", show_envvar=False,
        help="The ledger: a file, or a postgresql:// address.",
    ),
]  # fmt: skip
Who = Annotated[
    str,
    typer.Option(
        envvar="BOREWRIGHT_WHO", show_envvar=False, help="Who does this; your account otherwise."
    ),
]
Reason = Annotated[str, typer.Option(help="Why; it is kept in the history.")]
Table = Annotated[str, typer.Argument(metavar="TABLE", help="The table, such as lot or check.")]
Code = Annotated[str, typer.Argument(metavar="CODE", help="The record's code or serial number.")]
Fields = Annotated[
    list[str] | None, typer.Argument(metavar="NAME=VALUE", help="Fields with their values.")
]

Sensitivity = Annotated[
    Path | None,
    typer.Option(metavar="FILE", help="Sensitivities, as `borewright sensitivity --json` prints."),
]


def author(who: str) -> str:
    """Who writes: as given, or the account's name."""
    if who:
        return who
    try:
        return getpass.getuser()
    except (KeyError, OSError) as error:
        raise LedgerError(
            say("it is not known who writes this"),
            place="--who",
            remedy=say("Give your name with --who."),
        ) from error


def values_of(fields: Sequence[str] | None) -> dict[str, str]:
    """``name=value`` arguments as a mapping; LedgerError for what is no such pair."""
    found: dict[str, str] = {}
    for one in fields or []:
        name, sign, value = one.partition("=")
        name = name.strip().replace("-", "_")
        if not sign or not name:
            raise LedgerError(
                say("'{given}' is not a field with its value", given=one[:40]),
                place=say("arguments"),
                remedy=say(
                    'Write it like plating=silver; quote values with blanks: "note=two words".'
                ),
            )
        if name in found:
            cause = say("'{name}' is given twice", name=name)
            raise LedgerError(cause, place=say("arguments"), remedy=say("Give it once."))
        found[name] = value
    return found
