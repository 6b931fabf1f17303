"""One record as it stands: correct it with a reason, take it out of use, see its history.

What is typed is kept when somebody else changes the record meanwhile: the page says what they
changed, and writes nothing until the person has seen it.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Any

from nicegui import ui
from nicegui.elements.mixins.text_element import TextElement

from borewright.bench.page import Page
from borewright.bench.shop.book import attempt, opened
from borewright.bench.shop.papers import OF, papers_of
from borewright.bench.shop.record_form import RecordForm, title
from borewright.bench.shop.record_history import history
from borewright.bench.shop.record_words import differences, label, local_time, typed_text, upper
from borewright.bench.widgets import button, heading, table, text
from borewright.bench.widgets.record_field import RecordField
from borewright.bench.words import _
from borewright.errors import BorewrightError
from borewright.ledger import correct_record, record_kind
from borewright.ledger.fields import Kind, read_value
from borewright.ledger.writing import REASON
from borewright.tasks.ledger.designs import values_with_file

if TYPE_CHECKING:
    from borewright.ledger import Ledger


class OpenRecord:
    """The record that is looked at, in the slot that is open; LedgerError where there is none."""

    def __init__(self, page: Page, kind: str, code: str) -> None:
        self.page, self.kind, self.code = page, record_kind(kind), code
        self._record = opened(page.workbench).get(kind, code)
        self._seen, self._writing = int(str(self._record["version"])), False
        made = heading(upper(title(self.kind, code)), 3)
        made.props('tabindex="-1" data-mark="record-title"')
        self._state = text("", small=True)
        self._files = ui.element("div").classes("bw-row")
        self._conflict = ui.element("div").classes("bw-conflict").props('role="alert"')
        self._conflict.props["data-mark"] = "conflict"
        with ui.element("form").props("novalidate") as self._whole:
            self._form = RecordForm(page, self.kind, self._record, prefix="correct-")
            self._reason = RecordField(
                upper(_.tell(REASON.words)), "", needed=True, mark="correct-reason",
                keep=self._form.keep("reason"),
                note=_("It stays in the history beside your name."),
            )  # fmt: skip
            with ui.element("div").classes("bw-row"):
                save = button(
                    _("Save the correction"), _nothing, primary=True, mark="save-correction"
                )
                save.props["type"] = "submit"
                button(_("As it was"), self._reset, mark="reset-correction")
                button(_("Take it out of use"), self._withdraw, mark="withdraw")
        self._whole.on("submit.prevent", lambda _event: self._save())
        self._said = text("").props('role="status" data-mark="correction-said"')
        self._history = ui.element("div").props('data-mark="history"')
        self._draw_around()

    def _draw_around(self) -> None:
        """Everything but the fields: version, kept file, history."""
        record, book = self._record, opened(self.page.workbench)
        words = _("Version {number}", number=record["version"])
        if record["withdrawn"]:
            words += " · " + _("out of use")
        self._state.set_text(words)
        self._whole.set_visibility(not record["withdrawn"] or bool(self._form.typed()))
        self._files.clear()
        with self._files:
            for field in self.kind.fields:
                if field.kind is Kind.FILE and record[field.name]:
                    self._kept(book, label(field), str(record[field.name]))
            if self.kind.name in set(OF.values()) and not record["withdrawn"]:
                button(
                    _("Papers of it"), partial(papers_of, self.page, self.kind.name, self.code),
                    mark="papers-of",
                )  # fmt: skip
        self._history.clear()
        with self._history:
            history(self.kind, book.history(self.kind.name, self.code))

    def _kept(self, book: Ledger, words: str, sha256: str) -> None:
        name, content = book.kept_file(sha256)

        def send() -> None:
            ui.download.content(content, name)

        button(f"{words}: {name}", send, mark="kept-file")

    # Saving ----------------------------------------------------------------------------------

    def _save(self) -> None:
        changes, file = self._form.typed(), self._form.file
        well = self._form.check() & self._reason_given()
        if not well:
            self._said.set_text(_("Nothing was written yet: look at the fields marked."))
            self._form.first_wrong()
            return
        if not changes and not file:
            self._said.set_text(_("Nothing is changed yet, so there is nothing to write."))
            return

        def act(book: Ledger, who: str) -> None:
            given: dict[str, Any] = dict(changes)
            if file:
                path = self.page.workbench.folder.path(file)
                given = {**values_with_file(book, self.kind.name, given, path)}
            correct_record(
                book, self.kind.name, self.code, given, who=who,
                reason=self._reason.value, version=int(str(self._record["version"])),
            )  # fmt: skip

        self._attempt(act, _("The correction is written."))

    def _withdraw(self) -> None:
        if not self._reason_given():
            self._said.set_text(_("Nothing was written yet: look at the fields marked."))
            return

        def act(book: Ledger, who: str) -> None:
            version = int(str(self._record["version"]))
            book.withdraw(
                self.kind.name, self.code, who=who, reason=self._reason.value, version=version
            )

        self._attempt(act, _("It is out of use; its history stays."))

    def _reason_given(self) -> bool:
        try:
            read_value(self.kind.name, REASON, self._reason.value)
        except BorewrightError as error:
            self._reason.fail(error)
            return False
        self._reason.fail(None)
        return True

    def _attempt(self, act: Any, done: str) -> None:
        """Write; where that is refused, everything typed stays and the reason is said here."""
        self._writing = True  # what this page writes itself is no news to it
        error = attempt(self.page, act)
        self._writing = False
        if error is None:
            self._take(self._newest())
            self._said.set_text(done)
            return
        self._said.set_text("")
        if self._newest()["version"] != self._record["version"]:
            self._moved_on()
        elif self._form.show_at_field(error):
            self._form.first_wrong()
        else:
            self.page.fail(error)

    # When somebody else writes ---------------------------------------------------------------

    def _newest(self) -> dict[str, Any]:
        return opened(self.page.workbench).get(self.kind.name, self.code)

    def look_again(self) -> None:
        """Somebody wrote into the ledger: show what changed here, and keep what is typed."""
        if self._writing:
            return
        self._form.offer_links()
        newest = self._newest()
        if int(str(newest["version"])) == self._seen:
            return
        if self._form.typed() or self._form.file or self._reason.value.strip():
            self._moved_on()
        else:
            self._take(newest)

    def _take(self, record: dict[str, Any]) -> None:
        """Show a version with nothing typed."""
        self._record, self._seen = record, int(str(record["version"]))
        self._form.take(record)
        self._reason.show("")
        self._conflict.clear()
        self._draw_around()

    def _reset(self) -> None:
        self._take(self._newest())
        self._said.set_text("")

    def _moved_on(self) -> None:
        """Say who was quicker and what they changed; nothing typed is touched."""
        newest = self._newest()
        self._seen = int(str(newest["version"]))
        last = opened(self.page.workbench).history(self.kind.name, self.code)[-1]
        typed = self._form.typed()
        rows = [
            (label(field), was, now, typed.get(field.name, "–"))
            for field, was, now in differences(self.kind, self._record, newest)
        ]
        self._conflict.clear()
        with self._conflict:
            TextElement(tag="strong", text=_("Somebody was quicker"))
            words = (
                _("{who} took this record out of use while you typed ({when}: {reason}).",
                  who=last.who, when=local_time(last.at), reason=last.reason)
                if newest["withdrawn"]
                else _("{who} corrected this record while you typed ({when}: {reason}).",
                       who=last.who, when=local_time(last.at), reason=last.reason)
            )  # fmt: skip
            text(words)
            text(_("What you typed is still in the fields below, and nothing of it is written."))
            if rows:
                headings = (_("field"), _("was"), _("is now"), _("you typed"))
                table(_("What they changed"), headings, rows)
            if not newest["withdrawn"]:
                button(_("Go on from theirs"), self._go_on, primary=True, mark="go-on")
        self._draw_history_of(newest)

    def _draw_history_of(self, newest: dict[str, Any]) -> None:
        kept, self._record = self._record, newest
        self._draw_around()
        self._record = kept

    def _go_on(self) -> None:
        """Take over what they wrote where nothing was typed; what was typed stays."""
        newest = self._newest()
        now = {f.name: typed_text(f, newest[f.name]) for f, _was, _now in differences(
            self.kind, self._record, newest)}  # fmt: skip
        self._form.go_on_from(newest, now)
        self._record, self._seen = newest, int(str(newest["version"]))
        self._conflict.clear()
        self._draw_around()
        self._said.set_text(_("Look at the fields, then save the correction again."))


def _nothing() -> None:
    """The form's own submit does it, also when Enter is pressed in a field."""
