"""Gauge readings of the finished instrument, typed in one at a time."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from nicegui import ui

from borewright.bench.page import Page
from borewright.bench.play.accepting import accept
from borewright.bench.play.sitting import sitting_of
from borewright.bench.widgets import Choice, button, heading, text
from borewright.bench.widgets.number_field import TextField
from borewright.bench.widgets.rows import rows_with_buttons
from borewright.bench.widgets.units import decimal, number_from
from borewright.bench.words import _
from borewright.bench.workbench import Change, Workbench
from borewright.errors import BorewrightError
from borewright.words import Text, say

if TYPE_CHECKING:
    from borewright.playing import Reading

_OF_PART = ("bore", "length", "leak", "leak_flow")
_OF_ALL = ("chamber", "reed_end", "player")


def readings_name(instrument: str) -> str:
    """The file that holds the readings of an instrument: each finished one has its own."""
    plain = re.sub(r"[^\w ,.-]+", "-", instrument).strip(" .-")[:60] or "instrument"
    return f"readings {plain}.csv"


def readings_path(bench: Workbench, instrument: str) -> Path | None:
    """Where an instrument's readings are; None where there are none."""
    path = bench.folder.path(readings_name(instrument))
    return path if path.is_file() else None


def item_words() -> dict[str, str]:
    """What can be read, in the page's language."""
    return {
        "diameter": _("hole diameter, mm"),
        "height": _("hole's tube height, mm"),
        "lift": _("pad lift, mm"),
        "bore": _("bore diameter at a station, mm"),
        "length": _("part's body length, mm"),
        "leak": _("leak, as an orifice of so many mm"),
        "leak_flow": _("leak, ml/min at a pressure"),
        "chamber": _("room in the mouthpiece by water, mm³"),
        "reed_end": _("air in the barrel right after playing, °C"),
        "player": _("player above an instrument's known pitch, cents"),
    }


class ReadingsCard:
    """The readings of what is played now, with a form for the next one."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self._item, self._where = "diameter", ""
        heading(_("3. Gauge"))
        text(_("What callipers, plug gauges and leak test say; else the design counts."))
        with ui.element("div").classes("bw-row"):
            Choice(_("Reading"), item_words(), self._item, self._choose_item, mark="reading-item")
            self._place = Choice(_("Of"), {}, "", self._choose_place, mark="reading-of")
            self._station = TextField(_("Station, mm"), "", mark="reading-station")
            self._pressure = TextField(_("Pressure, hPa"), "", mark="reading-pressure")
            self._value = TextField(_("Value"), "", mark="reading-value")
            button(_("Add"), self._add, mark="reading-add")
        self._wrong = text("").classes("bw-wrong").props('role="alert"')
        self._list = ui.element("div").props('data-mark="readings"')
        self._choose_item(self._item)
        self.refresh()

    def _choose_item(self, item: str) -> None:
        self._item = item
        instrument = self.page.workbench.instrument
        assert instrument is not None
        holes = [(f"h:{name}", name) for name in instrument.hole_names()]
        if item == "lift":
            holes = [(f"h:{h.name}", h.name) for _p, h, _s in instrument.placed_holes() if h.pad]
        parts = [(f"p:{part.name}", part.name) for part in instrument.parts]
        found = dict(parts if item in _OF_PART else holes)
        if item.startswith("leak"):
            found |= dict(holes)
        if item in _OF_ALL:
            found = {}
        self._where = next(iter(found), "")
        self._place.set(self._where, found)
        self._place.set_visibility(item not in _OF_ALL)
        self._station.set_visibility(item == "bore")
        self._pressure.set_visibility(item == "leak_flow")

    def _choose_place(self, place: str) -> None:
        self._where = place

    def refresh(self) -> None:
        """Show the readings that are in the file."""
        name = sitting_of(self.page).instrument
        self._list.clear()
        with self._list:
            try:
                found = self._found()
            except BorewrightError as error:
                text(error.told(_.reader))
                return
            if not found:
                text(_("No readings of '{name}' yet.", name=name), small=True)
                return
            words = item_words()
            rows_with_buttons(
                _("Readings of '{name}'", name=name),
                (_("reading"), _("of"), _("station"), _("value")),
                [
                    (
                        words[each.item],
                        each.hole or each.part or "–",
                        "" if each.station_mm is None else decimal(each.station_mm, 1),
                        f"{decimal(each.value, 2)}"
                        + (f" @ {decimal(each.pressure_hpa, 0)} hPa" if each.pressure_hpa else ""),
                    )
                    for each in found
                ],
                [
                    [(_("Remove"), partial(self._remove, index), f"reading-remove-{index}")]
                    for index in range(len(found))
                ],
                right=2,
            )
            with ui.element("div").classes("bw-row"):
                file = TextField(
                    _("Name of the revision"), _("{name} as built", name=name), mark="built-name"
                )
                button(_("Save as built"), lambda: self._save_built(file.value), mark="save-built")
            text(
                _("A new instrument file with these readings in place of the design's sizes."),
                small=True,
            )

    def _found(self) -> list[Reading]:
        from borewright.playing import read_readings

        path = readings_path(self.page.workbench, sitting_of(self.page).instrument)
        return [] if path is None else read_readings(path)

    def _add(self) -> None:
        """Check a reading against the instrument, as the whole will be, then save it."""
        from borewright.playing import as_built
        from borewright.playing.readings import reading

        bench = self.page.workbench
        if bench.instrument is None or bench.fingerings is None:
            return
        kind, place = self._where[:1], self._where[2:]
        try:
            new = reading(
                self._item,
                number_from(self._value.value),
                part=place if kind == "p" else "",
                hole=place if kind == "h" else "",
                station_mm=number_from(self._station.value) if self._item == "bore" else None,
                pressure_hpa=(
                    number_from(self._pressure.value) if self._item == "leak_flow" else None
                ),
                place=_("the reading typed"),
            )
            found = [*self._found(), new]
            as_built(bench.instrument, bench.fingerings, found)
        except BorewrightError as error:
            self._wrong.set_text(error.told(_.reader))
            return
        self._wrong.set_text("")
        if self._save(found, say("a reading of {place}", place=place)):
            self._value.props["shown"] = ""
            self._value.update()

    def _save_built(self, name: str) -> None:
        from borewright.playing import Aim

        page = self.page
        readings = readings_path(page.workbench, sitting_of(page).instrument)
        if page.save(lambda: accept(page, Aim.REWORK.value, [], readings, name)):
            page.tell(_("Accepted as '{name}'.", name=name))

    def _remove(self, index: int) -> None:
        found = self._found()
        gone = found.pop(index)
        self._save(found, say("take the reading of {place} out", place=gone.hole or gone.part))

    def _save(self, found: Sequence[Reading], what: Text) -> bool:
        from borewright.playing.readings import readings_text

        bench = self.page.workbench
        name = readings_name(sitting_of(self.page).instrument)
        data = readings_text(found).encode("utf-8") if found else None
        saved = self.page.save(lambda: bench.folder.save_all({name: data}, what))
        if saved:
            bench.tell(Change("files", self.page))
        return saved
