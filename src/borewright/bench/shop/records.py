"""Every record of the ledger: find it, look at it, correct it, enter a new one."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Any

from nicegui import ui
from nicegui.elements.mixins.text_element import TextElement

from borewright.bench.page import Page
from borewright.bench.shop.book import attempt, opened
from borewright.bench.shop.record_form import RecordForm, title
from borewright.bench.shop.record_open import OpenRecord
from borewright.bench.shop.record_words import label, noun, tables, value_words
from borewright.bench.widgets import Choice, button, heading, text
from borewright.bench.widgets.number_field import TextField
from borewright.bench.widgets.rows import rows_with_buttons
from borewright.bench.words import _
from borewright.errors import BorewrightError
from borewright.ledger import RECORD_KINDS, record_check, record_kind
from borewright.ledger.fields import Kind, RecordKind
from borewright.tasks.ledger.designs import values_with_file

if TYPE_CHECKING:
    from borewright.ledger import Ledger

#: Rows shown of a table, and fields of each; the rest is found by typing a part of it.
_MOST_ROWS, _MOST_COLUMNS = 25, 5
_WIDEST = 40  # letters of a cell


def look_at(page: Page, kind: str, code: str) -> None:
    """Open a record on this page and go there."""
    page.select(table=kind, record=code)
    page.client.run_javascript(
        "setTimeout(() => { const e = document.querySelector('[data-mark=record-title]');"
        " e?.scrollIntoView({block: 'center'}); e?.focus({preventScroll: true}); }, 150)"
    )


class RecordsCard:
    """Choose a table; its records, the one that is open, and a form for a new one."""

    def __init__(self, page: Page) -> None:
        self.page = page
        wanted = page.selected.get("table", "")
        self._kind = wanted if wanted in RECORD_KINDS else "instrument"
        self._find, self._withdrawn = "", False
        self._open: OpenRecord | None = None
        self._new: RecordForm | None = None
        heading(_("All records"))
        text(
            _(
                "Everything that the ledger keeps, with its history: who wrote it, when and why. "
                "Nothing is overwritten; a correction is a new version."
            )
        )
        with ui.element("div").classes("bw-row"):
            self._choice = Choice(_("Table"), tables(), self._kind, self._choose, mark="table")
            TextField(_("Find"), "", self._search, mark="find-record")
            words = {"": _("in use"), "yes": _("also out of use")}
            Choice(_("Show"), words, "", self._show_withdrawn, mark="show-withdrawn")
        self._list = ui.element("div").props('data-mark="record-list"')
        self._one = ui.element("section").classes("bw-record").props('data-mark="record"')
        with ui.element("details") as self._fold:
            self._summary = TextElement(tag="summary", text="")
            self._form = ui.element("form").props('novalidate data-mark="record-form"')
        self._form.on("submit.prevent", lambda _event: self._add())
        self._done = text("").props('role="status" data-mark="record-added"')
        self._one.set_visibility(False)
        self._shown = ("", "")
        self._draw()
        self.selected()

    # Choosing --------------------------------------------------------------------------------

    def _choose(self, name: str) -> None:
        self._kind, self._find = name, self._find
        self.page.select(table=name, record="")
        self._draw()

    def _search(self, words: str) -> None:
        self._find = words.strip().casefold()
        self._draw_list()

    def _show_withdrawn(self, value: str) -> None:
        self._withdrawn = bool(value)
        self._draw_list()

    def selected(self) -> None:
        """Show the record that the address names."""
        kind, code = self.page.selected.get("table", ""), self.page.selected.get("record", "")
        if (kind, code) == self._shown:
            return
        self._shown = (kind, code)
        if kind in RECORD_KINDS and kind != self._kind:
            self._kind = kind
            self._choice.set(kind)
            self._draw()
        self._one.clear()
        self._open = None
        self._one.set_visibility(bool(code))
        if not code:
            return
        with self._one:
            try:
                self._open = OpenRecord(self.page, self._kind, code)
            except BorewrightError as error:
                text(error.told(_.reader)).props('role="alert"')

    def refresh(self) -> None:
        """Somebody wrote into the ledger; what is typed here stays."""
        self._draw_list()
        if self._new is not None:
            self._new.offer_links()
        if self._open is not None:
            self._open.look_again()

    # The list --------------------------------------------------------------------------------

    def _draw(self) -> None:
        self._draw_list()
        kind = record_kind(self._kind)
        self._summary.set_text(_("Enter a new one: {what}", what=noun(self._kind)))
        self._form.clear()
        with self._form:
            self._new = RecordForm(self.page, kind)
            text(_("* is needed"), small=True)
            add = button(_("Add the record"), _nothing, primary=True, mark="add-record")
            add.props["type"] = "submit"
        self._done.set_text("")

    def _draw_list(self) -> None:
        kind, book = record_kind(self._kind), opened(self.page.workbench)
        found = book.records(kind.name, withdrawn=self._withdrawn)
        rows = [record for record in reversed(found) if self._fits(kind, record)]
        self._list.clear()
        with self._list:
            if not found:
                text(_("Nothing is written down here yet."))
                return
            if not rows:
                text(_("None of {count} holds these letters.", count=len(found)))
                return
            shown = rows[:_MOST_ROWS]
            caption = _("The newest {shown} of {count}", shown=len(shown), count=len(rows))
            fields = [f for f in kind.fields if f.kind not in (Kind.FILE, Kind.NOTE)]
            fields = [f for f in fields if any(r[f.name] is not None for r in shown)]
            fields = fields[:_MOST_COLUMNS]
            rows_with_buttons(
                caption,
                (noun(kind.name), *(label(field) for field in fields)),
                [
                    (_code(each), *(_cell(value_words(f, each[f.name])) for f in fields))
                    for each in shown
                ],
                [
                    [
                        (
                            _("Look at it"),
                            partial(look_at, self.page, kind.name, str(each["code"])),
                            f"look-{kind.name}-{each['code']}",
                        )
                    ]
                    for each in shown
                ],
            )

    def _fits(self, kind: RecordKind, record: dict[str, Any]) -> bool:
        if not self._find:
            return True
        said = [str(record["code"]), *(value_words(f, record[f.name]) for f in kind.fields)]
        return any(self._find in each.casefold() for each in said)

    # A new one -------------------------------------------------------------------------------

    def _add(self) -> None:
        form, kind, bench = self._new, self._kind, self.page.workbench
        if form is None:
            return
        if not form.check():
            self._done.set_text(_("Nothing was written yet: look at the fields marked."))
            form.first_wrong()
            return
        added: list[str] = []

        def act(book: Ledger, who: str) -> None:
            values = {name: typed for name, typed in form.typed().items() if typed.strip()}
            if form.file:
                values = values_with_file(book, kind, values, bench.folder.path(form.file))
            record = (
                record_check(book, values, who=who)
                if kind == "check"
                else book.add(kind, values, who=who)
            )
            added.append(str(record["code"]))

        error = attempt(self.page, act)
        if error is None:
            self._draw()
            words = title(record_kind(kind), added[0])
            self._done.set_text(_("Added: {what}.", what=words))
            return
        self._done.set_text("")
        if form.show_at_field(error):
            form.first_wrong()
        else:
            self.page.fail(error)


def _nothing() -> None:
    """The form's own submit does it, also when Enter is pressed in a field."""


def _code(record: dict[str, Any]) -> str:
    code = str(record["code"])
    return f"{code} ({_('out of use')})" if record["withdrawn"] else code


def _cell(words: str) -> str:
    return words if len(words) <= _WIDEST else f"{words[: _WIDEST - 1]}…"
