"""Keywork to choose from: how a source's sets measure, and sources weighed against each other."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from nicegui import ui
from nicegui.elements.mixins.text_element import TextElement

from borewright.bench.page import Page
from borewright.bench.shop.book import opened
from borewright.bench.widgets import Choice, button, heading, table, text
from borewright.bench.widgets.record_field import RecordField
from borewright.bench.widgets.units import decimal, number_from
from borewright.bench.words import _
from borewright.errors import BorewrightError

if TYPE_CHECKING:
    from borewright.ledger import FeatureStatistics, Standing


class KeyworkCard:
    """The survey of a source, and the comparison of all, as the ledger computes them."""

    def __init__(self, page: Page) -> None:
        self.page, self._source, self._plating = page, "", ""
        heading(_("Keywork"))
        text(_("How the sets of a source measure, and which source to buy from."))
        with ui.element("div").classes("bw-row"):
            self._sources = Choice(_("Source"), {}, "", self._set_source, mark="survey-source")
            button(_("Show its survey"), self._survey, mark="survey")
        with ui.element("div").classes("bw-row"):
            self._quantity = RecordField(_("How many sets"), "12", "number", mark="compare-sets")
            self._platings = Choice(_("Plating"), {}, "", self._set_plating, mark="compare-plating")
            button(_("Compare the sources"), self._compare, mark="compare-sources")
        self._answer = ui.element("div").props('data-mark="keywork-answer" role="status"')
        self.refresh()

    def _set_source(self, value: str) -> None:
        self._source = value

    def _set_plating(self, value: str) -> None:
        self._plating = value

    def refresh(self) -> None:
        """Offer the sources and platings there are."""
        book = opened(self.page.workbench)
        sources = [str(each["code"]) for each in book.records("source")]
        if self._source not in sources:
            self._source = next(iter(sources), "")
        self._sources.set(self._source, {each: each for each in sources})
        platings = sorted({str(each["plating"]) for each in book.records("quote")})
        if self._plating not in platings:
            self._plating = ""
        self._platings.set(self._plating, {"": _("any")} | {each: each for each in platings})

    def _survey(self) -> None:
        from borewright.ledger import OUTLIER_RULE, survey_statistics
        from borewright.ledger.likeness import likeness_of, likeness_words
        from borewright.tasks.ledger.key_surveys import surveyed_numbers

        self._answer.clear()
        with self._answer:
            try:
                book = opened(self.page.workbench)
                surveyed = surveyed_numbers(book)
                found = survey_statistics(book, self._source, surveyed)
                alike = [one for one in likeness_of(book, surveyed) if one.sets]
            except BorewrightError as error:
                text(error.told(_.reader))
                return
            _statistics(self._source, found)
            text(_("Stands apart: {rule}.", rule=_.tell(OUTLIER_RULE)), small=True)
            if len(alike) > 1:
                heading(_("Which source's sets are the more alike"), 3)
                for one in alike:
                    text(_.tell(likeness_words(one)))

    def _compare(self) -> None:
        from borewright.ledger import compare_sources
        from borewright.tasks.ledger.key_surveys import surveyed_numbers

        try:
            quantity = int(number_from(self._quantity.value, 1, 100_000))
        except BorewrightError as error:
            self._quantity.fail(error)
            return
        self._quantity.fail(None)
        self._answer.clear()
        with self._answer:
            try:
                plating = self._plating or None
                book = opened(self.page.workbench)
                surveyed = surveyed_numbers(book)
                found = compare_sources(book, quantity, plating=plating, surveyed=surveyed)
            except BorewrightError as error:
                text(error.told(_.reader))
                return
            _standings(found)


def _statistics(source: str, found: Sequence[FeatureStatistics]) -> None:
    def figure(value: float | None) -> str:
        return "–" if value is None else decimal(value, 3)

    def span(interval: tuple[float, float] | None) -> str:
        return "–" if interval is None else " – ".join(decimal(each, 3) for each in interval)

    table(
        _("Survey of {source}, mm; in 95 of 100 such surveys", source=source),
        (
            _("feature"),
            _("stands apart"),
            _("sets"),
            _("mean"),
            _("mean within"),
            _("scatter"),
            _("scatter within"),
            _("off nominal"),
        ),
        [
            (
                one.name,
                ", ".join(one.outliers) or "–",
                str(one.count),
                figure(one.mean_mm),
                span(one.interval_mm),
                figure(one.scatter_mm),
                span(one.scatter_interval_mm),
                figure(one.off_nominal_mm),
            )
            for one in found
        ],
        right=2,
    )


def _standings(found: Sequence[Standing]) -> None:
    for place, one in enumerate(found, 1):
        total = decimal(one.total, 2)
        heading(
            _("{place}. {source}: {total} of 10", place=place, source=one.source, total=total), 3
        )
        table(
            _("Points from 0 to 10, times the weight"),
            (_("criterion"), _("value"), _("weight"), _("points")),
            [
                (
                    each.criterion,
                    decimal(each.value, 3),
                    decimal(each.weight, 1),
                    decimal(each.points, 2),
                )
                for each in one.weighed
            ],
            right=1,
        )
        with ui.element("details"):
            TextElement(tag="summary", text=_("How it came about"))
            for each in one.weighed:
                text(f"{each.criterion}: {_.tell(each.arithmetic)}", small=True)
            text(_.tell(one.arithmetic), small=True)
