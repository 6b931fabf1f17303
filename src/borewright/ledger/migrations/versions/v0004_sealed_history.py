"""Every entry of the history carries a digest of what it says, so that damage to it is seen.

Entries of older releases are sealed as they stand.
"""

import hashlib

import sqlalchemy as sa
from alembic import op

from borewright.ledger.migrations.building import SHA256, column, refuse

revision = "0004"
down_revision = "0003"

_SAID = ("kind", "code", "version", "at", "who", "action", "reason", "data")
_CHUNK = 1000


def upgrade() -> None:
    """Add the column and seal what there is; the trigger that refuses changes steps aside."""
    connection = op.get_bind()
    op.add_column("history", column("digest", SHA256))
    trigger = "history_no_update"
    on = "" if connection.dialect.name == "sqlite" else " ON history"
    op.execute(f"DROP TRIGGER {trigger}{on}")
    history = sa.table("history", sa.column("id"), sa.column("digest"), *map(sa.column, _SAID))
    rows = connection.execute(sa.select(history.c.id, *[history.c[name] for name in _SAID])).all()
    seal = (
        sa.update(history)
        .where(history.c.id == sa.bindparam("number"))
        .values(digest=sa.bindparam("seal"))
    )
    sealed = [
        {
            "number": row[0],
            "seal": hashlib.sha256("\x1f".join(map(str, row[1:])).encode()).hexdigest(),
        }
        for row in rows
    ]
    for start in range(0, len(sealed), _CHUNK):
        connection.execute(seal, sealed[start : start + _CHUNK])
    refuse("history", "UPDATE", "history is never changed")
