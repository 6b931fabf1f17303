"""What happens in the Body view: changes, drags, typed sizes, selections."""

from __future__ import annotations

import asyncio
from collections.abc import Sequence
from typing import Any

from nicegui import background_tasks, ui
from nicegui.element import Element
from nicegui.elements.mixins.text_element import TextElement

from borewright.bench.design.circumstances import Circumstances, circumstances_of
from borewright.bench.design.drawing import drawing_of
from borewright.bench.design.elements import FingeringDrawing, Pitches, Section, Sizes
from borewright.bench.design.limits import Range, ranges
from borewright.bench.design.pitch_data import (
    live_data,
    moves_of_note,
    pitch_data,
    sways_of_hole,
)
from borewright.bench.design.predicting import Predicting, changed, words_of_change
from borewright.bench.design.selection_words import hole_words, note_words
from borewright.bench.design.size_rows import size_groups
from borewright.bench.page import Page, outliving
from borewright.bench.widgets import findings_list, heading, text
from borewright.bench.widgets.units import decimal, length_from
from borewright.bench.words import _
from borewright.bench.workbench import Change
from borewright.errors import BorewrightError
from borewright.model import ErrorBars, Finding, SensitivityMap, SideHoles, TuningTable

#: Everything is checked once nothing has changed for so long (s).
_QUIET_S = 1.0


