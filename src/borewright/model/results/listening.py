"""Results of rendering a design to sound: which notes, how loud, and what a check heard."""

from __future__ import annotations

from borewright.model.base import Entity
from borewright.model.results.blowing import Speaking
from borewright.words import Said


class HeardNote(Entity):
    """One note in a sound file.

    ``hz`` is the model's playing frequency, None where the note is too short or has no steady
    tone; ``heard_hz`` is what an independent pitch tracker found in the file.
    """

    fingering: str
    start_s: float
    seconds: float
    speaking: Speaking
    target_hz: float
    hz: float | None
    heard_hz: float | None
    apart_cents: float | None  # heard less model


class SoundFile(Entity):
    """One design's sound: levels after equal loudness, and what the checks found.

    ``loudness_lufs`` after ITU-R BS.1770; ``true_peak_db`` and ``click_db`` below full scale,
    the latter the loudest 5 ms above 14 kHz, where the model holds no sound.
    """

    path: str
    instrument: str
    seconds: float
    sample_rate: int
    loudness_lufs: float
    true_peak_db: float
    click_db: float
    level_at_listener_db: float  # root mean square of the whole, re 20 µPa, before the change
    notes: list[HeardNote]


class Listening(Entity):
    """One or two designs rendered with the same notes, breath and loudness."""

    files: list[SoundFile]
    sheet: list[str]
    player: Said
    distance_m: float
    notices: list[Said]
