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


class SeatShape(StrEnum):
    """Shape of the rim that a pad meets."""

    CROWNED = "crowned"  # a narrow flat land, bevelled at 45° outside it
    FLAT = "flat"  # a flat ring with a square edge


class PostHole(StrEnum):
    """How the posts of the keywork are held in the body."""

    PILOT = "pilot"  # the post cuts its own thread
    INSERT = "insert"  # a heat-set insert
    BONDED = "bonded"  # shank or sleeve glued into a clearance hole
    NONE = "none"


class PostBase(StrEnum):
    """What a post stands on."""

    FLAT = "flat"
    BOSS = "boss"
    NONE = "none"


class Clearance(StrEnum):
    """How a tenon sits in its socket; it decides how much smaller it is made."""

    CORK = "cork"
    SLIP = "slip"
    O_RING = "o-ring"

    @property
    def range_mm(self) -> tuple[float, float]:
        """Usual socket diameter less tenon diameter (mm), as printed (from memory)."""
        return {"cork": (0.6, 0.8), "slip": (0.2, 0.3), "o-ring": (0.2, 0.4)}[self.value]
