"""The Play test view: record, look, gauge, name causes, correct, compare: as the work goes."""

from __future__ import annotations

from nicegui import ui

from borewright.bench.page import Page
from borewright.bench.play.causes_card import CausesCard
from borewright.bench.play.compare_card import CompareCard
from borewright.bench.play.corrections_card import CorrectionsCard
from borewright.bench.play.readings_card import ReadingsCard
from borewright.bench.play.recording_card import recording_card
from borewright.bench.play.take_card import TakeCard
from borewright.bench.play.takes_card import takes_card
from borewright.bench.widgets import JobBar, heading, term
from borewright.bench.words import _
from borewright.bench.workbench import Change


def build(page: Page) -> None:
    """Fill the page's content."""
    heading(_("Play test"), 1)
    bar = JobBar()
    with ui.element("div").classes("bw-stack"):
        with ui.element("section").classes("bw-card"):
            recording_card(page)
        takes = ui.element("section").classes("bw-card").props('data-mark="takes"')
        with takes:
            takes_card(page)
        take = TakeCard(page)
        with ui.element("section").classes("bw-card"):
            readings = ReadingsCard(page)
        with ui.element("section").classes("bw-card"):
            causes = CausesCard(page)
        with ui.element("section").classes("bw-card"):
            corrections = CorrectionsCard(page)
        with ui.element("section").classes("bw-card"):
            compare = CompareCard(page)
        with ui.element("section").classes("bw-card"):
            _terms()

    def changed(change: Change) -> None:
        if change.job is not None:
            bar.show(change.job)
            return
        if change.what == "comparison":
            compare.show_answer()
        elif change.what == "corrections":
            corrections.show()
        elif change.what == "causes":
            causes.show()
        if change.what == "settings":
            readings.refresh()
            return
        if change.what not in ("files", "instrument"):
            return
        takes.clear()
        with takes:
            takes_card(page)
        take.refresh()
        readings.refresh()
        causes.refresh()
        causes.show()
        corrections.refresh()
        compare.refresh()

    page.on_change(changed)
    page.on_select(take.select)
    page.on_key("n", _("Next note"), lambda: take.step(1))
    page.on_key("p", _("Note before"), lambda: take.step(-1))


def _terms() -> None:
    with ui.element("div").classes("bw-row"):
        term(
            _("wrong register"),
            _(
                "The fingering of a planned note, but another of its resonances sounded: a squeak. "
                "Such notes do not count."
            ),
        )
        term(
            _("as built"),
            _("The design with what gauges and leak test read in place of what was drawn."),
        )
        term(
            _("± behind a step"),
            _(
                "Two standard errors of the amount. No step is advised whose direction is not sure "
                "by two standard errors, of what is believed and of the takes alone."
            ),
        )
        term(
            _("rms"),
            _("Root mean square: the usual size of the deviations of the standard fingerings."),
        )
