"""Blowing tables and rendered sounds as lines of plain text."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import log10
from typing import TYPE_CHECKING

from borewright.doors.columns import columns, figure, signed, told
from borewright.model.results.blowing import BlownNote, Speaking, Tone
from borewright.model.results.listening import Listening
from borewright.words import Reader

if TYPE_CHECKING:
    from borewright.tasks.sound.blowing import Blown


def blowing_lines(words: Reader, done: Blown) -> Iterator[str]:
    """A line a fingering, what its columns mean, and the trace."""
    table = done.table
    yield table.instrument
    yield ""
    headings = (
        words("note"),
        words("onset"),
        words("easiest"),
        words("from rest"),
        "Hz",
        words("cents"),
        words("softer"),
        words("stronger"),
        words("tight lip"),
        words("loose lip"),
        "dB",
        words("odd-even"),
        words("status"),
    )
    rows = [_row(words, note) for note in table.notes]
    yield from columns(headings, rows, right=range(1, 12))
    yield ""
    yield words("onset: mouth pressure over closing pressure at which the wanted resonance starts")
    yield words(
        "easiest, from rest: number of the resonance with the lowest onset, and of the one heard"
    )
    yield words(
        "softer to loose lip: cents from the pitch standard at 0.9 and 1.25 of the pressure and"
    )
    yield words(
        "  0.75 and 1.25 of the embouchure; dB: sound pressure at the listener; odd-even: inside"
    )
    yield words("blown with: {player}", player=table.player)
    yield words("model: {level}; air: {climate}", level=table.model_level, climate=table.climate)
    for path in done.pictures:
        yield words("drawn   {path}", path=path)


def _row(words: Reader, note: BlownNote) -> tuple[str, ...]:
    base = note.tones[0]
    by_itself = note.speaking is Speaking.BY_ITSELF
    return (
        note.fingering,
        figure(words, note.onset.pressure if note.onset else None, 3),
        str(note.easiest or "-"),
        str(note.from_rest or "-"),
        figure(words, base.hz, 2),
        *(signed(words, tone.cents_from_target) for tone in note.tones),
        figure(words, _level_db(base.radiated_db), 0),
        _odd_even(words, base),
        words("ok") if by_itself else told(words, note.speaking),
    )


def _level_db(levels: Sequence[float]) -> float | None:
    return 10 * log10(sum(10 ** (level / 10) for level in levels)) if levels else None


def _odd_even(words: Reader, tone: Tone) -> str:
    odd, even = _level_db(tone.inside_db[2::2]), _level_db(tone.inside_db[1::2])
    if odd is None or even is None:
        return "-"
    return words.number(odd - even, "+.0f")


def sound_lines(words: Reader, done: Listening) -> Iterator[str]:
    """Files with their levels, how far the tracker is from the model, and notices."""
    for file in done.files:
        yield words(
            "{path}: {instrument}, {seconds:.1f} s, {rate} Hz",
            path=file.path,
            instrument=file.instrument,
            seconds=file.seconds,
            rate=file.sample_rate,
        )
        yield words(
            "  loudness {loudness:.1f} LUFS, true peak {peak:.1f} dB, above 14 kHz {click:.0f} dB, "
            "{level:.0f} dB at the listener by the model",
            loudness=file.loudness_lufs,
            peak=file.true_peak_db,
            click=file.click_db,
            level=file.level_at_listener_db,
        )
        apart = [note.apart_cents for note in file.notes if note.apart_cents is not None]
        if apart:
            yield words(
                "  pitch tracker against model: {count} notes, worst {worst} cents",
                count=len(apart),
                worst=signed(words, max(apart, key=abs), 2),
            )
        unheard = [n.fingering for n in file.notes if n.hz is not None and n.heard_hz is None]
        if unheard:
            yield words("  no pitch was tracked for: {notes}", notes=", ".join(unheard))
    for notice in done.notices:
        yield words("notice: {notice}", notice=notice)
    for path in done.sheet:
        yield words("sheet   {path}", path=path)
    yield words(
        "blown with: {player}; listener at {metres:g} m",
        player=done.player,
        metres=done.distance_m,
    )
    yield words("Turn the volume down before you listen.")