class BodyController:
    """Keeps the view's elements in step with the workbench and with each other."""

    def __init__(
        self,
        page: Page,
        *,
        title: TextElement,
        summary: TextElement,
        section: Section,
        pitches: Pitches,
        findings: Element,
        chosen: TextElement,
        fingering: FingeringDrawing,
        details: TextElement,
        trace: TextElement,
        sizes: Sizes,
    ) -> None:
        self.page, self.bench = page, page.workbench
        self.title, self.summary, self.findings = title, summary, findings
        self.section, self.pitches, self.sizes = section, pitches, sizes
        self.chosen, self.fingering = chosen, fingering
        self.details, self.trace = details, trace
        self.table: TuningTable | None = None
        self.map: SensitivityMap | None = None
        self.bars: ErrorBars | None = None
        self.forms: TuningTable | None = None  # by closed forms, where they are shown
        self._limits: dict[int, Range] = {}
        self._predicting = Predicting(self.bench, self._show_live, self._refuse)
        self._asked = 0
        self._checks: tuple[TextElement, Element] | None = None

    def start(self) -> None:
        """Listen, and show everything for the first time."""
        page = self.page
        page.on_change(self._changed)
        page.on_select(self._selected)
        page.on_key("n", _("next note"), lambda: self._step(1))
        page.on_key("p", _("note before"), lambda: self._step(-1))
        page.on_key("h", _("next hole, ready for the arrows"), self._next_hole)
        self.section.hear("pick", self._pick_in_section)
        self.section.hear("move", self._move)
        self.section.hear("drop", self._drop)
        self.section.hear("back", lambda _told: self._put_back())
        self.pitches.hear("pick", lambda told: page.select(note=str(told["note"])[:60], hole=""))
        self.sizes.hear("typed", self._typed)
        self.sizes.hear("pick", self._pick_in_sizes)
        self._refresh()

    @property
    def gone(self) -> bool:
        """Whether the page or the view is no longer shown."""
        return self.page.client.is_deleted or self.section.is_deleted

    @property
    def circumstances(self) -> Circumstances:
        """How the instrument is looked at on this page."""
        return circumstances_of(self.page.selected)

    # Showing what is saved ---------------------------------------------------------------------

    def _changed(self, change: Change) -> None:
        if change.what == "instrument":
            self._refresh(mine=change.by is self.page)

    def switch(self, _key: str) -> None:
        """Another climate, player or model level was chosen."""
        self._refresh()

    def _refresh(self, mine: bool = True) -> None:
        instrument = self.bench.instrument
        if instrument is None:
            return
        self._limits = ranges(instrument, self.bench.survey)
        self.title.set_text(instrument.name)
        self.section.give(drawing=drawing_of(instrument, self._limits))
        groups = size_groups(instrument, self._limits, self.page.units)
        self.sizes.give(groups=groups, wrong=-1, said="", mine=mine)
        self._asked += 1
        background_tasks.create(self._compute(self._asked), name="pitches")

    @outliving
    async def _compute(self, asked: int) -> None:
        instrument, fingerings = self.bench.instrument, self.bench.fingerings
        if instrument is None:
            return
        if fingerings is None:
            self.summary.set_text(_("No fingering table: name one in the file to see pitches."))
            return
        if self.table is None:
            self.summary.set_text(
                _("Computing the pitches. The very first time takes up to a minute.")
            )
        from borewright.acoustics import error_bars, sensitivity, tuning

        seen = self.circumstances.seen(instrument)
        try:
            table = await self.bench.kernel(tuning, seen, fingerings)
            if asked != self._asked or self.gone:
                return
            self.table, self.bars, self.forms = table, None, None
            if self.circumstances.shows_closed_forms:
                by_forms = seen.model_copy(update={"side_holes": SideHoles.CLOSED_FORMS})
                self.forms = await self.bench.kernel(tuning, by_forms, fingerings)
                if asked != self._asked or self.gone:
                    return
            self._show_table()
            await self._check()
            found = await asyncio.to_thread(sensitivity, seen, fingerings)
            if asked == self._asked and not self.gone:
                self.map = found
                self._selected()
            bars = await asyncio.to_thread(error_bars, seen, fingerings)
            if asked == self._asked and not self.gone:
                self.bars = bars
                self._show_table()
        except BorewrightError as error:
            self.page.fail(error)

    def _show_table(self) -> None:
        instrument, table = self.bench.instrument, self.table
        if instrument is None or table is None or self.gone:
            return
        self.pitches.give(data=pitch_data(table, instrument.fit, self.bars, self.forms))
        summary = table.summary
        self.summary.set_text(
            _(
                "Root mean square {rms} cents, worst {worst} at {note}.",
                rms=decimal(summary.rms_cents, 1),
                worst=_.number(summary.worst_cents, "+.1f"),
                note=summary.worst_note or "–",
            )
        )
        trace = _(
            "Computed by: {level}; air: {climate}",
            level=_.tell(table.model_level),
            climate=_.tell(table.climate),
        )
        if self.forms is not None:
            apart = {
                note.fingering: other.cents - note.cents
                for note, other in zip(table.notes, self.forms.notes, strict=True)
                if note.cents is not None and other.cents is not None
            }
            most = max(apart, key=lambda name: abs(apart[name]), default="")
            trace += " " + _(
                "Closed forms less solved: {mean} cents in the mean, {most} at most, at {note}.",
                mean=_.number(sum(apart.values()) / max(len(apart), 1), "+.1f"),
                most=_.number(apart.get(most, 0.0), "+.1f"),
                note=most or "–",
            )
        self.trace.set_text(trace)
        self._selected()

    @outliving
    async def _check(self) -> None:
        """Limits of the body at once; all that the one gate knows, keys too, when it is quiet."""
        from borewright.fit import body_findings
        from borewright.tasks.checking import check_file

        instrument, survey = self.bench.instrument, self.bench.survey
        edition = self.bench.edition
        if instrument is None:
            return
        self._show_checks(await asyncio.to_thread(body_findings, instrument, survey), False)
        await asyncio.sleep(_QUIET_S)
        if self.gone or edition != self.bench.edition:
            return  # the newer state is checked by itself
        try:
            found = await asyncio.to_thread(check_file, self.bench.path)
        except BorewrightError as error:
            self.page.fail(error)
            return
        if edition == self.bench.edition:
            self._show_checks(found, True)

    def _show_checks(self, found: Sequence[Finding], whole: bool) -> None:
        if self.gone:
            return
        if self._checks is None:
            # One panel for all answers: opened by hand, it stays open when more is found.
            with self.findings, ui.element("details").classes("bw-card bw-panel"):
                summary = TextElement(tag="summary", text="").props('data-mark="checks"')
                self._checks = (summary, ui.element("div"))
        summary, box = self._checks
        faults = sum(each.severity == "fault" for each in found)
        summary.set_text(
            _("Checks: {faults} faults, {all} findings", faults=faults, all=len(found))
        )
        summary.props["data-whole"] = "yes" if whole else "no"
        summary.update()
        box.clear()
        with box:
            heading(_("What the checks say"), 3)
            if not whole:
                text(_("Keys, fingerings and walls in space are still being checked."), small=True)
            findings_list(found)

    # Dragging and typing -----------------------------------------------------------------------

    def _move(self, told: dict[str, Any]) -> None:
        values = told.get("values")
        if isinstance(values, dict):
            number = told.get("number")
            number = number if isinstance(number, int) else 0
            self._predicting.move(values, number, self.circumstances)

    def _show_live(self, table: TuningTable, number: int) -> None:
        if not self.gone:
            self.pitches.run_method("show", {**live_data(table), "number": number})
            self.section.run_method("refuse", "")

    def _refuse(self, error: BorewrightError) -> None:
        if not self.gone:
            with self.page.client:
                self.section.run_method("refuse", _.at_field(error))

    def _drop(self, told: dict[str, Any]) -> None:
        self._predicting.forget()
        if not self._save(told.get("values", {})):
            self._put_back()

    def _put_back(self) -> None:
        self._predicting.forget()
        self.section.run_method("restore")
        self._show_table()

    def _save(self, values: dict[Any, Any]) -> bool:
        instrument = self.bench.instrument
        if instrument is None:
            return False

        def make() -> None:
            new = changed(instrument, values)
            if new == instrument:
                self._refresh()
            else:
                self.bench.edit(new, words_of_change(instrument, new), self.page)

        return self.page.save(make)

    def _typed(self, told: dict[str, Any]) -> None:
        column, typed = int(told["column"]), str(told["text"])[:60]
        instrument = self.bench.instrument
        if instrument is None:
            return
        try:
            new = changed(instrument, {column: length_from(typed, self.page.units)})
        except BorewrightError as error:
            self.sizes.give(wrong=column, said=_.at_field(error))
            return
        self.sizes.give(wrong=-1, said="")
        what = words_of_change(instrument, new)
        self.page.save(lambda: self.bench.edit(new, what, self.page))

    # Selecting ---------------------------------------------------------------------------------

    def _pick_in_section(self, told: dict[str, Any]) -> None:
        self.page.select(hole=str(told.get("hole") or told.get("point"))[:60], note="")

    def _pick_in_sizes(self, told: dict[str, Any]) -> None:
        self.page.select(hole=str(told["name"])[:60], note="")

    def _step(self, way: int) -> None:
        fingerings = self.bench.fingerings
        if fingerings is None:
            return
        names = [fingering.name for fingering in fingerings.fingerings]
        now = self.page.selected.get("note", "")
        start = names.index(now) if now in names else (-1 if way > 0 else len(names))
        self.page.select(note=names[max(0, min(start + way, len(names) - 1))], hole="")

    def _next_hole(self) -> None:
        instrument = self.bench.instrument
        names = instrument.hole_names() if instrument else []
        if names:
            now = self.page.selected.get("hole", "")
            after = names[(names.index(now) + 1) % len(names)] if now in names else names[0]
            self.section.run_method("focus_on", after)

    def _selected(self) -> None:
        instrument, fingerings = self.bench.instrument, self.bench.fingerings
        if instrument is None or self.gone:
            return
        note, hole = self.page.selected.get("note", ""), self.page.selected.get("hole", "")
        found = (
            next((f for f in fingerings.fingerings if f.name == note), None)
            if (fingerings)
            else None
        )
        moves = moves_of_note(instrument, self.map, note) if self.map and found else {}
        sways = sways_of_hole(instrument, self.map, hole) if self.map and not found else []
        self.section.give(chosen=hole, moves=moves)
        self.pitches.give(chosen=note if found else "", sways=sways)
        self.sizes.give(chosen=hole)
        self.fingering.set_visibility(found is not None)
        if found is not None:
            self.fingering.give(
                open=list(found.open_holes), title=found.name, comment=found.comment
            )
            self.chosen.set_text(found.name)
            self.details.set_text(note_words(found, instrument, self.table, self.map))
        elif hole:
            self.chosen.set_text(hole)
            self.details.set_text(hole_words(hole, instrument, self._limits, self.map, self.page))
