"""The instrument: parts in order, and the circumstances in which it is played."""

from __future__ import annotations

from typing import Annotated

from pydantic import AfterValidator, Field, model_validator

from borewright.errors import RefusedValue
from borewright.model.base import Entity, Finite, Name, NotNegative, Positive, printable
from borewright.model.body_features import BodyFeatures
from borewright.model.bounds import (
    AirTemperature,
    Bounded,
    ChamberVolume,
    MouthpieceBore,
    MouthpieceBoreLength,
    ReedResonance,
    ReedVolume,
    ShownLength,
)
from borewright.model.drawn import Drawing
from borewright.model.fit_wishes import FitWishes
from borewright.model.hole import ToneHole
from borewright.model.kinds import BottomEnd, SideHoles
from borewright.model.part import Part
from borewright.model.pitch import PitchStandard
from borewright.words import say

FORMAT = 2


class Climate(Entity):
    """The playing climate.

    Air temperature falls from ``reed_end_c`` at the reed towards ``room_c`` with distance,
    by the factor 1/e every ``decay_mm``. Humidity and carbon dioxide are means over the
    bore. The defaults are a warmed-up instrument in a temperate room: from memory, to be
    replaced by one's own thermometer.
    """

    room_c: AirTemperature = 21.0
    reed_end_c: AirTemperature = 30.5
    decay_mm: Annotated[Positive, Bounded("decay_mm")] = 450.0
    relative_humidity: Annotated[Finite, Bounded("humidity"), Field(ge=0, le=1)] = 0.85
    carbon_dioxide: Annotated[Finite, Bounded("carbon_dioxide"), Field(ge=0)] = 0.02
    pressure_hpa: Annotated[Finite, Bounded("pressure_hpa")] = 1013.25


class Mouthpiece(Entity):
    """A mouthpiece as a cavity with its short bore (mm, mm³).

    ``shown_mm`` is what stands above the barrel, for drawings and for measuring from the
    tip; the sound only meets ``bore_length_mm`` of cylinder and, at its top, a chamber.
    Whole volume is typically 10 to 13 cm³ for a B-flat clarinet (from memory).
    """

    shown_mm: ShownLength = 73.5
    bore_diameter_mm: MouthpieceBore = 15.0
    bore_length_mm: MouthpieceBoreLength = 46.0
    chamber_mm3: ChamberVolume = 2900.0


class Reed(Entity):
    """A reed and lip as a damped spring: an equivalent air volume, a resonance, a damping."""

    equivalent_volume_mm3: ReedVolume = 1000.0
    resonance_hz: ReedResonance = 2300.0
    damping: Annotated[Finite, Field(gt=0, le=5)] = 0.4


