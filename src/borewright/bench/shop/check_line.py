"""One check of an instrument: what was last read, and a new reading or verdict."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Any

from nicegui import ui

from borewright.bench.page import Page
from borewright.bench.shop.board import subject_words
from borewright.bench.shop.book import attempt
from borewright.bench.shop.records import look_at
from borewright.bench.widgets import button, text
from borewright.bench.widgets.record_field import RecordField
from borewright.bench.words import _
from borewright.errors import BorewrightError
from borewright.ledger import USUAL_LIMITS, Check, Limits, Subject, limits_of, record_check
from borewright.words import Text

if TYPE_CHECKING:
    from borewright.ledger import Ledger


class CheckLine:
    """A line with its words, which change, and its fields, which stay while somebody types."""

    def __init__(self, page: Page, serial: str, subject: str, feature: str) -> None:
        self.page, self.serial, self.subject, self.feature = page, serial, subject, feature
        self._title = feature or subject_words()[subject]
        self._shown: tuple[str, int] | None = None
        self._limits: Limits | None = None
        self._typed: RecordField | None = None
        mark = f"check-{subject}-{feature}"
        with ui.element("li").props(f'data-mark="{mark}"') as self._line:
            self._words = ui.element("div").classes("bw-check-words")
            self._acts = ui.element("div").classes("bw-check-acts")
        self._acts_for: Any = ()

    def show(self, done: Any) -> None:
        """Show the newest reading, or that there is none."""
        version = None if done is None else (str(done["code"]), int(done["version"]))
        if version == self._shown and self._acts_for != ():
            return
        self._shown, self._limits = version, _limits(self.subject, done)
        state = "" if done is None else ("bw-passed" if done["passed"] else "bw-failed")
        self._line.classes(add=state, remove="bw-passed bw-failed")
        self._words.clear()
        with self._words:
            self._say(done)
        unit = None if self._limits is None else self._limits.unit
        if self._acts_for != (unit,):
            self._acts_for = (unit,)
            self._acts.clear()
            with self._acts:
                self._offer(unit)

    def _say(self, done: Any) -> None:
        text(self._title, tag="strong")
        if done is None:
            text(_("not done"), tag="span")
        else:
            verdict = _("passed") if done["passed"] else _("FAILED")
            with ui.element("span").classes("bw-row"):
                text(f"{verdict} · {_reading(done)}{done['who']}", tag="span")
                button(
                    _("Correct"), partial(look_at, self.page, "check", str(done["code"])),
                    label=_("Look at this reading and correct it: {what}", what=self._title),
                    mark=f"look-check-{self.subject}-{self.feature}",
                ).classes("bw-quiet")  # fmt: skip
        if self._limits is not None:
            lowest, highest, unit = self._limits
            words = " … ".join(
                "" if each is None else _.number(each, "g") for each in (lowest, highest)
            )
            text(_("allowed: {limits} {unit}", limits=words, unit=_.tell(unit)), small=True)

    def _offer(self, unit: Text | None) -> None:
        subject, feature = self.subject, self.feature
        self._typed = None
        if unit is not None:
            self._typed = RecordField(
                _("Reading, {unit}", unit=_.tell(unit)), "", "number",
                mark=f"value-{subject}-{feature}",
            )  # fmt: skip
            self._act(_("Write down"), self._write_reading, f"write-{subject}-{feature}")
            return
        good, bad = partial(self._verdict, "yes"), partial(self._verdict, "no")
        self._act(_("✓ Passed"), good, f"pass-{subject}-{feature}")
        self._act(_("✗ Failed"), bad, f"fail-{subject}-{feature}")

    def _act(self, words: str, act: Any, mark: str) -> None:
        button(words, act, label=f"{words}: {self._title}", mark=mark).classes("bw-big")

    def _write_reading(self) -> None:
        if self._typed is None or self._limits is None:
            return
        lowest, highest, unit = self._limits
        kept = {
            name: f"{limit:g}"
            for name, limit in (("lowest", lowest), ("highest", highest))
            if limit is not None
        }
        error = self._record(value=self._typed.value, **kept, unit=str(unit))
        if error is None:
            self._typed.show("")
        elif error.place == ("check", "value") or not self._typed.value.strip():
            self._typed.fail(error)
        else:
            self.page.fail(error)

    def _verdict(self, passed: str) -> None:
        error = self._record(passed=passed)
        if error is not None:
            self.page.fail(error)

    def _record(self, **given: str) -> BorewrightError | None:
        values = {
            "instrument": self.serial, "subject": self.subject, "feature": self.feature, **given,
        }  # fmt: skip

        def act(book: Ledger, who: str) -> None:
            record_check(book, values, who=who)

        return attempt(self.page, act)


def _limits(subject: str, done: Any) -> Limits | None:
    """Limits of the newest reading, else the usual ones; None where a look decides."""
    if done is not None and (done["lowest"], done["highest"]) != (None, None):
        return limits_of(Check.read(done))
    return USUAL_LIMITS.get(Subject(subject))


def _reading(done: Any) -> str:
    if done["value"] is None:
        return ""
    unit = f" {_.tell(limits_of(Check.read(done)).unit)}" if done["unit"] else ""
    value = _.number(done["value"], "g")
    return f"{value}{unit} · "
