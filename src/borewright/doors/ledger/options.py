"""Options and arguments that the ledger's commands share."""

from __future__ import annotations

import getpass
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from borewright.errors import LedgerError

if TYPE_CHECKING:
    from borewright.ledger import Ledger
    from borewright.model import SensitivityMap

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

DEFAULT_PLACE = "workshop.ledger"


def opened(place: str, *, create: bool = False) -> Ledger:
    """The ledger at a place."""
    from borewright.ledger import Ledger

    return Ledger(place, create=create)


def author(who: str) -> str:
    """Who writes: as given, or the account's name."""
    if who:
        return who
    try:
        return getpass.getuser()
    except (KeyError, OSError) as error:
        raise LedgerError(
            "it is not known who writes this", place="--who", remedy="Give your name with --who."
        ) from error


def values_of(fields: Sequence[str] | None) -> dict[str, str]:
    """``name=value`` arguments as a mapping; LedgerError for what is no such pair."""
    found: dict[str, str] = {}
    for one in fields or []:
        name, sign, value = one.partition("=")
        name = name.strip().replace("-", "_")
        if not sign or not name:
            raise LedgerError(
                f"'{one[:40]}' is not a field with its value",
                place="arguments",
                remedy='Write it like plating=silver; quote values with blanks: "note=two words".',
            )
        if name in found:
            raise LedgerError(f"'{name}' is given twice", place="arguments")
        found[name] = value
    return found


def read_file(path: Path) -> bytes:
    """A file's content; LedgerError where it cannot be read."""
    try:
        return path.read_bytes()
    except OSError as error:
        raise LedgerError(f"cannot be read ({error.strerror or error})", place=str(path)) from error


def read_text(path: Path) -> str:
    """A text file's content; LedgerError where it is not UTF-8 text."""
    try:
        return read_file(path).decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise LedgerError(
            "is not UTF-8 text", place=str(path), remedy="Save it as CSV UTF-8."
        ) from error


def read_sensitivities(path: Path) -> SensitivityMap:
    """Sensitivities from the file that the sensitivity command wrote."""
    from pydantic import ValidationError

    from borewright.model import SensitivityMap

    try:
        return SensitivityMap.model_validate_json(read_text(path))
    except ValidationError as error:
        raise LedgerError(
            "holds no sensitivities",
            place=str(path),
            remedy="Write it with `borewright sensitivity FILE --json`.",
        ) from error