class Instrument(Entity):
    """An ordered list of parts from the top down, with pitch, climate, mouthpiece and reed.

    Without mouthpiece and reed it is a bare tube, seen from the top end of its first part.
    ``side_holes`` is the level that it was fitted at, at which it is computed from then on;
    None, the default, is computed as solved in 3-D.

    ``pulled`` tells which joints are drawn apart while it is played, and how far (mm): by the
    part above the joint, or by the lowest part for the joint above it (``{ barrel = 1.5 }``).
    Drawings and bodies are of the instrument with its joints home.
    """

    name: Annotated[str, Field(min_length=1, max_length=120), AfterValidator(printable)] = (
        "untitled"
    )
    parts: Annotated[list[Part], Field(min_length=1, max_length=30)]
    pitch: PitchStandard = PitchStandard()
    climate: Climate = Climate()
    mouthpiece: Mouthpiece | None = None
    reed: Reed | None = None
    bottom_end: BottomEnd = BottomEnd.RADIATING
    outside_interaction: bool = True
    wall_loss_factor: Annotated[Finite, Field(ge=0.5, le=3)] = 1.0
    side_holes: SideHoles | None = None
    keywork: str = ""
    keys: str = ""
    fingerings: str = ""
    fit: FitWishes = FitWishes()
    body: BodyFeatures = BodyFeatures()
    drawing: Drawing = Drawing()
    pulled: dict[Name, NotNegative] = {}
    serial: Annotated[str, Field(max_length=24)] = ""
    invented: bool = False
    note: str = ""

    @model_validator(mode="after")
    def _sound(self) -> Instrument:
        part_names = [part.name for part in self.parts]
        for name in part_names:
            if part_names.count(name) > 1:
                raise RefusedValue(
                    say("the part name '{name}' appears twice", name=name),
                    say("Give each part its own."),
                )
        if self.mouthpiece and "mouthpiece" in part_names:
            raise RefusedValue(
                say("a part is called 'mouthpiece', and there is a table [mouthpiece] as well"),
                say("Keep one of them, or give the part another name."),
            )
        seen: dict[str, str] = {}
        for part in self.parts:
            for hole in part.holes:
                if hole.name in seen:
                    raise RefusedValue(
                        say(
                            "the hole name '{hole}' is used in '{seen}' and in '{part}'",
                            hole=hole.name,
                            seen=seen[hole.name],
                            part=part.name,
                        ),
                        say("Fingerings need one name for one hole."),
                    )
                seen[hole.name] = part.name
        for upper, lower in zip(self.parts, self.parts[1:], strict=False):
            _check_joint(upper, lower)
        self.joint_gaps_mm()
        return self

    def joint_gaps_mm(self) -> list[float]:
        """How far (mm) each part is drawn apart from the next below, 0 for the lowest part.

        Raises
        ------
        RefusedValue
            For a part that there is not, and a joint that cannot be drawn so far.
        """
        gaps = [0.0] * len(self.parts)
        names = [part.name for part in self.parts]
        for name, by_mm in self.pulled.items():
            if name not in names:
                raise RefusedValue(
                    say("'{name}' is pulled, but there is no such part", name=name),
                    say("Parts are: {parts}.", parts=", ".join(names)),
                )
            joint = min(names.index(name), len(names) - 2)
            reach = _joint_reach_mm(self.parts[joint], self.parts[joint + 1]) if joint >= 0 else 0.0
            if gaps[joint] + by_mm > reach / 2:
                raise RefusedValue(
                    say(
                        "the joint of '{part}' is pulled by {by_mm:g} mm, but its tenon holds "
                        "only up to {most_mm:g} mm",
                        part=name,
                        by_mm=gaps[joint] + by_mm,
                        most_mm=reach / 2,
                    ),
                    say("Half of a tenon stays in its socket; pull less."),
                )
            gaps[joint] += by_mm
        return gaps

    @property
    def level(self) -> SideHoles:
        """How its side holes are computed: as it was fitted, else solved."""
        return self.side_holes or SideHoles.SOLVED

    def at_level_of(self, other: Instrument) -> Instrument:
        """The same instrument, computed as another one is, so that the two can be compared."""
        return self.model_copy(update={"side_holes": other.level})

    @property
    def length_mm(self) -> float:
        """Length of the assembled body without mouthpiece, shoulder to shoulder."""
        return sum(part.length_mm for part in self.parts)

    def offset_mm(self, part_name: str) -> float:
        """Distance (mm) of a part's top shoulder from the top of the first part."""
        offset = 0.0
        for part in self.parts:
            if part.name == part_name:
                return offset
            offset += part.length_mm
        raise KeyError(part_name)

    def part(self, name: str) -> Part:
        """The part of that name; KeyError where there is none."""
        for part in self.parts:
            if part.name == name:
                return part
        raise KeyError(name)

    def placed_holes(self) -> list[tuple[Part, ToneHole, float]]:
        """Every hole with its part and its distance (mm) from the top of the first part."""
        placed = []
        offset = 0.0
        for part in self.parts:
            placed += [(part, hole, offset + hole.station_mm) for hole in part.holes]
            offset += part.length_mm
        return placed

    def hole_names(self) -> list[str]:
        """Names of all holes, part by part, in file order."""
        return [hole.name for part in self.parts for hole in part.holes]


def _joint_reach_mm(upper: Part, lower: Part) -> float:
    """How far (mm) the tenon between two parts goes into its socket; 0 where there is none."""
    for tenon, socket in (
        (upper.tenon_bottom, lower.socket_top),
        (lower.tenon_top, upper.socket_bottom),
    ):
        if tenon and socket:
            return min(tenon.length_mm, socket.depth_mm)
    return 0.0


def _check_joint(upper: Part, lower: Part) -> None:
    for tenon, socket, tenon_part, socket_part in (
        (upper.tenon_bottom, lower.socket_top, upper, lower),
        (lower.tenon_top, upper.socket_bottom, lower, upper),
    ):
        if tenon and not socket:
            raise RefusedValue(
                say(
                    "'{tenon_part}' has a tenon towards '{socket_part}', which has no socket for "
                    "it",
                    tenon_part=tenon_part.name,
                    socket_part=socket_part.name,
                ),
                say("Add the socket, or remove the tenon."),
            )
        if socket and not tenon:
            raise RefusedValue(
                say(
                    "'{socket_part}' has a socket towards '{tenon_part}', which has no tenon for "
                    "it",
                    socket_part=socket_part.name,
                    tenon_part=tenon_part.name,
                ),
                say("Add the tenon, or remove the socket."),
            )
        if tenon and socket:
            if tenon.diameter_mm > socket.diameter_mm:
                raise RefusedValue(
                    say(
                        "the tenon of '{tenon_part}' ({diameter_mm:g} mm) does not go into the "
                        "socket of '{socket_part}' ({socket_diameter_mm:g} mm)",
                        tenon_part=tenon_part.name,
                        diameter_mm=tenon.diameter_mm,
                        socket_part=socket_part.name,
                        socket_diameter_mm=socket.diameter_mm,
                    ),
                    say("Make the tenon smaller by the clearance."),
                )
            if tenon.length_mm > socket.depth_mm:
                raise RefusedValue(
                    say(
                        "the tenon of '{tenon_part}' ({length_mm:g} mm) is longer than the "
                        "socket of '{socket_part}' is deep ({depth_mm:g} mm)",
                        tenon_part=tenon_part.name,
                        length_mm=tenon.length_mm,
                        socket_part=socket_part.name,
                        depth_mm=socket.depth_mm,
                    ),
                    say("Make the socket 0.3 to 0.5 mm deeper than the tenon."),
                )
