"""Sources compared by what the owner weighs; checks with the temperature they were made at.

A tuning reading without its temperature is worth little, so checks learn to keep it.
"""

from alembic import op

from borewright.ledger.migrations.building import FIGURE, NOTE, SHORT, TEXT, column, record_table

revision = "0002"
down_revision = "0001"


def upgrade() -> None:
    """Add the tables and the column."""
    op.add_column("check", column("temperature_c", FIGURE))
    record_table(
        "criterion",
        column("weight", FIGURE, needed=True),
        column("better", SHORT, needed=True),
        column("unit", TEXT),
        column("note", NOTE),
    )
    record_table(
        "score",
        column("source", TEXT, needed=True, leads_to="source.code"),
        column("criterion", TEXT, needed=True, leads_to="criterion.code"),
        column("value", FIGURE, needed=True),
        column("note", NOTE),
    )
