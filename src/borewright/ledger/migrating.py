"""Bringing a ledger's tables to the newest schema, with its records, in one transaction."""

from __future__ import annotations

import re
from pathlib import Path

from sqlalchemy import Connection, inspect, text

from borewright.errors import LedgerError
from borewright.ledger.database import RESTORE, damaged
from borewright.ledger.schema import NEWEST, REVISIONS
from borewright.words import Text, say

#: Where the migration scripts stand.
SCRIPTS = Path(__file__).parent / "migrations"


def revision_of(connection: Connection) -> str | None:
    """The schema's revision, or None where the database holds no ledger."""
    names = set(inspect(connection).get_table_names())
    if "alembic_version" not in names:
        if names & {"history", "counter"}:
            raise LedgerError(
                say("holds tables of a ledger without their revision"),
                place=say("ledger"),
                remedy=RESTORE,
            )
        return None
    found = connection.execute(text("SELECT version_num FROM alembic_version")).scalar()
    return None if found is None else str(found)


def check_known(revision: str, place: Text) -> None:
    """Raise LedgerError where a revision is of a newer release than this one."""
    if not re.fullmatch(r"[0-9]{4}", revision):
        raise damaged(place)
    if revision not in REVISIONS:
        raise LedgerError(
            say(
                "has schema {schema}, and this release knows up to {newest}",
                schema=revision[:40],
                newest=NEWEST,
            ),
            place=place,
            remedy=say("Update Borewright; nothing was changed."),
        )


def migrate(connection: Connection, revision: str = NEWEST) -> None:
    """Bring the tables to a revision, inside the connection's own transaction."""
    import logging

    from alembic import command
    from alembic.config import Config

    logging.getLogger("alembic").setLevel(logging.WARNING)
    config = Config()
    # A percent sign in a path would be read as the start of a setting's name.
    config.set_main_option("script_location", str(SCRIPTS).replace("%", "%%"))
    config.attributes["connection"] = connection
    command.upgrade(config, revision)
