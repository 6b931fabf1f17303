"""Closed choices, in the trade's words."""

from __future__ import annotations

from borewright.words import Choice, say


class Cover(Choice):
    """What closes a tone hole."""

    FINGER = "finger", say("finger")
    RING = "ring", say("ring")
    PAD = "pad", say("pad")


class LatticeKind(Choice):
    """What returns the sound: three open holes or more, two, or fewer with all below them."""

    ROW = "row", say("row")
    SHORT_ROW = "short row", say("short row")
    BELL = "bell", say("bell")


class Rest(Choice):
    """How a pad rests when nobody touches its key."""

    OPEN = "open", say("open")
    CLOSED = "closed", say("closed")


class BottomEnd(Choice):
    """What the air meets at the bottom of the last part."""

    RADIATING = "radiating", say("radiating")  # a wall of the part's own thickness, in free air
    FLANGED = "flanged", say("flanged")  # flush in an infinite flange
    IDEAL = "ideal", say("ideal")  # zero pressure: a textbook check, not a real end
    CLOSED = "closed", say("closed")


class SideHoles(Choice):
    """How side holes and the bell below them are computed."""

    CLOSED_FORMS = "closed forms", say("closed forms")  # of the literature, for study
    # By the surrogate of solutions; beyond its range each by itself.
    SOLVED = "solved in 3-D", say("solved in 3-D")
    EACH = "each solved in 3-D", say("each solved in 3-D")  # every hole by itself


class Register(Choice):
    """Register of a fingering; it names which resonance sounds."""

    CHALUMEAU = "chalumeau", say("chalumeau")
    THROAT = "throat", say("throat")
    CLARION = "clarion", say("clarion")
    ALTISSIMO = "altissimo", say("altissimo")

    @property
    def resonance(self) -> int:
        """Number of the resonance that sounds, counted from 1 upwards."""
        return {"chalumeau": 1, "throat": 1, "clarion": 2, "altissimo": 3}[self.value]


class Use(Choice):
    """What a fingering is for; it decides how hard a fit tries."""

    STANDARD = "standard", say("standard")
    ALTERNATE = "alternate", say("alternate")
    APART = "apart", say("apart")  # reported, but a known compromise that is not fitted


class Severity(Choice):
    """How bad it is what a check found."""

    FAULT = "fault", say("fault")  # not allowed
    NOTICE = "notice", say("notice")


class SurveyItem(Choice):
    """Kinds of rows in a keywork survey."""

    CUP = "cup", say("cup")
    RING = "ring", say("ring")
    POST = "post", say("post")


class SeatShape(Choice):
    """Shape of the rim that a pad meets."""

    CROWNED = "crowned", say("crowned")  # a narrow flat land, bevelled at 45° outside it
    FLAT = "flat", say("flat")  # a flat ring with a square edge


class PostHole(Choice):
    """How the posts of the keywork are held in the body."""

    PILOT = "pilot", say("pilot")  # the post cuts its own thread
    INSERT = "insert", say("insert")  # a heat-set insert
    BONDED = "bonded", say("bonded")  # shank or sleeve glued into a clearance hole
    NONE = "none", say("none")


class PostBase(Choice):
    """What a post stands on."""

    FLAT = "flat", say("flat")
    BOSS = "boss", say("boss")
    NONE = "none", say("none")


class Clearance(Choice):
    """How a tenon sits in its socket; it decides how much smaller it is made."""

    CORK = "cork", say("cork")
    SLIP = "slip", say("slip")
    O_RING = "o-ring", say("o-ring")

    @property
    def range_mm(self) -> tuple[float, float]:
        """Usual socket diameter less tenon diameter (mm), as printed (from memory)."""
        return {"cork": (0.6, 0.8), "slip": (0.2, 0.3), "o-ring": (0.2, 0.4)}[self.value]
