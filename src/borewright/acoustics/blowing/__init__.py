"""Blowing: a reed coupled to the computed resonators, in time; see docs/sound.md.

Thresholds, playing frequencies, registers and sound. This room knows no files.
"""

from borewright.acoustics.blowing.attempts import Voices as Voices
from borewright.acoustics.blowing.attempts import voices as voices
from borewright.acoustics.blowing.player import Blowing as Blowing
from borewright.acoustics.blowing.resonators import Resonators as Resonators
from borewright.acoustics.blowing.resonators import resonators as resonators
from borewright.acoustics.blowing.sound import Breathing as Breathing
from borewright.acoustics.blowing.sound import Event as Event
from borewright.acoustics.blowing.sound import Played as Played
from borewright.acoustics.blowing.sound import play as play
from borewright.acoustics.blowing.table import blow as blow
from borewright.acoustics.blowing.table import table_of as table_of
from borewright.listing import names

__all__ = names(__file__)
