"""What an instrument is called where a person reads it."""

from __future__ import annotations

from borewright.model import Instrument
from borewright.words import Text, say


def title(instrument: Instrument) -> Text:
    """The instrument's name, and whether it is invented."""
    if instrument.invented and "invented" not in instrument.name.lower():
        return say("{instrument} (invented)", instrument=instrument.name)
    return instrument.name
