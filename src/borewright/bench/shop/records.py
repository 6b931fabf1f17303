"""Any record of the ledger: a form made from the table's own fields."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nicegui import ui
from nicegui.elements.mixins.text_element import TextElement

from borewright.bench.page import Page
from borewright.bench.shop.book import opened, write
from borewright.bench.widgets import Choice, button, heading, text
from borewright.bench.widgets.number_field import TextField
from borewright.bench.words import _
from borewright.doors.ledger.records import values_with_file
from borewright.ledger import RECORD_KINDS, record_check, record_kind
from borewright.ledger.fields import Field, Kind

if TYPE_CHECKING:
    from borewright.ledger import Ledger

_MOST_OFFERED = 500


class RecordsCard:
    """Choose a table, fill its fields, add the record; what is wrong is said and kept typed."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self._kind = "instrument"
        self._fields: dict[str, TextField | Choice] = {}
        heading(_("Enter something else"))
        text(
            _(
                "Designs, batches, serial numbers, printed parts, what was fitted, lots, hours. "
                "The tables and their fields are the ledger's own."
            )
        )
        Choice(
            _("Table"),
            {
                name: f"{name.replace('_', ' ')}: {kind.words}"
                for name, kind in RECORD_KINDS.items()
            },
            self._kind,
            self._choose,
            mark="table",
        )
        self._form = ui.element("div").props('data-mark="record-form"')
        self._done = text("").props('role="status" data-mark="record-added"')
        self._choose(self._kind)

    def _choose(self, name: str) -> None:
        self._kind = name
        self._draw()

    def _draw(self) -> None:
        kind = record_kind(self._kind)
        self._form.clear()
        with self._form:
            with ui.element("div").classes("bw-row"):
                needed = " *" if kind.must_be_named else ""
                code = TextField(f"{kind.code_words}{needed}", "", mark="field-code")
                self._fields = {"code": code}
                for field in kind.fields:
                    if field.kind is not Kind.FILE and not self._read_from_file(field.name):
                        self._fields[field.name] = self._field(field)
            if self._kind == "design":
                text(_("The instrument on the bench is kept with it, parts and all."), small=True)
            TextElement(tag="p", text=_("* is needed")).classes("bw-small")
            button(_("Add the record"), self._add, primary=True, mark="add-record")

    def _read_from_file(self, name: str) -> bool:
        """Whether a design's own file answers this field."""
        return self._kind == "design" and name != "note"

    def _field(self, field: Field) -> TextField | Choice:
        label = field.words + (" *" if field.required else "")
        mark = f"field-{field.name}"
        options: list[str] | None = None
        if field.kind is Kind.CHOICE:
            options = [each for each in field.choices if each != "sign-off"]
        elif field.kind is Kind.YES_NO:
            return Choice(label, {"": "–", "yes": _("yes"), "no": _("no")}, "", _ignore, mark=mark)
        elif field.kind is Kind.LINK:
            book = opened(self.page.workbench)
            options = [str(r["code"]) for r in book.records(field.link, limit=_MOST_OFFERED)]
        if options is None:
            return TextField(label, "", mark=mark)
        return Choice(label, {"": "–"} | {each: each for each in options}, "", _ignore, mark=mark)

    def _add(self) -> None:
        values = {name: made.value for name, made in self._fields.items() if made.value.strip()}
        kind, bench = self._kind, self.page.workbench
        added: list[str] = []

        def act(book: Ledger, who: str) -> None:
            given = values
            if kind == "design":
                given = values_with_file(book, kind, values, bench.path)
            if kind == "check":
                record = record_check(book, given, who=who)
            else:
                record = book.add(kind, given, who=who)
            added.append(str(record["code"]))

        if write(self.page, act):
            self._draw()
            self._done.set_text(_("Added: {table} {code}.", table=kind, code=added[0]))
        else:
            self._done.set_text("")


def _ignore(value: str) -> None:
    """A choice that is read when the record is added."""
