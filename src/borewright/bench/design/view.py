"""The Body view: section and pitches in step, sizes, selection, switches, findings, bodies."""

from __future__ import annotations

from typing import Any

from nicegui import ui

from borewright.bench.design.circumstances import circumstances_of, climates, levels, players
from borewright.bench.design.controller import BodyController
from borewright.bench.design.drawing import drawing_of
from borewright.bench.design.elements import FingeringDrawing, Pitches, Section, Sizes
from borewright.bench.design.fingering_data import holes_in_order
from borewright.bench.design.keys_panel import KeysPanel
from borewright.bench.design.limits import ranges
from borewright.bench.design.size_rows import size_groups
from borewright.bench.design.solid import SolidPanel
from borewright.bench.measure.panel import MeasurePanel
from borewright.bench.page import Page
from borewright.bench.widgets import Choice, heading, term, text
from borewright.bench.widgets.units import Units
from borewright.bench.words import _

_EMPTY: dict[str, Any] = {
    "notes": [],
    "cents": [],
    "twelfths": [],
    "tolerance": 10.0,
    "tolerances": [],
    "bars": None,
    "ghosts": None,
}


def build(page: Page) -> None:
    """Fill the page's content."""
    bench = page.workbench
    instrument = bench.instrument
    if instrument is None:
        return
    limits = ranges(instrument, bench.survey)
    holes, joints = holes_in_order(instrument)
    with ui.element("div").classes("bw-body-view"):
        with ui.element("section").classes("bw-main"):
            with ui.element("div").classes("bw-row bw-top"):
                with ui.element("div").classes("bw-grow"):
                    title = heading(instrument.name, 1)
                    summary = text("").props('role="status" data-mark="summary"')
                switches = _switches(page)
            section = Section(drawing_of(instrument, limits), page.units is Units.INCH)
            pitches = Pitches(_EMPTY)
            with ui.element("div").classes("bw-row"):
                _terms()
            findings = ui.element("div")
            if bench.keys is not None:
                KeysPanel(page)
            if holes:
                MeasurePanel(page)
            SolidPanel(page)
        with ui.element("aside").classes("bw-side").props('data-mark="side"') as side:
            side.props["aria-label"] = _("Selection and sizes")
            chosen = heading(_("Choose a note or a hole"))
            fingering = FingeringDrawing(holes, joints)
            details = text("").props('data-mark="details"')
            trace = text("", small=True)
            sizes = Sizes(size_groups(instrument, limits, page.units), page.units.value)
    controller = BodyController(
        page,
        title=title,
        summary=summary,
        section=section,
        pitches=pitches,
        findings=findings,
        chosen=chosen,
        fingering=fingering,
        details=details,
        trace=trace,
        sizes=sizes,
    )
    for key, choice in switches.items():
        choice.on("choose", lambda _event, key=key: controller.switch(key))
    controller.start()


def _switches(page: Page) -> dict[str, Choice]:
    """Switches kept in the address, so that a reload or a link shows the same."""
    now = circumstances_of(page.selected)

    def keep(key: str, value: str) -> None:
        page.select(**{key: "" if value == "file" else value})

    return {
        "climate": Choice(
            _("Climate"),
            climates(),
            now.climate,
            lambda value: keep("climate", value),
            help=_("The air the pitches are computed for; the file stays as it is."),
            mark="climate",
        ),
        "player": Choice(
            _("Player"),
            players(),
            now.player,
            lambda value: keep("player", value),
            help=_("Reed and lip lower the pitch, most at the top."),
            mark="player",
        ),
        "level": Choice(
            _("Model"),
            levels(),
            now.level,
            lambda value: keep("level", value),
            help=_("Which physics the pitches come from."),
            mark="level",
        ),
    }


def _terms() -> None:
    term(_("cents"), _("A hundredth of a tempered semitone; about 5 can just be heard."))
    term(
        _("grey zones"),
        _(
            "Where cup, ring, pad, post or a neighbour's wall leaves no room, by the survey and "
            "the limits in the file. You may go there; the checks will tell."
        ),
    )
    term(
        _("error bars"),
        _(
            "One standard deviation of the prediction: sizes, climate, player and model together, "
            "computed to first order."
        ),
    )
    term(
        _("what moves a note"),
        _(
            "Choose a note: each hole shows the cents that 0.1 mm of its diameter brings, orange "
            "up, blue down. Choose a hole: rods at the notes show what 0.4 mm would bring."
        ),
    )
