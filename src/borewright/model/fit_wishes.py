"""What the owner frees for a fit, and the process limits that bodies must keep."""

from __future__ import annotations

from typing import Annotated, NamedTuple

from pydantic import AfterValidator, Field, field_validator, model_validator

from borewright.errors import RefusedValue
from borewright.model.base import Entity, Finite, Name, NotNegative, Positive, printable
from borewright.model.bounds import Bounded, Cents, Weight, Window
from borewright.model.kinds import Register
from borewright.model.reamers import TaperReamer
from borewright.words import Choice, say

#: What a fit may free of a hole, as ``HOLE.measure``.
FREE_OF_HOLES = ("station", "diameter", "chimney", "undercut")
#: What a fit may free of a part, as ``PART.feature``; the first three stand for many.
FREE_OF_PARTS = (
    "length",
    "bore_diameter",
    "bore_station",
    "cylinder",
    "upper_end",
    "lower_end",
    "edge",
    "step",
    "bend",
    "throat_end",
    "flare_start",
    "flare_law",
)
#: Dimensions a fit may free, as ``PATTERN.dimension``; PATTERN is a part, a hole or ``*``.
FREE_DIMENSIONS = (*FREE_OF_HOLES, *FREE_OF_PARTS)


class FirstAim(Choice):
    """What a fit puts first, in words."""

    TUNE = "in tune first", say("in tune first")
    EVEN = "even first", say("even first")
    DRAWING = "close to my drawing", say("close to my drawing")


class FreeWish(NamedTuple):
    """One word of ``free``, read: ``hole.chimney except CG, GS``."""

    owner: str
    measure: str
    excepted: tuple[str, ...]

    def frees(self, measures: tuple[str, ...], part: str, hole: str = "") -> bool:
        """Whether it frees a thing that answers to ``measures``, of a part or of its hole."""
        if self.measure not in measures or (hole or part) in self.excepted:
            return False
        if hole:
            return bool({"hole", "*", hole} & {*self.owners})
        return bool({"*", part} & {*self.owners})

    @property
    def owners(self) -> tuple[str, ...]:
        """The parts or holes named, one or several with commas between."""
        return tuple(name.strip() for name in self.owner.split(","))


def read_free(wish: str) -> FreeWish:
    """A word of ``free``; ValueError where it frees nothing that is known."""
    freed, _, excepted = wish.partition(" except ")
    owner, dot, measure = freed.strip().rpartition(".")
    if not dot or not owner or measure not in FREE_DIMENSIONS:
        raise RefusedValue(
            say("'{wish}' frees nothing that is known", wish=wish),
            say(
                "Write a part or hole (or 'hole' for all holes), a dot, and one of: {dimensions}.",
                dimensions=", ".join(FREE_DIMENSIONS),
            ),
        )
    return FreeWish(owner, measure, tuple(name.strip() for name in excepted.split(",") if name))


class StatedRange(Entity):
    """A range (mm) that the maker states for a dimension, and why."""

    from_mm: Finite
    to_mm: Finite
    because: str = ""

    @model_validator(mode="after")
    def _rises(self) -> StatedRange:
        if self.from_mm > self.to_mm:
            raise RefusedValue(
                say(
                    "the range runs from {from_mm:g} down to {to_mm:g} mm",
                    from_mm=self.from_mm,
                    to_mm=self.to_mm,
                ),
                say("Write the smaller value as from_mm."),
            )
        return self


class AlsoPlayed(Entity):
    """Another state in which the same body shall be in tune: a barrel of its pair, a pitch.

    ``lengths`` are those of parts that are exchanged (mm), ``pulled`` the joints drawn apart as
    in [instrument], ``a4_hz`` the pitch then, where it is another. ``weight`` scales its cents.
    """

    name: Annotated[str, Field(min_length=1, max_length=60), AfterValidator(printable)]
    a4_hz: Annotated[Finite, Bounded("a4_hz")] | None = None
    lengths: dict[Name, Annotated[Positive, Bounded("part_length_mm")]] = {}
    pulled: dict[Name, NotNegative] = {}
    weight: Weight = 1.0


