"""Whether a ledger's file is damaged, asked when reading it has failed."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

from borewright.ledger.gathering.readable import record_of, version_of
from borewright.ledger.kinds import RECORD_KINDS


def is_damaged(path: Path) -> bool:
    """True where the file is out of order, or a row holds what no release writes."""
    try:
        with closing(
            sqlite3.connect(path.absolute().as_uri() + "?mode=ro", uri=True)
        ) as connection:
            connection.row_factory = sqlite3.Row
            if connection.execute("PRAGMA integrity_check(1)").fetchone()[0] != "ok":
                return True
            for name, kind in RECORD_KINDS.items():
                for row in connection.execute(f'SELECT * FROM "{name}"'):
                    if record_of(kind, dict(row)) is None:
                        return True
            return any(
                version_of(dict(row)) is None for row in connection.execute("SELECT * FROM history")
            )
    except sqlite3.OperationalError as error:
        told = str(error).lower()
        return not any(word in told for word in ("locked", "unable to open", "readonly", "full"))
    except (sqlite3.Error, ValueError, OverflowError):
        return True
