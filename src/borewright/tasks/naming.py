"""What an instrument is called where a person reads it."""

from __future__ import annotations

from borewright.model import Instrument


def title(instrument: Instrument) -> str:
    """The instrument's name, and whether it is invented."""
    if instrument.invented and "invented" not in instrument.name.lower():
        return f"{instrument.name} (invented)"
    return instrument.name
