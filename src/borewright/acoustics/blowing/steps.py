"""The steps of long work in this room, as its ``progress`` is told of them."""

from __future__ import annotations

from borewright.words import Message, say

RESONANCES = say("resonances and thresholds")
VOICES = say("every note from rest, prepared and helped")
SOUND = say("the notes one by one")


def untold(step: Message, done: int, total: int) -> None:
    """A progress that nobody listens to."""
