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
from borewright.words import Text, say

#: Words and a sentence for every limit in millimetres.
LIMITS = {
    "finger_hole_window_mm": (
        say("finger hole window"),
        say("How far a bare finger hole may move either way."),
    ),
    "unkeyed_pad_window_mm": (
        say("pad window"),
        say("How far a padded hole without a row in the survey may move either way."),
    ),
    "smallest_hole_mm": (say("smallest hole"), say("The smallest that prints and reams well.")),
    "largest_finger_hole_mm": (
        say("largest finger hole"),
        say("What the ball of a finger covers for certain."),
    ),
    "largest_vent_mm": (say("largest vent"), say("Inside diameter of a lined register vent.")),
    "pad_overlap_mm": (say("pad overlap"), say("Pad beyond the hole's edge, all round.")),
    "chimney_wall_mm": (say("chimney wall"), say("Wall of a raised rim, inside a ring too.")),
    "wall_between_holes_mm": (
        say("wall between holes"),
        say("Body left between neighbours, at its thinnest."),
    ),
    "chimney_window_mm": (say("chimney window"), say("How far a rim may rise or sink.")),
    "length_window_mm": (say("length window"), say("How far a freed part may grow or shrink.")),
    "bore_window_mm": (say("bore window"), say("How far a freed bore diameter may change.")),
    "bore_station_window_mm": (
        say("bore station window"),
        say("How far a freed bore point may move along the part."),
    ),
}


#: Words and a sentence for every weight and tolerance.
WEIGHTS = {
    "tolerance_cents": (say("tolerance (cents)"), say("Beyond it, a note counts as out of tune.")),
    "alternate_tolerance_cents": (
        say("tolerance of alternates (cents)"),
        say("The same for alternate fingerings."),
    ),
    "alternate_weight": (say("alternates"), say("How much they count against 1 for standard.")),
    "evenness_weight": (say("evenness"), say("How much the step between neighbours counts.")),
    "keep_close": (
        say("keep close"),
        say("How strongly dimensions are drawn to where they are now."),
    ),
}


REGISTERS = {
    Register.CHALUMEAU: say("chalumeau"),
    Register.THROAT: say("throat"),
    Register.CLARION: say("clarion"),
    Register.ALTISSIMO: say("altissimo"),
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
            for key, (words, sentence) in LIMITS.items():
                field = NumberField(
                    _.tell(words),
                    getattr(wishes, key),
                    partial(_set, page, key, words),
                    units=page.units,
                    help=_.tell(sentence),
                    mark=key,
                )
                fields.append((field, attrgetter(key)))
        heading(_("Weights"), 3)
        text(_("1 is ordinary; 0 leaves out."), small=True)
        with ui.element("div").classes("bw-fields"):
            for key, (words, sentence) in WEIGHTS.items():
                field = NumberField(
                    _.tell(words),
                    getattr(wishes, key),
                    partial(_set, page, key, words),
                    low=0,
                    help=_.tell(sentence),
                    mark=key,
                )
                fields.append((field, attrgetter(key)))
            for register in _registers(page):
                field = NumberField(
                    _.tell(REGISTERS[register]),
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


def _set(page: Page, key: str, words: Text, value: float) -> None:
    instrument = page.workbench.instrument
    if instrument is not None:
        save_wishes(page, {key: value}, say("{what} {value:g}", what=words, value=value))


def _set_weight(page: Page, register: Register, value: float) -> None:
    instrument = page.workbench.instrument
    if instrument is not None:
        weights = {**instrument.fit.weights, register: value}
        what = say("weight of {register} {value:g}", register=REGISTERS[register], value=value)
        save_wishes(page, {"weights": weights}, what)


def save_wishes(page: Page, changes: dict[str, object], what: Text) -> None:
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
        raise BenchError(message, remedy=say("Write another value.")) from error
    page.workbench.edit(instrument.model_copy(update={"fit": wishes}), what, page)
