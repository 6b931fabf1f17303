"""The picture of a take: pitch track, found notes with their names and cents."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import Any, NamedTuple

from nicegui.element import Element

from borewright.bench.widgets.units import decimal
from borewright.bench.words import _
from borewright.model.results.playtest import FoundNote, NoteStatus, PitchTrack, Take

#: Frames drawn at most: a long take is thinned, its notes are not.
_MOST_FRAMES = 6000


class ShownNote(NamedTuple):
    """A found note under the name it has now, with the cents against that name's target."""

    found: FoundNote
    name: str
    cents: float | None
    status: NoteStatus


class TakePicture(Element, component="take_picture.js"):
    """A take's picture; ``on_pick`` gets the index of the note chosen."""

    def __init__(
        self,
        take: Take,
        track: PitchTrack,
        notes: Sequence[ShownNote],
        chosen: int,
        on_pick: Callable[[int], Any],
    ) -> None:
        super().__init__()
        heights = [_semitone(note.found.hz) for note in notes] or [69.0]
        room = 1.5 + 0.12 * (max(heights) - min(heights))
        self.props.update(
            frames=_frames(track),
            rows=_rows(notes),
            seconds=take.seconds,
            low=min(heights) - room,
            highest=max(heights) + 1.4 * room,
            words={"panel": _("Pitch track, panel")},
        )
        self.show(notes, chosen)
        self.on("pick", lambda event: on_pick(int(event.args)))

    def show(self, notes: Sequence[ShownNote], chosen: int) -> None:
        """Show other names, or another note chosen."""
        self.props.update(notes=[_shown(note) for note in notes], chosen=chosen)
        self.update()


def status_words(status: NoteStatus) -> str:
    """How a note stands to the planned order, in the page's language."""
    return {
        NoteStatus.OK: _("ok"),
        NoteStatus.REPEATED: _("repeated"),
        NoteStatus.OUT_OF_ORDER: _("out of order"),
        NoteStatus.WRONG_REGISTER: _("wrong register"),
        NoteStatus.UNPLANNED: _("does not count"),
    }[status]


def cents_words(cents: float | None) -> str:
    """Cents with their sign, or a dash where the note has no name."""
    if cents is None:
        return "–"
    return ("+" if cents > 0 else "") + decimal(cents, 1).replace("-", "−")


def _shown(note: ShownNote) -> dict[str, Any]:
    counts = note.status.counts
    words = cents_words(note.cents) if counts else status_words(note.status)
    return {
        "name": note.name or "?",
        "cents": words,
        "counts": counts,
        "at": _semitone(note.found.hz),
        "from": note.found.steady_start_s,
        "to": note.found.steady_end_s,
        "label": f"{note.name or '?'}, {words}, {decimal(note.found.steady_start_s, 1)} s",
    }


def _semitone(hz: float) -> float:
    return 69 + 12 * math.log2(hz / 440.0)


def _frames(track: PitchTrack) -> list[tuple[float, float]]:
    step = max(1, math.ceil(len(track.times_s) / _MOST_FRAMES))
    pairs = list(zip(track.times_s, track.hz, strict=True))[::step]
    return [(round(time, 3), round(_semitone(hz), 3)) for time, hz in pairs if hz > 0]


def _rows(notes: Sequence[ShownNote]) -> list[dict[str, Any]]:
    """A line at the target of every named note, the lowest first."""
    found = {
        note.name: round(_semitone(note.found.hz) - note.cents / 100, 3)
        for note in notes
        if note.name and note.cents is not None and note.status.counts
    }
    return [{"name": name, "at": at} for name, at in sorted(found.items(), key=lambda row: row[1])]
