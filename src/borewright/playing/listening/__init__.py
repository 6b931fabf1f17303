"""Listening: notes, scales and short MIDI files rendered through the blown model to WAV.

What such a sound can and cannot tell stands in docs/sound.md and on the listening sheet.
"""

from borewright.playing.listening.checks import click_db, true_peak_db
from borewright.playing.listening.files import listen
from borewright.playing.listening.loudness import loudness_lufs, made_equal
from borewright.playing.listening.midi import midi_score
from borewright.playing.listening.rendering import Rendering, render
from borewright.playing.listening.score import ScoreNote, notes_score, scale_score

__all__ = [
    "Rendering",
    "ScoreNote",
    "click_db",
    "listen",
    "loudness_lufs",
    "made_equal",
    "midi_score",
    "notes_score",
    "render",
    "scale_score",
    "true_peak_db",
]
