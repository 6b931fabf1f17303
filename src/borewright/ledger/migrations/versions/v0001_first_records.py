"""The first records: buying, making, proving, selling, with history and kept files."""

from alembic import op
from sqlalchemy import Column, UniqueConstraint

from borewright.ledger.migrations.building import (
    BYTES,
    DAY,
    FIGURE,
    NOTE,
    SHA256,
    SHORT,
    TEXT,
    WHOLE,
    YES_NO,
    column,
    record_table,
    refuse,
)

revision = "0001"
down_revision = None


def upgrade() -> None:
    """Make every table."""
    op.create_table(
        "counter", Column("name", SHORT, primary_key=True), column("last", WHOLE, needed=True)
    )
    op.create_table(
        "stored_file",
        Column("sha256", SHA256, primary_key=True),
        column("name", TEXT, needed=True),
        column("content", BYTES, needed=True),
    )
    op.create_table(
        "history",
        Column("id", WHOLE, primary_key=True, autoincrement=False),
        column("kind", SHORT, needed=True),
        column("code", TEXT, needed=True),
        column("version", WHOLE, needed=True),
        column("at", SHORT, needed=True),
        column("who", TEXT, needed=True),
        column("action", SHORT, needed=True),
        column("reason", TEXT, needed=True),
        column("data", NOTE, needed=True),
        UniqueConstraint("kind", "code", "version", name="uq_history_kind"),
    )
    op.execute("INSERT INTO counter (name, last) VALUES ('history', 0)")
    for deed in ("UPDATE", "DELETE"):
        refuse("history", deed, "history is never changed")
    _make_record_tables()


