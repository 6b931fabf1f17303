"""Gathering what can still be read of a damaged ledger or backup into a new ledger.

The damaged file is never changed. Its pages (or a backup's members) are read one by one, rows and
history are held against each other, and a new ledger is written that is whole in itself; what is
lost is listed. Records are rebuilt from their history where their own row is damaged, and the
other way round.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from borewright.errors import LedgerError
from borewright.ledger.database import is_address
from borewright.words import Message, say

__all__ = ["Gathered", "gather"]


@dataclass(frozen=True)
class Gathered:
    """What was gathered: how many records, entries of history and files, and what is lost."""

    records: int
    entries: int
    files: int
    lost: list[Message]


def gather(damaged: Path | str, place: Path | str, *, who: str) -> Gathered:
    """Gather every readable record of a damaged ledger or backup into a new ledger.

    Parameters
    ----------
    damaged
        A ledger's file or a backup, whole or not; it stays as it is.
    place
        Where the new ledger is made; nothing may be there.
    who
        Who gathers, for the entries that stand for lost ones.

    Raises
    ------
    LedgerError
        Where there is no such file, nothing in it can be read, or something is at ``place``.
    """
    damaged, place = Path(damaged), _free(place)
    found = _gleaned(damaged)
    if not found.versions and not found.rows:
        raise LedgerError(
            say("nothing in it can be read as a record"),
            place=str(damaged),
            remedy=say("Restore a backup; try this on a backup too where none is whole."),
        )
    from borewright.ledger.gathering.building import Rebuilt
    from borewright.ledger.store import Ledger
    from borewright.ledger.verifying import verify_within

    rebuilt = Rebuilt(found, who)
    try:
        ledger = Ledger(place, create=True)
        with ledger.writing() as connection:
            rebuilt.write(connection)
            wrong = verify_within(connection)
            if wrong:
                raise LedgerError(
                    say("what was gathered does not agree ({wrong})", wrong=wrong[0]),
                    place=str(damaged),
                    remedy=say("Keep the damaged file, and restore the newest backup."),
                )
        ledger.engine.dispose()
    except BaseException:
        for ending in ("", "-wal", "-shm"):
            Path(f"{place}{ending}").unlink(missing_ok=True)
        raise
    return Gathered(
        len(rebuilt.records), len(rebuilt.entries), len(found.files) + rebuilt.stand_in,
        rebuilt.lost,
    )  # fmt: skip


def _free(place: Path | str) -> Path:
    if is_address(str(place)):
        raise LedgerError(
            say("a ledger is gathered into a file"),
            place=say("ledger"),
            remedy=say("Name a new file; back it up, and restore that into the server's ledger."),
        )
    if Path(place).exists():
        raise LedgerError(
            say("is there already"),
            place=str(place),
            remedy=say("Name a file that is not there yet."),
        )
    return Path(place)


def _gleaned(damaged: Path):  # type: ignore[no-untyped-def]
    from borewright.ledger.encrypting import is_encrypted
    from borewright.ledger.gathering.from_backup import glean_backup, is_archive
    from borewright.ledger.gathering.from_database import glean_database

    try:
        data = damaged.read_bytes()
    except OSError as error:
        raise LedgerError(
            say("cannot be read ({why})", why=str(error.strerror or error)),
            place=str(damaged),
            remedy=say("Name the damaged ledger's file or a backup."),
        ) from error
    if is_encrypted(data):
        raise LedgerError(
            say("is under a passphrase, and nothing of a damaged one can be opened"),
            place=str(damaged),
            remedy=say("Restore it with its passphrase, or use another backup."),
        )
    return glean_backup(damaged) if is_archive(data) else glean_database(damaged)
