"""The Sound view: figures of character by note, a comparison, and the bore's part in a note."""

from __future__ import annotations

from nicegui import ui

from borewright.bench.page import Page
from borewright.bench.sound.blend_card import BlendCard
from borewright.bench.sound.controller import SoundController
from borewright.bench.sound.elements import Bars, BoreCurve
from borewright.bench.sound.listen_card import ListenCard
from borewright.bench.sound.others import others
from borewright.bench.widgets import Choice, JobBar, heading, text
from borewright.bench.words import _


def build(page: Page) -> None:
    """Fill the page's content."""
    from borewright.acoustics.character import FIGURES
    from borewright.bench.sound.figure_words import figure_title

    if page.workbench.instrument is None:
        return
    figures = {name: figure_title(name) for name in FIGURES}
    names = list(figures)
    first = names[1] if len(names) > 1 else names[0]
    with ui.element("section").classes("bw-main"):
        heading(_("How it will sound and respond"), 1)
        text(
            _(
                "Choose a figure and a note. Differences matter more than the figures themselves: "
                "compare with another file, or with a revision you kept."
            )
        )
        with ui.element("div").classes("bw-row"):
            figure = Choice(
                _("Figure"), figures, first, lambda value: page.select(figure=value), mark="figure"
            )
            other = Choice(
                _("Compare with"),
                others(page.workbench),
                "",
                lambda value: page.select(against=value),
                mark="against",
            )
        bar = JobBar()
        meaning = text("", small=True).props('data-mark="meaning"')
        bars = Bars()
        differences = ui.element("div").props('data-mark="differences"')
        chosen = heading(_("Choose a note"))
        details = text("").props('data-mark="details"')
        heading(_("What 0.05 mm more bore does to it, place by place"), 3)
        curve = BoreCurve()
        trace = text("", small=True)
        ListenCard(page)
        BlendCard(page)
    SoundController(
        page,
        figure=figure,
        other=other,
        bar=bar,
        meaning=meaning,
        bars=bars,
        said=differences,
        chosen=chosen,
        details=details,
        curve=curve,
        trace=trace,
    ).start()
