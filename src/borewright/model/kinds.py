"""Closed choices, in the trade's words."""

from __future__ import annotations

from enum import StrEnum


class Cover(StrEnum):
    """What closes a tone hole."""

    FINGER = "finger"
    RING = "ring"
    PAD = "pad"


class Rest(StrEnum):
    """How a pad rests when nobody touches its key."""

    OPEN = "open"
    CLOSED = "closed"


class BottomEnd(StrEnum):
    """What the air meets at the bottom of the last part."""

    RADIATING = "radiating"  # a wall of the part's own thickness, in free air
    FLANGED = "flanged"  # flush in an infinite flange
    IDEAL = "ideal"  # zero pressure: a textbook check, not a real end
    CLOSED = "closed"


class Register(StrEnum):
    """Register of a fingering; it names which resonance sounds."""

    CHALUMEAU = "chalumeau"
    THROAT = "throat"
    CLARION = "clarion"
    ALTISSIMO = "altissimo"

    @property
    def resonance(self) -> int:
        """Number of the resonance that sounds, counted from 1 upwards."""
        return {"chalumeau": 1, "throat": 1, "clarion": 2, "altissimo": 3}[self.value]


class Use(StrEnum):
    """What a fingering is for; it decides how hard a fit tries."""

    STANDARD = "standard"
    ALTERNATE = "alternate"
    APART = "apart"  # reported, but a known compromise that is not fitted


class SurveyItem(StrEnum):
    """Kinds of rows in a keywork survey."""

    CUP = "cup"
    RING = "ring"
    POST = "post"
