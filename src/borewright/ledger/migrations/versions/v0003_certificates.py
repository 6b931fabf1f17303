"""Certificates on record, so that one can be seen to be void; the language of an order's papers."""

from alembic import op

from borewright.ledger.migrations.building import DAY, NOTE, SHORT, TEXT, column, record_table

revision = "0003"
down_revision = "0002"


def upgrade() -> None:
    """Add the table and the column."""
    op.add_column("order", column("language", SHORT))
    record_table(
        "certificate",
        column("instrument", TEXT, needed=True, leads_to="instrument.code"),
        column("sign_off", TEXT, needed=True, leads_to="check.code"),
        column("digest", TEXT, needed=True),
        column("day", DAY, needed=True),
        column("who", TEXT, needed=True),
        column("note", NOTE),
    )
