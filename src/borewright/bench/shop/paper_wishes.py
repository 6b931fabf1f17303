"""What a paper asks besides the record it is of: how many sets, which design, which hours."""

from __future__ import annotations

from typing import Any

from nicegui import ui

from borewright.bench.page import Page
from borewright.bench.shop.book import opened
from borewright.bench.widgets import text
from borewright.bench.widgets.record_field import RecordField
from borewright.bench.widgets.units import decimal, number_from
from borewright.bench.words import _
from borewright.errors import BenchError, BorewrightError
from borewright.ledger.fields import Field, Kind, read_value
from borewright.tasks.ledger.batch_papers import PlanHours
from borewright.tasks.ledger.papers import PaperKind, PaperWishes
from borewright.words import say

_TOLERANCE_MM = 0.1
_NO_CENTS, _CENTS = "", "bench"


class WishesForm:
    """Fields that stand beneath the choice of a paper; most papers ask nothing."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self._box = ui.element("div")
        self._asked: tuple[PaperKind, str] | None = None
        self._fields: dict[str, RecordField] = {}
        self._least = 1

    def ask(self, kind: PaperKind, code: str) -> None:
        """Ask what this paper needs; what is typed stays while paper and record do."""
        if (kind, code) == self._asked:
            return
        self._asked = kind, code
        self._box.clear()
        self._fields = {}
        with self._box:
            if not code:
                return
            if kind is PaperKind.KEYWORK_ORDER:
                self._ask_sets(code)
            elif kind is PaperKind.SET_UP:
                self._ask_design()
            elif kind is PaperKind.PLAN:
                self._ask_hours(code)

    def _ask_sets(self, code: str) -> None:
        quote = opened(self.page.workbench).get("quote", code)
        least = self._least = int(str(quote["minimum_order"]))
        with ui.element("div").classes("bw-record-fields"):
            self._add("quantity", _("How many sets"), str(least), "number",
                      note=_("at least {count} by this quote", count=least))  # fmt: skip
            self._add("tolerance", _("Allowed to both sides, mm"), decimal(_TOLERANCE_MM, 2),
                      "number", note=_("of what the survey's drawing says"))  # fmt: skip

    def _ask_design(self) -> None:
        codes = [str(each["code"]) for each in opened(self.page.workbench).records("design")]
        if not codes:
            text(_("There is no design in the ledger yet that the set could be for."))
            return
        cents = {
            _NO_CENTS: _("left out"),
            _CENTS: _("computed from {file}, on the bench", file=self.page.workbench.file),
        }
        with ui.element("div").classes("bw-record-fields"):
            self._add("design", _("For the design"), codes[-1], "choice", {c: c for c in codes})
            self._add("cents", _("What each lift does to the pitch"), _NO_CENTS, "choice", cents)

    def _ask_hours(self, code: str) -> None:
        started = opened(self.page.workbench).get("batch", code)["started"]
        weekends = {"": _("also on weekends"), "free": _("not on weekends")}
        with ui.element("div").classes("bw-record-fields"):
            self._add("from", _("First day"), "" if started is None else str(started), "day")
            self._add("opens", _("Prints are started from this hour"), "8", "number")
            self._add("closes", _("to this hour"), "18", "number")
            self._add("weekends", _("Prints are started"), "", "choice", weekends)

    def _add(
        self, name: str, words: str, value: str, sort: Any, options: Any = None, note: str = ""
    ) -> None:
        self._fields[name] = RecordField(
            words, value, sort, options=options, note=note, mark=f"paper-{name}"
        )

    @property
    def wants_cents(self) -> bool:
        """Whether pitch effects are to be computed."""
        return "cents" in self._fields and self._fields["cents"].value == _CENTS

    def check(self) -> bool:
        """Say at each field what is wrong; whether all is well."""
        for name, field in self._fields.items():
            try:
                self._read(name, field.value)
            except BorewrightError as error:
                field.fail(error)
            else:
                field.fail(None)
        return not any(field.failed for field in self._fields.values())

    def _read(self, name: str, typed: str) -> Any:
        if name in ("quantity", "opens", "closes"):
            whole = Field(name, Kind.WHOLE, say("a whole number"), required=True)
            value = read_value("paper", whole, typed)
            low, high = (self._least, 100_000) if name == "quantity" else (0, 24)
            number_from(str(value), low, high)
            return value
        if name == "tolerance":
            return number_from(typed, 0.01, 5.0)
        if name == "from":
            return read_value("paper", Field(name, Kind.DAY, say("the first day"), True), typed)
        return typed

    def given(self) -> PaperWishes:
        """What was asked for, as the paper's maker takes it."""
        found = {name: self._read(name, field.value) for name, field in self._fields.items()}
        found.pop("cents", None)
        if self._asked is not None and self._asked[0] is PaperKind.SET_UP and not found:
            raise BenchError(
                say("There is no design in the ledger yet that the set could be for."),
                remedy=say("Enter one under 'All records'."),
            )
        if "from" in found:
            weekends = bool(found["weekends"])
            hours = PlanHours(found["from"], found["opens"], found["closes"], weekends)
            return PaperWishes(hours=hours)
        return PaperWishes(
            design=found.get("design"),
            quantity=found.get("quantity"),
            tolerance_mm=found.get("tolerance", _TOLERANCE_MM),
        )
