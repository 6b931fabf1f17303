"""One take: hear it, see its pitch track and found notes, and put a wrong name right."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import TYPE_CHECKING
from urllib.parse import quote

from nicegui import ui
from nicegui.elements.mixins.text_element import TextElement

from borewright.bench.folder import Kind
from borewright.bench.jobs import Task
from borewright.bench.page import Page, outliving
from borewright.bench.play.notes_file import notes_of, recording_of, save_notes
from borewright.bench.play.take_picture import (
    ShownNote,
    TakePicture,
    cents_words,
    status_words,
)
from borewright.bench.play.tracks import keep_track, kept_track, measure
from borewright.bench.widgets import Choice, button, heading, text
from borewright.bench.widgets.rows import rows_with_buttons
from borewright.bench.widgets.units import decimal
from borewright.bench.words import _
from borewright.errors import BorewrightError
from borewright.model.results.playtest import NoteStatus, PitchTrack, Take
from borewright.words import say

if TYPE_CHECKING:
    from borewright.model import PitchStandard
    from borewright.playing import Record

_LEFT_OUT = "-"


class TakeCard:
    """The take that the page's address names; rebuilt when the table or the choice changes."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self._box = ui.element("section").classes("bw-card").props('data-mark="take"')
        self._show_choice: Callable[[], None] | None = None
        self._drawn = ""
        self.refresh()

    def select(self) -> None:
        """Follow the address: another note of the same take changes little on the page."""
        if self._show_choice is not None and self.page.selected.get("take", "") == self._drawn:
            self._show_choice()
        else:
            self.refresh()

    def refresh(self) -> None:
        """Draw anew what the address and the table of notes say."""
        name = self.page.selected.get("take", "")
        recordings = {each.name for each in self.page.workbench.files(Kind.TAKE)}
        self._box.set_visibility(name in recordings)
        if name not in recordings:
            return
        known = kept_track(self.page.workbench, name)
        self._drawn, self._show_choice = name, None
        self._box.clear()
        with self._box:
            heading(_("The take {name}", name=name))
            audio = ui.element("audio").props("controls preload=none").classes("bw-audio")
            audio.props["src"] = f"/files/{quote(name)}"
            audio.props["aria-label"] = _("Listen to {name}", name=name)
            try:
                records = [r for r in notes_of(self.page.workbench) if recording_of(r) == name]
            except BorewrightError as error:
                text(error.told(_.reader))
                return
            if not records:
                text(_("Not measured yet: see the list of takes."))
            elif known is None:
                text(_("Its pitch track is looked for …")).props('role="status"')
                ui.timer(0, partial(self._measure_again, name, records[0]), once=True)
            else:
                self._notes(*known, records)

    @outliving
    async def _measure_again(self, name: str, record: Record) -> None:
        """The track of a take whose notes are in the table, but whose track is not kept."""
        bench = self.page.workbench
        if bench.instrument is None:
            return
        pitch, room = self._pitch(record), record.temperature_c
        path = bench.folder.path(name)
        job = await bench.jobs.run(
            Task.MEASURE,
            lambda job: measure(job, path, name, pitch, 20.0 if room is None else room, None, None),
            say("Measuring {name}", name=name),
        )
        if job.error is not None:
            self.page.fail(job.error)
        elif job.result is not None:
            keep_track(bench, *job.result)
            self.refresh()

    def _pitch(self, record: Record) -> PitchStandard:
        instrument = self.page.workbench.instrument
        assert instrument is not None
        a4 = record.a4_hz or instrument.pitch.a4_hz
        return instrument.pitch.model_copy(update={"a4_hz": a4})

    def _notes(self, take: Take, track: PitchTrack, records: list[Record]) -> None:
        from borewright.playing.relabelling import record_of

        pitch = self._pitch(records[0])
        places = [record_of(note, records, pitch) for note in take.notes]
        shown = []
        for note, place in zip(take.notes, places, strict=True):
            if place is None:
                shown.append(ShownNote(note, "", None, NoteStatus.UNPLANNED))
            else:
                record = records[place]
                shown.append(ShownNote(note, record.note, record.cents, record.status))
        text(
            _(
                "Grey: every moment with a pitch. Bars: the steady part of each note, with its "
                "cents at A = {a4} Hz and {room} °C. Choose a note to correct its name.",
                a4=decimal(records[0].a4_hz or pitch.a4_hz, 1),
                room=decimal(take.temperature_c, 1),
            ),
            small=True,
        )
        for notice in take.notices:
            text(_.tell(notice))
        picture = TakePicture(take, track, shown, self._chosen(len(shown)), self._pick)
        if take.missing:
            text(_("Not found: {notes}", notes=", ".join(map(_.tell, take.missing))))
        editor = ui.element("div").classes("bw-editor").props('role="group"')
        editor.props["aria-label"] = _("The note chosen")
        with ui.element("details"):
            TextElement(tag="summary", text=_("All figures"))
            self._table(shown)

        def show_choice() -> None:
            chosen = self._chosen(len(shown))
            picture.show(shown, chosen)
            editor.clear()
            if chosen >= 0:
                with editor:
                    self._editor(shown[chosen], records, places[chosen], take.file)

        self._show_choice = show_choice
        show_choice()

    def _chosen(self, count: int) -> int:
        word = self.page.selected.get("found", "")
        return int(word) if word.isdigit() and int(word) < count else -1

    def _pick(self, index: int) -> None:
        self.page.select(found=str(index))

    def step(self, way: int) -> None:
        """Choose the next note, or the one before."""
        known = kept_track(self.page.workbench, self.page.selected.get("take", "-"))
        if known is not None:
            count = len(known[0].notes)
            self._pick(min(max(self._chosen(count) + way, 0), count - 1))

    def _editor(
        self, note: ShownNote, records: list[Record], place: int | None, recording: str
    ) -> None:
        found = note.found
        words = _(
            "{name}: {hz} Hz at {s} s, {cents} cents, {status}",
            name=note.name or "?",
            hz=decimal(found.hz, 2),
            s=decimal(found.steady_start_s, 1),
            cents=cents_words(note.cents),
            status=status_words(note.status),
        )
        text(words).props('data-mark="found-note"')
        table = self.page.workbench.fingerings
        names = [each.name for each in table.fingerings] if table else []
        options = {_LEFT_OUT: _("does not count"), **{name: name for name in names}}
        if note.name and note.name not in options:
            options[note.name] = note.name
        value = note.name if note.status is not NoteStatus.UNPLANNED else _LEFT_OUT
        with ui.element("div").classes("bw-row"):
            Choice(
                _("It was"),
                options,
                value,
                partial(self._rename, records, place, found.take, found.hz, recording),
                mark="rename",
            )
            button(_("Note before"), partial(self.step, -1), mark="note-before")
            button(_("Next note"), partial(self.step, 1), mark="note-next")

    def _rename(
        self,
        records: list[Record],
        place: int | None,
        take: int,
        hz: float,
        recording: str,
        name: str,
    ) -> None:
        """Save a note under another name; a note that was not in the table is added."""
        from borewright.playing.relabelling import called, found_as, left_out

        every = notes_of(self.page.workbench)
        if place is None:
            if name == _LEFT_OUT:
                return
            model = records[0]
            made = found_as(model, name, hz, self._pitch(model), f"{recording}#{take}")
            last = max(i for i, each in enumerate(every) if recording_of(each) == recording)
            every.insert(last + 1, made)
        else:
            old = records[place]
            if old not in every:  # corrected on another page meanwhile: look first
                self.refresh()
                return
            new = left_out(old) if name == _LEFT_OUT else called(old, name, self._pitch(old))
            every[every.index(old)] = new
        what = say("call a note of {take} {name}", take=recording, name=name)
        save_notes(self.page, every, what)

    def _table(self, shown: Sequence[ShownNote]) -> None:
        rows = [
            (
                note.name or "?",
                decimal(note.found.steady_start_s, 2),
                decimal(note.found.hz, 2),
                cents_words(note.cents),
                decimal(note.found.spread_cents, 1),
                cents_words(note.found.drift_cents_per_s),
                decimal(note.found.settle_ms, 0),
                decimal(note.found.level_db, 0),
                status_words(note.status),
            )
            for note in shown
        ]
        rows_with_buttons(
            _("Found notes"),
            (_("note"), _("at s"), _("Hz"), _("cents"), _("spread"), _("drift per s"),
             _("settled ms"), _("dB"), _("state")),
            rows,
            [[(_("Choose"), partial(self._pick, i), f"found-{i}")] for i in range(len(rows))],
            right=1,
        )  # fmt: skip
