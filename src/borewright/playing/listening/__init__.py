"""Listening: notes, scales and short MIDI files rendered through the blown model to WAV.

What such a sound can and cannot tell stands in docs/sound.md and on the listening sheet.
"""

from borewright.listing import names
from borewright.playing.listening.checks import click_db as click_db
from borewright.playing.listening.checks import true_peak_db as true_peak_db
from borewright.playing.listening.files import listen as listen
from borewright.playing.listening.loudness import loudness_lufs as loudness_lufs
from borewright.playing.listening.loudness import made_equal as made_equal
from borewright.playing.listening.midi import midi_score as midi_score
from borewright.playing.listening.rendering import Rendering as Rendering
from borewright.playing.listening.rendering import render as render
from borewright.playing.listening.score import ScoreNote as ScoreNote
from borewright.playing.listening.score import notes_score as notes_score
from borewright.playing.listening.score import scale_score as scale_score

__all__ = names(__file__)
