"""One set of keys on bodies of other pitches: what they sound like, and what keys must change."""

from __future__ import annotations

from borewright.model.base import Entity
from borewright.words import Said


class KeyChange(Entity):
    """What one hinge's keys ask for on another body (mm).

    ``along_mm`` is how far the hinge goes down the joint with its posts, ``stretch_mm`` how far
    its pads and rings lie apart from where it has them, then; 0.5 mm is bent, more is made anew.
    ``holes`` are those that it covers, ``anew`` whether it must be made anew.
    """

    hinge: str
    holes: list[str]
    along_mm: float
    stretch_mm: float
    anew: bool


class SiblingBody(Entity):
    """One body for the keys: its pitch, whether keys were held or stretched, and how it plays.

    ``factor`` is how much longer the air column is, ``body_mm`` the bodies end to end.
    ``outside`` are standard fingerings beyond ten cents.
    """

    name: str
    a4_hz: float
    semitones: int
    held: bool
    factor: float
    rms_cents: float
    worst_cents: float
    worst_note: str
    outside: int
    body_mm: float
    barrel_mm: float
    bell_mm: float
    keys: list[KeyChange]


class SiblingsResult(Entity):
    """All bodies, those of one pitch together: keys held first, then stretched."""

    instrument: str
    bodies: list[SiblingBody]
    model_level: Said
