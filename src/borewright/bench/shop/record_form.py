"""The fields of a table as a form, and what is wrong said at the field it is about."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from nicegui import ui

from borewright.bench.folder import Kind as FileKind
from borewright.bench.page import Page
from borewright.bench.shop.book import opened
from borewright.bench.shop.record_words import code_label, label, noun, typed_text
from borewright.bench.widgets.record_field import RecordField, Sort
from borewright.bench.words import _
from borewright.errors import BorewrightError
from borewright.ledger.fields import Field, Kind, RecordKind, code_value, read_value
from borewright.ledger.kinds.proving import SIGN_OFF
from borewright.tasks.ledger.designs import FILE_FIELDS
from borewright.words import place_of

if TYPE_CHECKING:
    from borewright.ledger import Ledger

#: A table with more records than this is not offered as a choice; its codes are typed.
MOST_OFFERED = 500
#: The field that names a file of the folder; it is no field of the ledger.
FILE = "file of the folder"
#: What a design's own file answers.
_READ_FROM_DESIGN = ("name", "file", "file_name", "parts", "sealed_parts")
_SORTS: dict[Kind, Sort] = {
    Kind.NOTE: "lines",
    Kind.DAY: "day",
    Kind.WHOLE: "number",
    Kind.FIGURE: "number",
    Kind.MONEY: "number",
}


class RecordForm:
    """Fields of one table, filled from a record or empty.

    Parameters
    ----------
    page, kind
        Where it stands, and the table.
    record
        What the fields show at first; None for a new record, which also asks for its code.
    only
        Names of the fields wanted, in this order ("code" among them); all by default.
    prefix
        How the fields' marks begin.
    on_typed
        Called after each stroke.
    """

    def __init__(
        self,
        page: Page,
        kind: RecordKind,
        record: Mapping[str, Any] | None = None,
        *,
        only: tuple[str, ...] = (),
        prefix: str = "field-",
        on_typed: Callable[[], Any] | None = None,
    ) -> None:
        self.page, self.kind, self._prefix, self._on_typed = page, kind, prefix, on_typed
        self._record = record
        self.fields: dict[str, RecordField] = {}
        self._known = {each.name: each for each in kind.fields}
        names = only or (*(("code",) if record is None else ()), *self._known)
        book = opened(page.workbench)
        # Another version, or one record more, is another form: nothing old comes back into it.
        which = (
            f"new {book.count(kind.name)}"
            if record is None
            else f"{record['code']} {record['version']}"
        )
        self._keep = f"{kind.name} {which} {prefix}"
        with ui.element("div").classes("bw-record-fields"):
            for name in names:
                if name == "code":
                    self.fields[name] = RecordField(
                        code_label(kind), "", needed=kind.must_be_named, mark=f"{prefix}code",
                        keep=self.keep("code"), on_typed=on_typed,
                    )  # fmt: skip
                elif not self._answered_by_file(name):
                    self.fields[name] = self._field(book, self._known[name])
            if kind.name in FILE_FIELDS and not only:
                self.fields[FILE] = self._file()

    def _answered_by_file(self, name: str) -> bool:
        field = self._known[name]
        new_design = self._record is None and self.kind.name == "design"
        return field.kind is Kind.FILE or (new_design and name in _READ_FROM_DESIGN)

    def _field(self, book: Ledger, field: Field) -> RecordField:
        value = typed_text(field, self._record[field.name]) if self._record else ""
        if self._record is None and field.name == "who":
            value = self.page.selected.get("who", "")
        options = self._options(book, field, value)
        sort = "choice" if options is not None else _SORTS.get(field.kind, "line")
        return RecordField(
            label(field), value, sort, options=options, needed=self._needed(field),
            mark=f"{self._prefix}{field.name}", keep=self.keep(field.name),
            on_typed=self._on_typed,
        )  # fmt: skip

    def keep(self, name: str) -> str:
        """Under which name a field's half-typed text outlives a reload."""
        return f"{self._keep}{name}"

    def _needed(self, field: Field) -> bool:
        """Whether somebody has to fill a field; a new check's verdict follows its reading."""
        judged = self._record is None and self.kind.name == "check" and field.name == "passed"
        return field.required and not judged

    def _options(self, book: Ledger, field: Field, value: str) -> dict[str, str] | None:
        """What a field may say, with its words; None where it is typed."""
        if field.kind is Kind.CHOICE:
            # A sign-off is no reading that somebody enters: it has a button of its own.
            offered = [each for each in field.choices if each != SIGN_OFF or each == value]
            return {"": "–"} | {each.value: _.tell(each.words) for each in offered}
        if field.kind is Kind.YES_NO:
            return {"": "–", "yes": _("yes"), "no": _("no")}
        if field.kind is Kind.LINK:
            codes = [str(r["code"]) for r in book.records(field.link, limit=MOST_OFFERED + 1)]
            if len(codes) <= MOST_OFFERED:
                known = [*codes, *([value] if value and value not in codes else [])]
                return {"": "–"} | {each: each for each in known}
        return None

    def _file(self) -> RecordField:
        """A choice among the folder's files: what is kept with the record."""
        bench, kind = self.page.workbench, self.kind.name
        wanted = {"design": FileKind.INSTRUMENT, "sample": FileKind.SURVEY}.get(kind)
        # What lies in a folder of its own (papers, bodies) was made from the records.
        names = [each.name for each in bench.files(wanted) if "/" not in each.name]
        new_design = self._record is None and kind == "design"
        words = {
            "design": _("Instrument file to keep with it, parts and all"),
            "sample": _("Survey file to keep with it"),
            "trial": _("Report's file to keep with it"),
            "setting": _("For the mark: the SVG file"),
        }
        if kind == "setting":
            names = [each for each in names if each.lower().endswith(".svg")]
        none = {} if new_design else {"": _("as it is") if self._record else "–"}
        return RecordField(
            words[kind], bench.file if new_design else "", "choice",
            options=none | {each: each for each in names}, needed=new_design,
            mark=f"{self._prefix}file", on_typed=self._on_typed,
        )  # fmt: skip

    def offer_links(self) -> None:
        """Offer what the ledger holds by now, where a field names another record."""
        book = opened(self.page.workbench)
        for name, made in self.fields.items():
            field = self._known.get(name)
            if field is not None and field.kind is Kind.LINK:
                options = self._options(book, field, made.value)
                if options is not None:
                    made.offer(options)

    def shown_at_first(self, name: str) -> str:
        """What a field showed before anybody typed."""
        if self._record is None or name not in self._known:
            return ""
        return typed_text(self._known[name], self._record[name])

    @property
    def file(self) -> str:
        """Name of the folder's file that was chosen."""
        return self.fields[FILE].value if FILE in self.fields else ""

    def typed(self) -> dict[str, str]:
        """Fields that say other than they did at first, with what is typed."""
        return {
            name: made.value
            for name, made in self.fields.items()
            if name != FILE and made.value.strip() != self.shown_at_first(name).strip()
        }

    def take(self, record: Mapping[str, Any]) -> None:
        """Show another version of the record in place of what is typed."""
        self._record = record
        for name, made in self.fields.items():
            made.remark("")
            made.show(self.shown_at_first(name))

    def go_on_from(self, record: Mapping[str, Any], theirs: Mapping[str, str]) -> None:
        """Count changes from another version; what was typed stays, the rest is theirs.

        ``theirs`` are the fields that others changed, with what they say now.
        """
        typed = self.typed()
        self._record = record
        for name, now in theirs.items():
            if name not in self.fields:
                continue
            if name in typed:
                self.fields[name].remark(_("is now: {value}", value=now or "–"))
            else:
                self.fields[name].show(now)

    def clear(self) -> None:
        """Empty every field."""
        for name, made in self.fields.items():
            made.show(self.page.workbench.file if name == FILE and made.value else "")

    def check(self) -> bool:
        """Look at everything typed and say at each field what is wrong; whether all is well."""
        for name, made in self.fields.items():
            made.fail(self._fault(name, made.value))
        return not any(made.failed for made in self.fields.values())

    def _fault(self, name: str, typed: str) -> BorewrightError | None:
        try:
            if name == "code":
                code_value(self.kind, typed)
            elif name in self._known and not self._comes_with_file(name):
                field = replace(self._known[name], required=self._needed(self._known[name]))
                read_value(self.kind.name, field, typed)
        except BorewrightError as error:
            return error
        return None

    def _comes_with_file(self, name: str) -> bool:
        """Whether a chosen file answers a field, so that it may stay empty."""
        return bool(self.file) and FILE_FIELDS.get(self.kind.name) == name

    def show_at_field(self, error: BorewrightError) -> bool:
        """Show an error of the ledger at the field it names; False where it names none."""
        steps = place_of(error.place)
        name = "" if steps[:1] != (self.kind.name,) else str((*steps, "code")[1])
        if name not in self.fields:
            return False
        self.fields[name].fail(error)
        return True

    def first_wrong(self) -> None:
        """Put the cursor into the first field that something is wrong with."""
        for name, made in self.fields.items():
            if made.failed:
                mark = "file" if name == FILE else name
                self.page.client.run_javascript(
                    f"document.querySelector('[data-mark=\"{self._prefix}{mark}\"]').focus()"
                )
                return


def title(kind: RecordKind, code: str) -> str:
    """What a record is called in a heading."""
    return f"{noun(kind.name)} {code}"