class FitWishes(Entity):
    """Free dimensions, their limits, and weights (mm, cents).

    ``free`` lists words like ``hole.station``, ``hole.chimney except CG, GS``, ``L3.diameter``,
    ``R1, R2, R3.undercut``, ``barrel.length`` or ``lower joint.flare_start``: a part, a hole,
    several of them or ``hole`` for all holes, a dot, and the dimension. ``undercut`` is how much
    wider a hole is at the bore: 0 to 2 mm for a finger hole, 1.5 under an open pad, 1 under a
    closed one, unless ``ranges`` states others; a hole drawn straight begins with none. A bore
    moves by its features: ``bore_diameter`` frees the diameters of a part's cylinders and
    tapers, ``bore_station`` where its steps, throat and flare stand, ``flare_law`` how full its
    flare is; ``cylinder``, ``upper_end``, ``lower_end``, ``step``, ``throat_end`` and
    ``flare_start`` free one kind. Chimneys that shall stay alike are named
    together in ``alike``.

    Limits not given by the keywork come from here, counted from the drawing. A hole stays
    within ``hole_size_window`` of its drawn diameter (0.15: 15 %), unless ``ranges`` states
    another range for it, with the reason. ``largest_vent_mm`` holds for lined vents (register
    tubes).

    ``first`` says what counts most. ``weights`` scale the cents of a register, ``note_weights``
    those of one fingering, by its name, ``alternate_weight`` those of alternates; ``note_cents``
    is where a fingering shall sound, in cents from the scale (a throat B-flat that suits its
    trill as well, say), 0 where nothing is said. ``evenness_weight`` counts the step between
    neighbouring notes, ``twelfths_weight`` that between a twelfth and ``twelfths_cents`` (0 is
    pure, positive is wide), or the width that ``twelfths`` states for the twelfth on a low note.

    What is heard and felt beside pitch: ``cutoff_evenness`` weighs the step of the open holes'
    cut-off from a note to the next, ``strength_evenness`` that of the sounding resonance's
    height, ``alignment`` how far the second resonance of a low note stands from its third
    harmonic, ``venting`` what the upper register lacks of ``venting_db``, by which its
    resonance should lead the low note's with the vent open. 1 counts what a player may just
    notice of any of them (50 Hz, 1 dB, 10 cents) like 5 cents; ``even first`` puts the first two
    at 0.3 and 1 at least. ``also`` lists further states in which the same body shall be in
    tune, such as the other barrel of its pair at another pitch.

    ``keep_close`` is what a move must pay: a moderate step (1 mm along the body, 0.5 mm of a
    hole's diameter, 0.25 mm of a rim, 0.1 mm of a bore, 5 mm of a bore's edge) must better the
    tuning by so many cents² in all, or the dimension stays as drawn. ``least_gain`` is what each
    thing that moves must win, however little it moves: with the others fitted around its home,
    so many cents² would be lost. ``reamers`` are the diameters (mm) on the shelf: where any are
    named, a cylinder that is free ends at one of them. ``taper_reamers`` are the tapers there:
    where any are named, a straight taper that is free (a throat, a barrel's bore, a straight
    flare; a bell's curve is turned) ends as one of them cuts it.

    A drawing that no fit has touched yet stays as it is where its fingerings are within their
    tolerance already, the standard ones with a root mean square of ``tuned_cents`` at most
    (takes of one player scatter by as much); 0 fits every drawing.
    """

    free: list[str] = ["hole.station", "hole.diameter"]
    alike: dict[str, list[str]] = {}
    ranges: dict[str, StatedRange] = {}
    finger_hole_window_mm: Window = 3.0
    unkeyed_pad_window_mm: Window = 1.0
    smallest_hole_mm: Annotated[Positive, Bounded("gauged_hole_mm")] = 2.5
    largest_finger_hole_mm: Annotated[Positive, Bounded("gauged_hole_mm")] = 9.6
    largest_vent_mm: Annotated[Positive, Bounded("gauged_hole_mm")] = 3.4
    hole_size_window: Annotated[Positive, Bounded("size_window")] = 0.15
    pad_overlap_mm: Annotated[Positive, Bounded("free_wall_mm")] = 1.0
    chimney_wall_mm: Annotated[Positive, Bounded("free_wall_mm")] = 1.2
    wall_between_holes_mm: Annotated[Positive, Bounded("free_wall_mm")] = 1.5
    lowest_chimney_mm: Annotated[Finite, Bounded("chimney_mm")] = -2.5
    highest_chimney_mm: Annotated[Positive, Bounded("chimney_mm")] = 3.0
    chimney_window_mm: Window = 0.6
    length_window_mm: Window = 1.0
    bore_window_mm: Window = 0.3
    bore_station_window_mm: Window = 10.0
    flare_window_mm: Window = 1.0
    joint_step_mm: Window = 0.05
    first: FirstAim = FirstAim.TUNE
    weights: dict[Register, Weight] = {}
    note_weights: dict[str, Weight] = {}
    note_cents: dict[str, Cents] = {}
    alternate_weight: Weight = 0.4
    evenness_weight: Weight = 0.2
    twelfths_weight: Weight = 0.0
    twelfths_cents: Cents = 0.0
    twelfths: dict[str, Cents] = {}
    cutoff_evenness: Weight = 0.0
    strength_evenness: Weight = 0.0
    alignment: Weight = 0.0
    venting: Weight = 0.0
    venting_db: Finite = 0.0
    also: Annotated[list[AlsoPlayed], Field(max_length=6)] = []
    tolerance_cents: Annotated[Positive, Bounded("tolerance_cents")] = 10.0
    alternate_tolerance_cents: Annotated[Positive, Bounded("tolerance_cents")] = 20.0
    keep_close: Weight = 2.0
    least_gain: Weight = 0.0
    reamers: list[Annotated[Positive, Bounded("reamer_mm")]] = []
    taper_reamers: Annotated[list[TaperReamer], Field(max_length=40)] = []
    tuned_cents: Annotated[NotNegative, Bounded("tolerance_cents")] = 3.0

    @field_validator("free")
    @classmethod
    def _known_dimensions(cls, free: list[str]) -> list[str]:
        for wish in free:
            read_free(wish)
        return free

    @field_validator("ranges")
    @classmethod
    def _known_ranges(cls, ranges: dict[str, StatedRange]) -> dict[str, StatedRange]:
        for key in ranges:
            read_free(key)
        return ranges
