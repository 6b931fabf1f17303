"""Results of a family of barrels or bells on one instrument."""

from __future__ import annotations

from borewright.model.base import Entity
from borewright.model.results.character import RegisterDifference
from borewright.words import Said


class NoteChange(Entity):
    """One fingering with a member: how far (cents) it moves, and where it then is."""

    fingering: str
    by_cents: float
    cents: float


class Member(Entity):
    """One barrel or bell of a family (mm), and what it does to the instrument (cents).

    Figures are changes against the part in place, over the standard fingerings:
    ``pitch_cents`` the mean, ``by_register`` the mean of each register, ``twelfths_cents`` the
    mean stretch of the twelfths (positive: wider), ``notes`` every standard fingering from the
    lowest note up, each low one followed by its twelfth. ``rms_cents`` is the instrument's root
    mean square about its own mean pitch, with this member; ``unevenness_cents`` how far the
    change scatters about its mean.
    """

    name: str
    shape: str
    length_mm: float
    top_mm: float
    bottom_mm: float
    bore: list[tuple[float, float]]
    pitch_cents: float
    by_register: dict[str, float]
    twelfths_cents: float
    rms_cents: float
    unevenness_cents: float
    notes: list[NoteChange] = []


class Chosen(Entity):
    """A member chosen for a place in the range, and by how much it misses it (cents)."""

    member: int
    wanted_cents: float
    misses_by_cents: float
    character: list[RegisterDifference] = []
    sentences: list[str] = []


class FamilyTable(Entity):
    """All members, and those chosen to span a range.

    ``by`` says what spans the range, ``pitch`` or ``twelfths``; ``reach_cents`` what the family
    can do of it.
    """

    instrument: str
    part: str
    kind: str
    in_place: Member
    members: list[Member]
    by: str
    low_cents: float
    high_cents: float
    reach_cents: tuple[float, float]
    chosen: list[Chosen]
    notices: list[Said]
    model_level: Said
    climate: Said
