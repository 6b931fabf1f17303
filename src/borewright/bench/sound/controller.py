"""What happens in the Sound view: computing in the background, choosing figures and notes."""

from __future__ import annotations

from nicegui import background_tasks, ui
from nicegui.element import Element
from nicegui.elements.mixins.text_element import TextElement

from borewright.bench.jobs import Job, Task
from borewright.bench.page import Page, outliving
from borewright.bench.sound.elements import Bars, BoreCurve
from borewright.bench.sound.others import others, read_other
from borewright.bench.widgets import Choice, JobBar, heading, text
from borewright.bench.widgets.units import decimal
from borewright.bench.words import _
from borewright.bench.workbench import Change
from borewright.model import BorePerturbation, CharacterTable, Differences
from borewright.tasks.character import Heard, heard


class SoundController:
    """Keeps charts and words in step with the instrument, the figure and the note chosen."""

    def __init__(
        self,
        page: Page,
        *,
        figure: Choice,
        other: Choice,
        bar: JobBar,
        meaning: TextElement,
        bars: Bars,
        said: Element,
        chosen: TextElement,
        details: TextElement,
        curve: BoreCurve,
        trace: TextElement,
    ) -> None:
        self.page, self.bench = page, page.workbench
        self.figure, self.other, self.bar = figure, other, bar
        self.meaning, self.bars, self.said = meaning, bars, said
        self.chosen, self.details, self.curve, self.trace = chosen, details, curve, trace
        self.table: CharacterTable | None = None
        self.bore: BorePerturbation | None = None
        self.differences: Differences | None = None
        self._asked = 0
        self._against = ""

    def start(self) -> None:
        """Listen, take the address's choices, and compute."""
        page = self.page
        page.on_change(self._changed)
        page.on_select(self._selected)
        page.on_key("n", _("next note"), lambda: self._step(1))
        page.on_key("p", _("note before"), lambda: self._step(-1))
        self.bars.hear("pick", lambda told: page.select(note=str(told["note"])[:60]))
        wanted = page.selected.get("figure", "")
        if wanted in self.figure.props["options"]:
            self.figure.set(wanted)
        self._against = page.selected.get("against", "")
        if self._against not in others(self.bench):
            self._against = ""
        self.other.set(self._against)
        self._compute()

    def _changed(self, change: Change) -> None:
        if change.job is not None and change.job.task is Task.CHARACTER:
            self.bar.show(change.job)
        elif change.what == "instrument":
            self._compute()
        if change.what == "files":
            self.other.set(self._against, others(self.bench))

    def _compute(self) -> None:
        self._asked += 1
        background_tasks.create(self._run(self._asked), name="character")

    @outliving
    async def _run(self, asked: int) -> None:
        instrument, fingerings = self.bench.instrument, self.bench.fingerings
        if instrument is None or fingerings is None:
            self.meaning.set_text(_("No fingering table: name one in the file to see pitches."))
            return
        bench, against = self.bench, self._against

        def work(job: Job) -> Heard:
            other = read_other(bench, against) if against else None
            return heard(instrument, fingerings, other, progress=job.tell, cancel=job.wish)

        job = await bench.jobs.run(Task.CHARACTER, work)
        if asked != self._asked or self.page.client.is_deleted or self.bars.is_deleted:
            return
        if job.error is not None:
            self.page.fail(job.error)
        elif job.result is not None:
            self.table, self.bore, self.differences = job.result
            self._show()

    def _selected(self) -> None:
        against = self.page.selected.get("against", "")
        if against != self._against:
            self._against = against
            self._compute()
        self._show()

    def _step(self, way: int) -> None:
        names = [note.fingering for note in self.table.notes] if self.table else []
        if names:
            now = self.page.selected.get("note", "")
            start = names.index(now) if now in names else (-1 if way > 0 else len(names))
            self.page.select(note=names[max(0, min(start + way, len(names) - 1))])

    def _show(self) -> None:
        table = self.table
        if table is None:
            return
        from borewright.acoustics.character import FIGURES
        from borewright.bench.sound.figure_words import figure_title, unit_words

        name = self.figure.value
        unit, step, read, more, less = FIGURES[name]
        note = self.page.selected.get("note", "")
        former = (
            {n.fingering: n for n in self.differences.first_table.notes}
            if (self.differences)
            else {}
        )
        self.bars.give(
            notes=[{"name": n.fingering, "written": n.written} for n in table.notes],
            values=[read(n) for n in table.notes],
            other=[read(former[n.fingering]) if n.fingering in former else None
                   for n in table.notes] if former else [],
            unit=unit_words(unit),
            title=figure_title(name),
            chosen=note,
        )  # fmt: skip
        measure = next((m for m in table.measures if str(m.name) == name), None)
        words = _("More: {more}. Less: {less}. A player may notice {step} {unit}.",
                  more=_.tell(more), less=_.tell(less), step=_.number(step, "g"),
                  unit=unit_words(unit))  # fmt: skip
        self.meaning.set_text(
            f"{_sentence(_.tell(measure.definition))} {words}" if measure else words
        )
        self.trace.set_text(
            _(
                "Computed by: {level}; air: {climate}",
                level=_.tell(table.model_level),
                climate=_.tell(table.climate),
            )
        )
        self._show_note(note)
        self._show_differences()

    def _show_note(self, note: str) -> None:
        found = (
            next((n for n in self.table.notes if n.fingering == note), None)
            if (self.table)
            else None
        )
        if found is None or self.bore is None:
            self.curve.give(stations=[], cents=[])
            return
        self.chosen.set_text(found.fingering)
        peaks = ", ".join(
            f"{peak.number}: {peak.frequency_hz:.0f} Hz {decimal(peak.height_db, 1)} dB"
            for peak in found.peaks[:6]
        )
        told = [_("Peaks: {peaks}.", peaks=peaks), *(_.tell(words) for words in found.words)]
        self.details.set_text(" ".join(_sentence(each) for each in told))
        self.curve.give(
            stations=[
                {
                    "part": s.part,
                    "station": s.station_mm,
                    "position": s.position_mm,
                    "diameter": s.diameter_mm,
                }
                for s in self.bore.stations
            ],
            cents=self.bore.curve(found.fingering),
            title=found.fingering,
        )

    def _show_differences(self) -> None:
        self.said.clear()
        if self.differences is None:
            return
        with self.said:
            heading(
                _(
                    "{first} → {second}",
                    first=others(self.bench).get(self._against, self.differences.first),
                    second=self.bench.file,
                ),
                3,
            )
            with ui.element("ul"):
                for sentence in self.differences.sentences:
                    text(_.tell(sentence), tag="li")
            text(_("Dots: on the bench. Diamonds: the other."), small=True)


def _sentence(words: str) -> str:
    return f"{words[:1].upper()}{words[1:].rstrip('.')}."
