"""Blowing: a reed coupled to the computed resonators, in time; see docs/sound.md.

Thresholds, playing frequencies, registers and sound. This room knows no files.
"""

from borewright.acoustics.blowing.attempts import Voices, voices
from borewright.acoustics.blowing.player import Blowing
from borewright.acoustics.blowing.resonators import Resonators, resonators
from borewright.acoustics.blowing.sound import Breathing, Event, Played, play
from borewright.acoustics.blowing.table import blow, table_of

__all__ = [
    "Blowing",
    "Breathing",
    "Event",
    "Played",
    "Resonators",
    "Voices",
    "blow",
    "play",
    "resonators",
    "table_of",
    "voices",
]