def _make_record_tables() -> None:
    record_table(
        "expense",
        column("per", SHORT, needed=True),
        column("price", SHORT, needed=True),
        column("currency", TEXT),
        column("plating", TEXT),
        column("note", NOTE),
    )
    record_table(
        "lot",
        column("stuff", SHORT, needed=True),
        column("description", TEXT),
        column("supplier", TEXT),
        column("supplier_lot", TEXT),
        column("received", DAY),
        column("moisture_percent", FIGURE),
        column("dried_hours", FIGURE),
        column("dried_c", FIGURE),
        column("coupon_offset_mm", FIGURE),
        column("coupon_passed", YES_NO),
        column("unit_price", SHORT),
        column("unit", TEXT),
        column("currency", TEXT),
        column("note", NOTE),
    )
    record_table(
        "order",
        column("customer", TEXT, needed=True),
        column("contact", TEXT),
        column("quantity", WHOLE, needed=True),
        column("material", TEXT),
        column("barrels", TEXT),
        column("plating", TEXT),
        column("extras", TEXT),
        column("unit_price", SHORT),
        column("currency", TEXT, needed=True),
        column("tax_percent", SHORT),
        column("shipping_price", SHORT),
        column("deposit", SHORT),
        column("deposit_paid", DAY),
        column("quoted", DAY),
        column("accepted", DAY),
        column("promised", DAY),
        column("delivered", DAY),
        column("note", NOTE),
    )
    record_table(
        "printer",
        column("height_mm", FIGURE),
        column("power_w", FIGURE),
        column("out_of_order", YES_NO),
        column("note", NOTE),
    )
    record_table("setting", column("value", TEXT, needed=True), column("note", NOTE))
    record_table("source", column("contact", TEXT), column("verdict", SHORT), column("note", NOTE))
    record_table(
        "design",
        column("name", TEXT, needed=True),
        column("file", SHA256, needed=True, leads_to="stored_file.sha256"),
        column("file_name", TEXT, needed=True),
        column("parts", TEXT, needed=True),
        column("sealed_parts", TEXT),
        column("note", NOTE),
    )
    record_table(
        "quote",
        column("source", TEXT, needed=True, leads_to="source.code"),
        column("plating", TEXT, needed=True),
        column("unit_price", SHORT, needed=True),
        column("currency", TEXT, needed=True),
        column("minimum_order", WHOLE, needed=True),
        column("tooling_price", SHORT),
        column("lead_time_days", WHOLE),
        column("valid_until", DAY),
        column("note", NOTE),
    )
    record_table(
        "sample",
        column("source", TEXT, needed=True, leads_to="source.code"),
        column("plating", TEXT),
        column("carton", TEXT),
        column("received", DAY),
        column("verdict", SHORT),
        column("survey_file", SHA256, leads_to="stored_file.sha256"),
        column("note", NOTE),
    )
    record_table(
        "batch",
        column("design", TEXT, needed=True, leads_to="design.code"),
        column("quantity", WHOLE, needed=True),
        column("plating", TEXT),
        column("started", DAY),
        column("due", DAY),
        column("note", NOTE),
    )
    record_table(
        "lever",
        column("sample", TEXT, needed=True, leads_to="sample.code"),
        column("key", TEXT, needed=True),
        column("hole", TEXT, needed=True),
        column("touch_arm_mm", FIGURE, needed=True),
        column("pad_arm_mm", FIGURE, needed=True),
        column("lift_mm", FIGURE),
        column("spring_at_pad_g", FIGURE),
        column("rest", SHORT, needed=True),
        column("touch_height_mm", FIGURE),
        column("lowest_touch_mm", FIGURE),
        column("highest_touch_mm", FIGURE),
        column("end_play_mm", FIGURE),
        column("note", NOTE),
    )
    record_table(
        "measurement",
        column("sample", TEXT, needed=True, leads_to="sample.code"),
        column("feature", TEXT, needed=True),
        column("measure", TEXT, needed=True),
        column("nominal_mm", FIGURE),
        column("value_mm", FIGURE, needed=True),
        column("gauge", TEXT),
        column("who", TEXT),
        column("day", DAY),
        column("note", NOTE),
    )
    record_table(
        "print_job",
        column("printer", TEXT, needed=True, leads_to="printer.code"),
        column("lot", TEXT, needed=True, leads_to="lot.code"),
        column("design", TEXT, needed=True, leads_to="design.code"),
        column("part", TEXT, needed=True),
        column("settings", TEXT),
        column("orientation", TEXT),
        column("started", DAY),
        column("hours", FIGURE),
        column("mass_g", FIGURE),
        column("height_mm", FIGURE),
        column("outcome", SHORT, needed=True),
        column("note", NOTE),
    )
    record_table(
        "trial",
        column("sample", TEXT, needed=True, leads_to="sample.code"),
        column("test", SHORT, needed=True),
        column("feature", TEXT),
        column("force_n", FIGURE),
        column("deflection_mm", FIGURE),
        column("cycles", WHOLE),
        column("passed", YES_NO, needed=True),
        column("report_file", SHA256, leads_to="stored_file.sha256"),
        column("note", NOTE),
    )
    record_table(
        "instrument",
        column("design", TEXT, needed=True, leads_to="design.code"),
        column("batch", TEXT, leads_to="batch.code"),
        column("order", TEXT, leads_to="order.code"),
        column("note", NOTE),
    )
    record_table(
        "assembly",
        column("instrument", TEXT, needed=True, leads_to="instrument.code"),
        column("keywork_lot", TEXT, needed=True, leads_to="lot.code"),
        column("pad_lot", TEXT, leads_to="lot.code"),
        column("spring_lot", TEXT, leads_to="lot.code"),
        column("cork_lot", TEXT, leads_to="lot.code"),
        column("coating_lot", TEXT, leads_to="lot.code"),
        column("who", TEXT, needed=True),
        column("day", DAY),
        column("note", NOTE),
    )
    record_table(
        "check",
        column("instrument", TEXT, needed=True, leads_to="instrument.code"),
        column("subject", SHORT, needed=True),
        column("feature", TEXT),
        column("value", FIGURE),
        column("unit", TEXT),
        column("lowest", FIGURE),
        column("highest", FIGURE),
        column("passed", YES_NO, needed=True),
        column("gauge", TEXT),
        column("who", TEXT, needed=True),
        column("day", DAY),
        column("note", NOTE),
    )
    record_table(
        "labour",
        column("step", TEXT, needed=True),
        column("hours", FIGURE, needed=True),
        column("instrument", TEXT, leads_to="instrument.code"),
        column("batch", TEXT, leads_to="batch.code"),
        column("who", TEXT),
        column("day", DAY),
        column("note", NOTE),
    )
    record_table(
        "part",
        column("name", TEXT, needed=True),
        column("design", TEXT, needed=True, leads_to="design.code"),
        column("print_job", TEXT, leads_to="print_job.code"),
        column("instrument", TEXT, leads_to="instrument.code"),
        column("outcome", SHORT, needed=True),
        column("note", NOTE),
    )
    record_table(
        "service",
        column("instrument", TEXT, needed=True, leads_to="instrument.code"),
        column("day", DAY, needed=True),
        column("complaint", TEXT, needed=True),
        column("work", TEXT),
        column("hours", FIGURE),
        column("charge", SHORT),
        column("currency", TEXT),
        column("warranty", YES_NO),
        column("note", NOTE),
    )
