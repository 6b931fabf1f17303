"""How a revision makes a table of records; fixed, because released revisions never change."""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa
from alembic import op

TEXT, NOTE, SHORT = sa.String(200), sa.Text(), sa.String(40)
SHA256, BYTES = sa.String(64), sa.LargeBinary()
WHOLE, FIGURE, DAY, YES_NO = sa.Integer(), sa.Float(53), sa.Date(), sa.Boolean()


def column(name: str, kind: Any, *, needed: bool = False, leads_to: str = "") -> sa.Column[Any]:
    """A column, which may lead to another table's code."""
    links = [sa.ForeignKey(leads_to)] if leads_to else []
    return sa.Column(name, kind, *links, nullable=not needed)


def record_table(name: str, *columns: sa.Column[Any]) -> None:
    """A table of records with number, code and version, which refuses deletion."""
    op.create_table(
        name,
        sa.Column("id", WHOLE, primary_key=True, autoincrement=False),
        column("code", TEXT, needed=True),
        *columns,
        column("version", WHOLE, needed=True),
        column("withdrawn", YES_NO, needed=True),
        sa.UniqueConstraint("code", name=f"uq_{name}_code"),
        sa.CheckConstraint("version >= 1", name="version"),
    )
    for one in columns:
        if one.foreign_keys and one.type is not SHA256:
            op.create_index(f"ix_{name}_{one.name}", name, [one.name])
    op.execute(sa.text("INSERT INTO counter (name, last) VALUES (:name, 0)").bindparams(name=name))
    refuse(name, "DELETE", "records are withdrawn, never deleted")


def refuse(table: str, deed: str, why: str) -> None:
    """A trigger in the database itself that refuses to change or delete rows."""
    trigger = f"{table}_no_{deed.lower()}"
    if op.get_bind().dialect.name == "sqlite":
        op.execute(
            f'CREATE TRIGGER {trigger} BEFORE {deed} ON "{table}" '
            f"BEGIN SELECT RAISE(ABORT, '{why}'); END"
        )
        return
    op.execute(
        f"CREATE OR REPLACE FUNCTION {trigger}() RETURNS trigger LANGUAGE plpgsql AS "
        f"$$ BEGIN RAISE EXCEPTION '{why}'; END $$"
    )
    op.execute(
        f'CREATE TRIGGER {trigger} BEFORE {deed} ON "{table}" '
        f"FOR EACH ROW EXECUTE FUNCTION {trigger}()"
    )
