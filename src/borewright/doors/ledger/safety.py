"""Commands that keep the ledger safe: backup, restore, verify, gather."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Any

import typer

from borewright.doors.answering import FAULTS, Answering, answer
from borewright.doors.arguments import AsJson
from borewright.doors.ledger.options import LedgerPlace, Who, author
from borewright.tasks.ledger.opening import DEFAULT_PLACE, opened
from borewright.words import Message, say

BackupFile = Annotated[Path, typer.Argument(metavar="FILE", help="The backup.")]


def register(app: typer.Typer) -> None:
    """Put these commands on the ledger's command line."""
    for name, command in (
        ("backup", backup),
        ("restore", restore),
        ("verify", verify),
        ("gather", gather),
    ):
        app.command(name, cls=Answering)(command)


Passphrase = Annotated[
    str,
    typer.Option(
        envvar="BOREWRIGHT_PASSPHRASE", show_envvar=True,
        help="Encrypt, or open, the backup with it. Who loses it has lost the backup.",
    ),
]  # fmt: skip


def backup(
    file: BackupFile,
    passphrase: Passphrase = "",
    ledger: LedgerPlace = DEFAULT_PLACE,
    as_json: AsJson = False,
) -> None:
    """Write the whole ledger into one file, and read it back."""
    from borewright.ledger import back_up

    summary = back_up(opened(ledger), file, passphrase)
    answer(
        _as_dict(summary),
        lambda words: [words.tell(_words(summary, say("in {file}", file=file)))],
        as_json,
    )


def restore(
    file: BackupFile,
    replace: Annotated[
        bool, typer.Option("--replace", help="Put it in place of the records there are.")
    ] = False,
    passphrase: Passphrase = "",
    ledger: LedgerPlace = DEFAULT_PLACE,
    as_json: AsJson = False,
) -> None:
    """Bring a backup back, all of it or nothing."""
    from borewright.ledger import restore as bring_back

    summary = bring_back(ledger, file, replace=replace, passphrase=passphrase)
    answer(_as_dict(summary), lambda words: [words.tell(_words(summary, say("restored")))], as_json)


def verify(ledger: LedgerPlace = DEFAULT_PLACE, as_json: AsJson = False) -> None:
    """Compare every record with its history, every file with its hash.

    The exit code is 1 where something is wrong.
    """
    from borewright.ledger import verify as look

    wrong = look(opened(ledger))
    answer(
        {"wrong": [str(each) for each in wrong]},
        lambda words: [words.tell(each) for each in wrong] or [words("The ledger is whole.")],
        as_json,
    )
    if wrong:
        raise typer.Exit(FAULTS)


def gather(
    damaged: Annotated[
        Path,
        typer.Argument(metavar="FILE", readable=False, help="The damaged ledger, or a backup."),
    ],
    ledger: Annotated[
        str,
        typer.Option("--ledger", metavar="NEW", help="The new ledger; nothing may be there yet."),
    ] = "gathered.ledger",
    who: Who = "",
    as_json: AsJson = False,
) -> None:
    """Gather every readable record of a damaged ledger or backup into a new one.

    The damaged file stays as it is. What is lost is listed; the exit code is then 1.
    """
    from borewright.ledger import gather as gather_readable

    found = gather_readable(damaged, ledger, who=author(who))
    answer(
        {
            "records": found.records,
            "entries": found.entries,
            "files": found.files,
            "lost": [str(each) for each in found.lost],
        },
        lambda words: [
            words(
                "{records} records, {entries} entries of history and {files} files are gathered "
                "in {place}.",
                records=found.records, entries=found.entries, files=found.files, place=ledger,
            ),
            *[words.tell(each) for each in found.lost],
        ],
        as_json,
    )  # fmt: skip
    if found.lost:
        raise typer.Exit(FAULTS)


def _as_dict(summary: Any) -> dict[str, Any]:
    return {
        "made_at": summary.made_at,
        "schema": summary.schema,
        "rows": summary.rows,
        "files": summary.files,
    }


def _words(summary: Any, where: Message) -> Message:
    return say(
        "{entries} entries of history and {files} files {where}.",
        entries=summary.rows.get("history", 0),
        files=summary.files,
        where=where,
    )
