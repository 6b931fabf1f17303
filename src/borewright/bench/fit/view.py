"""The Fit view: what may move, the run, and what to take of it."""

from __future__ import annotations

from typing import Any

from nicegui import ui

from borewright.bench.fit.controller import FitController
from borewright.bench.fit.elements import Course, Grid
from borewright.bench.fit.limits_form import build_limits
from borewright.bench.fit.wishes import HOLE_MEASURES, PART_MEASURES, free_cells
from borewright.bench.page import Page
from borewright.bench.widgets import JobBar, button, heading, term, text
from borewright.bench.words import _
from borewright.model import Instrument


def build(page: Page) -> None:
    """Fill the page's content."""
    instrument = page.workbench.instrument
    if instrument is None:
        return
    with ui.element("div").classes("bw-fit-view"):
        with ui.element("section").classes("bw-main"):
            heading(_("Bring it into tune"), 1)
            text(
                _(
                    "Tick what may move, run the fit, look at what it proposes, take it whole or "
                    "hole by hole. Nothing is changed before you take it."
                )
            )
            with ui.element("div").classes("bw-row"):
                run = button(_("Run the fit"), lambda: None, primary=True, mark="run-fit")
                term(
                    _("how it works"),
                    _(
                        "Exact derivatives tell which way every note goes; rounds of small steps "
                        "lower the weighted squares of all cents inside every limit."
                    ),
                )
            bar = JobBar(_("Nothing was changed."))
            course = Course(instrument.fit.tolerance_cents)
            outcome = ui.element("div").props('data-mark="outcome"')
        with ui.element("aside").classes("bw-side") as side:
            side.props["aria-label"] = _("What may move")
            heading(_("What may move"))
            grid = Grid(_blocks(instrument), sorted(free_cells(instrument)))
            build_limits(page)
    controller = FitController(page, bar=bar, course=course, outcome=outcome, grid=grid)
    run.on("click", lambda _event: controller.run())
    page.on_key("r", _("Run the fit"), controller.run)
    page.on_key("a", _("Take all"), controller.take_all)
    controller.show()


def _blocks(instrument: Instrument) -> list[dict[str, Any]]:
    words = {
        "station": _("station"),
        "diameter": _("diameter"),
        "chimney": _("chimney"),
        "undercut": _("undercut"),
        "length": _("length"),
        "bore_diameter": _("bore diameter"),
        "bore_station": _("bore station"),
    }
    blocks = [
        {
            "title": _("Tone holes"),
            "columns": [{"key": key, "words": words[key]} for key in HOLE_MEASURES],
            "rows": instrument.hole_names(),
        },
        {
            "title": _("Parts"),
            "columns": [{"key": key, "words": words[key]} for key in PART_MEASURES],
            "rows": [part.name for part in instrument.parts],
        },
    ]
    return [block for block in blocks if block["rows"]]
