"""Closed choices, in the trade's words."""

from __future__ import annotations

from enum import StrEnum

from borewright.words import Message, say

_WORDS = {
    "alternate": say("alternate"),
    "altissimo": say("altissimo"),
    "apart": say("apart"),
    "bonded": say("bonded"),
    "boss": say("boss"),
    "chalumeau": say("chalumeau"),
    "clarion": say("clarion"),
    "closed": say("closed"),
    "cork": say("cork"),
    "crowned": say("crowned"),
    "bell": say("bell"),
    "cup": say("cup"),
    "fault": say("fault"),
    "finger": say("finger"),
    "flanged": say("flanged"),
    "flat": say("flat"),
    "ideal": say("ideal"),
    "insert": say("insert"),
    "none": say("none"),
    "notice": say("notice"),
    "o-ring": say("o-ring"),
    "open": say("open"),
    "pad": say("pad"),
    "pilot": say("pilot"),
    "post": say("post"),
    "radiating": say("radiating"),
    "ring": say("ring"),
    "row": say("row"),
    "short row": say("short row"),
    "slip": say("slip"),
    "standard": say("standard"),
    "throat": say("throat"),
}


class Choice(StrEnum):
    """A closed choice: its value stands in files, its words are told to a reader."""

    @property
    def words(self) -> Message:
        """What a reader is told."""
        return _WORDS[self.value]


class Cover(Choice):
    """What closes a tone hole."""

    FINGER = "finger"
    RING = "ring"
    PAD = "pad"


class LatticeKind(Choice):
    """What returns the sound: three open holes or more, two, or fewer with all below them."""

    ROW = "row"
    SHORT_ROW = "short row"
    BELL = "bell"


class Rest(Choice):
    """How a pad rests when nobody touches its key."""

    OPEN = "open"
    CLOSED = "closed"


class BottomEnd(Choice):
    """What the air meets at the bottom of the last part."""

    RADIATING = "radiating"  # a wall of the part's own thickness, in free air
    FLANGED = "flanged"  # flush in an infinite flange
    IDEAL = "ideal"  # zero pressure: a textbook check, not a real end
    CLOSED = "closed"


class Register(Choice):
    """Register of a fingering; it names which resonance sounds."""

    CHALUMEAU = "chalumeau"
    THROAT = "throat"
    CLARION = "clarion"
    ALTISSIMO = "altissimo"

    @property
    def resonance(self) -> int:
        """Number of the resonance that sounds, counted from 1 upwards."""
        return {"chalumeau": 1, "throat": 1, "clarion": 2, "altissimo": 3}[self.value]


class Use(Choice):
    """What a fingering is for; it decides how hard a fit tries."""

    STANDARD = "standard"
    ALTERNATE = "alternate"
    APART = "apart"  # reported, but a known compromise that is not fitted


class Severity(Choice):
    """How bad it is what a check found."""

    FAULT = "fault"  # not allowed
    NOTICE = "notice"


class SurveyItem(Choice):
    """Kinds of rows in a keywork survey."""

    CUP = "cup"
    RING = "ring"
    POST = "post"


class SeatShape(Choice):
    """Shape of the rim that a pad meets."""

    CROWNED = "crowned"  # a narrow flat land, bevelled at 45° outside it
    FLAT = "flat"  # a flat ring with a square edge


class PostHole(Choice):
    """How the posts of the keywork are held in the body."""

    PILOT = "pilot"  # the post cuts its own thread
    INSERT = "insert"  # a heat-set insert
    BONDED = "bonded"  # shank or sleeve glued into a clearance hole
    NONE = "none"


class PostBase(Choice):
    """What a post stands on."""

    FLAT = "flat"
    BOSS = "boss"
    NONE = "none"


class Clearance(Choice):
    """How a tenon sits in its socket; it decides how much smaller it is made."""

    CORK = "cork"
    SLIP = "slip"
    O_RING = "o-ring"

    @property
    def range_mm(self) -> tuple[float, float]:
        """Usual socket diameter less tenon diameter (mm), as printed (from memory)."""
        return {"cork": (0.6, 0.8), "slip": (0.2, 0.3), "o-ring": (0.2, 0.4)}[self.value]
