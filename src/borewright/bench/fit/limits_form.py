"""Limits and weights of a fit as fields; each is saved at once."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from operator import attrgetter

from nicegui import ui
from nicegui.elements.mixins.text_element import TextElement

from borewright.bench.page import Page
from borewright.bench.widgets import NumberField, heading, text
from borewright.bench.words import _
from borewright.bench.workbench import Change
from borewright.model import FitWishes, Register


def limit_words() -> dict[str, tuple[str, str]]:
    """Words and a sentence for every limit in millimetres."""
    return {
        "finger_hole_window_mm": (
            _("finger hole window"),
            _("How far a bare finger hole may move either way."),
        ),
        "unkeyed_pad_window_mm": (
            _("pad window"),
            _("How far a padded hole without a row in the survey may move either way."),
        ),
        "smallest_hole_mm": (_("smallest hole"), _("The smallest that prints and reams well.")),
        "largest_finger_hole_mm": (
            _("largest finger hole"),
            _("What the ball of a finger covers for certain."),
        ),
        "largest_vent_mm": (_("largest vent"), _("Inside diameter of a lined register vent.")),
        "pad_overlap_mm": (_("pad overlap"), _("Pad beyond the hole's edge, all round.")),
        "chimney_wall_mm": (_("chimney wall"), _("Wall of a raised rim, inside a ring too.")),
        "wall_between_holes_mm": (
            _("wall between holes"),
            _("Body left between neighbours, at its thinnest."),
        ),
        "chimney_window_mm": (_("chimney window"), _("How far a rim may rise or sink.")),
        "length_window_mm": (_("length window"), _("How far a freed part may grow or shrink.")),
        "bore_window_mm": (_("bore window"), _("How far a freed bore diameter may change.")),
        "bore_station_window_mm": (
            _("bore station window"),
            _("How far a freed bore point may move along the part."),
        ),
    }


def weight_words() -> dict[str, tuple[str, str]]:
    """Words and a sentence for every weight and tolerance."""
    return {
        "tolerance_cents": (_("tolerance (cents)"), _("Beyond it, a note counts as out of tune.")),
        "alternate_tolerance_cents": (
            _("tolerance of alternates (cents)"),
            _("The same for alternate fingerings."),
        ),
        "alternate_weight": (_("alternates"), _("How much they count against 1 for standard.")),
        "evenness_weight": (_("evenness"), _("How much the step between neighbours counts.")),
        "keep_close": (
            _("keep close"),
            _("How strongly dimensions are drawn to where they are now."),
        ),
    }


def build_limits(page: Page) -> None:
    """The fields, folded away until wanted."""
    instrument = page.workbench.instrument
    if instrument is None:
        return
    wishes = instrument.fit
    fields: list[tuple[NumberField, Callable[[FitWishes], float]]] = []
    with ui.element("details").classes("bw-card bw-panel"):
        TextElement(tag="summary", text=_("Limits and weights")).props('data-mark="limits"')
        heading(_("Limits"), 3)
        with ui.element("div").classes("bw-fields"):
            for key, (words, sentence) in limit_words().items():
                field = NumberField(
                    words,
                    getattr(wishes, key),
                    partial(_set, page, key, words),
                    units=page.units,
                    help=sentence,
                    mark=key,
                )
                fields.append((field, attrgetter(key)))
        heading(_("Weights"), 3)
        text(_("1 is ordinary; 0 leaves out."), small=True)
        with ui.element("div").classes("bw-fields"):
            for key, (words, sentence) in weight_words().items():
                field = NumberField(
                    words,
                    getattr(wishes, key),
                    partial(_set, page, key, words),
                    low=0,
                    help=sentence,
                    mark=key,
                )
                fields.append((field, attrgetter(key)))
            for register in _registers(page):
                field = NumberField(
                    _(register.value),
                    _weight(register, wishes),
                    partial(_set_weight, page, register),
                    low=0,
                    help=_("How much this register counts."),
                    mark=f"weight-{register.value}",
                )
                fields.append((field, partial(_weight, register)))

    def changed(change: Change) -> None:
        now = page.workbench.instrument
        if change.what != "instrument" or now is None:
            return
        for field, read in fields:
            if field.value != read(now.fit):
                field.show(read(now.fit))

    page.on_change(changed)


def _weight(register: Register, wishes: FitWishes) -> float:
    return wishes.weights.get(register, 1.0)


def _registers(page: Page) -> list[Register]:
    table = page.workbench.fingerings
    present = {fingering.register_ for fingering in table.fingerings} if table else set()
    return [register for register in Register if register in present]


def _set(page: Page, key: str, words: str, value: float) -> None:
    instrument = page.workbench.instrument
    if instrument is not None:
        save_wishes(page, {key: value}, f"{words} {value:g}")


def _set_weight(page: Page, register: Register, value: float) -> None:
    instrument = page.workbench.instrument
    if instrument is not None:
        weights = {**instrument.fit.weights, register: value}
        save_wishes(page, {"weights": weights}, f"weight of {register.value} {value:g}")


def save_wishes(page: Page, changes: dict[str, object], what: str) -> None:
    """Save the fit's wishes with some of them changed.

    Raises BenchError where a value cannot be one, in words for the field.
    """
    from pydantic import ValidationError

    from borewright.errors import BenchError

    instrument = page.workbench.instrument
    if instrument is None:
        return
    try:
        wishes = FitWishes.model_validate({**instrument.fit.model_dump(), **changes})
    except ValidationError as error:
        message = error.errors()[0]["msg"].removeprefix("Value error, ")
        raise BenchError(message, remedy=_("Write another value.")) from error
    page.workbench.edit(instrument.model_copy(update={"fit": wishes}), what, page)
