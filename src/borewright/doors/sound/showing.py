"""Blowing tables and rendered sounds as lines of plain text."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from borewright.doors.columns import columns, signed
from borewright.model.results.blowing import BlownNote, Speaking, Tone
from borewright.model.results.listening import Listening

if TYPE_CHECKING:
    from borewright.tasks.sound.blowing import Blown


def blowing_lines(done: Blown) -> Iterator[str]:
    """A line a fingering, what its columns mean, and the trace."""
    table = done.table
    yield table.instrument
    yield ""
    headings = ("note", "onset", "easiest", "from rest", "Hz", "cents", "softer", "stronger",
                "tight lip", "loose lip", "dB", "odd-even", "status")  # fmt: skip
    yield from columns(headings, [_row(note) for note in table.notes], right=tuple(range(1, 12)))
    yield ""
    yield "onset: mouth pressure over closing pressure at which the wanted resonance starts"
    yield "easiest, from rest: number of the resonance with the lowest onset, and of the one heard"
    yield "softer to loose lip: cents from the pitch standard at 0.9 and 1.25 of the pressure and"
    yield "  0.75 and 1.25 of the embouchure; dB: sound pressure at the listener; odd-even: inside"
    yield f"blown with: {table.player}"
    yield f"model: {table.model_level}; air: {table.climate}"
    for path in done.pictures:
        yield f"drawn   {path}"


def _row(note: BlownNote) -> tuple[str, ...]:
    base = note.tones[0]
    onset = note.onset.pressure if note.onset else None
    return (
        note.fingering,
        "-" if onset is None else f"{onset:.3f}",
        str(note.easiest or "-"),
        str(note.from_rest or "-"),
        "-" if base.hz is None else f"{base.hz:.2f}",
        *(_cents(tone) for tone in note.tones),
        _level(base),
        _odd_even(base),
        "ok" if note.speaking is Speaking.BY_ITSELF else note.speaking.value,
    )


def _cents(tone: Tone) -> str:
    return "-" if tone.cents_from_target is None else signed(tone.cents_from_target)


def _level(tone: Tone) -> str:
    if not tone.radiated_db:
        return "-"
    from math import log10

    return f"{10 * log10(sum(10 ** (level / 10) for level in tone.radiated_db)):.0f}"


def _odd_even(tone: Tone) -> str:
    if not tone.inside_db:
        return "-"
    from math import log10

    odd = sum(10 ** (level / 10) for level in tone.inside_db[2::2])
    even = sum(10 ** (level / 10) for level in tone.inside_db[1::2])
    return f"{10 * log10(odd / even):+.0f}"


def sound_lines(done: Listening) -> Iterator[str]:
    """Files with their levels, how far the tracker is from the model, and notices."""
    for file in done.files:
        yield f"{file.path}: {file.instrument}, {file.seconds:.1f} s, {file.sample_rate} Hz"
        yield (
            f"  loudness {file.loudness_lufs:.1f} LUFS, true peak {file.true_peak_db:.1f} dB, "
            f"above 14 kHz {file.click_db:.0f} dB, {file.level_at_listener_db:.0f} dB at the "
            "listener by the model"
        )
        apart = [note.apart_cents for note in file.notes if note.apart_cents is not None]
        if apart:
            worst = max(apart, key=abs)
            yield (
                f"  pitch tracker against model: {len(apart)} notes, worst {signed(worst, 2)} cents"
            )
        unheard = [n.fingering for n in file.notes if n.hz is not None and n.heard_hz is None]
        if unheard:
            yield f"  no pitch was tracked for: {', '.join(unheard)}"
    for notice in done.notices:
        yield f"notice: {notice}"
    for path in done.sheet:
        yield f"sheet   {Path(path)}"
    yield f"blown with: {done.player}; listener at {done.distance_m:g} m"
    yield "Turn the volume down before you listen."
