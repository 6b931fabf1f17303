"""A part of the instrument: bore, outside, joints and tone holes."""

from __future__ import annotations

import bisect
import itertools
from typing import Annotated

from pydantic import Field, model_validator

from borewright.model.base import Entity, Finite, NotNegative, Positive
from borewright.model.hole import ToneHole

Profile = Annotated[list[tuple[Finite, Positive]], Field(min_length=2)]


class Tenon(Entity):
    """The male end of a joint (mm); it reaches ``length_mm`` beyond the shoulder."""

    length_mm: Positive
    diameter_mm: Positive
    cork_length_mm: NotNegative = 0.0
    cork_depth_mm: NotNegative = 0.0

    @model_validator(mode="after")
    def _groove_fits(self) -> Tenon:
        if self.cork_length_mm >= self.length_mm:
            raise ValueError(
                f"the cork groove ({self.cork_length_mm:g} mm) is as long as the tenon "
                f"({self.length_mm:g} mm). Leave about 2 mm of tenon at each end"
            )
        return self


class Socket(Entity):
    """The female end of a joint (mm), bored from the part's end to ``depth_mm``."""

    depth_mm: Positive
    diameter_mm: Positive


class Part(Entity):
    """One body part, measured on the bench from its top shoulder (mm).

    ``bore`` and ``outside`` are lists of (station, diameter) joined by straight lines; a
    repeated station is a step. Both cover the body from 0 to ``length_mm`` at least; the
    bore of a tenon may be listed with stations outside that range, otherwise the last
    diameter goes on through it.
    """

    name: Annotated[str, Field(min_length=1, max_length=40)]
    length_mm: Positive
    bore: Profile
    outside: Profile
    tenon_top: Tenon | None = None
    tenon_bottom: Tenon | None = None
    socket_top: Socket | None = None
    socket_bottom: Socket | None = None
    holes: list[ToneHole] = []

    @model_validator(mode="after")
    def _sound(self) -> Part:
        for label, profile in (("bore", self.bore), ("outside", self.outside)):
            _check_profile(label, profile, self.length_mm)
        for end, tenon, socket in (
            ("top", self.tenon_top, self.socket_top),
            ("bottom", self.tenon_bottom, self.socket_bottom),
        ):
            if tenon and socket:
                raise ValueError(f"the {end} has both a tenon and a socket. Keep one of them")
        names = [hole.name for hole in self.holes]
        for name in names:
            if names.count(name) > 1:
                raise ValueError(f"the hole name '{name}' appears twice. Give each hole its own")
        self._check_walls()
        for hole in self.holes:
            self._check_hole(hole)
        return self

    def _check_walls(self) -> None:
        stations = {s for s, _ in self.bore} | {s for s, _ in self.outside}
        for station in sorted(s for s in stations if 0 <= s <= self.length_mm):
            for side in (-1, 1):
                inner = diameter_at(self.bore, station, side)
                outer = diameter_at(self.outside, station, side)
                if inner >= outer:
                    raise ValueError(
                        f"the bore ({inner:g} mm) reaches the outside ({outer:g} mm) "
                        f"at station {station:g}. Make the bore narrower or the body thicker"
                    )

    def _check_hole(self, hole: ToneHole) -> None:
        half = hole.diameter_mm / 2
        if not half <= hole.station_mm <= self.length_mm - half:
            raise ValueError(
                f"hole '{hole.name}' at station {hole.station_mm:g} is outside its part, which "
                f"is {self.length_mm:g} mm long. Stations run from the part's own top shoulder"
            )
        bore = self.bore_diameter_at(hole.station_mm)
        if hole.diameter_mm >= bore:
            raise ValueError(
                f"hole '{hole.name}' ({hole.diameter_mm:g} mm) is as wide as the bore there "
                f"({bore:.2f} mm). A side hole must be narrower than the bore"
            )
        if hole.undercut and hole.undercut.diameter_mm >= bore:
            raise ValueError(
                f"hole '{hole.name}': its undercut ({hole.undercut.diameter_mm:g} mm) is as "
                f"wide as the bore there ({bore:.2f} mm). Make the undercut narrower"
            )
        if hole.into_bore_mm >= bore / 2:
            raise ValueError(
                f"hole '{hole.name}': the lining stands {hole.into_bore_mm:g} mm into a bore of "
                f"{bore:.2f} mm. Keep it short of the axis, usually 2 to 4 mm"
            )
        height = self.tube_height_mm(hole)
        if height <= 0.5:
            raise ValueError(
                f"hole '{hole.name}': wall and chimney leave a tube of {height:.2f} mm. "
                "Raise the chimney or thicken the body; at least 0.5 mm is needed"
            )
        if hole.undercut and hole.undercut.depth_mm >= height:
            raise ValueError(
                f"hole '{hole.name}': the undercut is {hole.undercut.depth_mm:g} mm deep but the "
                f"tube is only {height:.2f} mm high. Make the undercut shallower"
            )

    def bore_diameter_at(self, station_mm: float, side: int = 1) -> float:
        """Bore diameter (mm) at a station; at a step ``side`` -1 is above it, 1 below."""
        return diameter_at(self.bore, station_mm, side)

    def outside_diameter_at(self, station_mm: float, side: int = 1) -> float:
        """Outside diameter (mm) at a station; at a step ``side`` -1 is above it, 1 below."""
        return diameter_at(self.outside, station_mm, side)

    def tube_height_mm(self, hole: ToneHole) -> float:
        """Height (mm) of a hole's tube, from the bore wall to the outer rim, lining included."""
        wall = self.outside_diameter_at(hole.station_mm) - self.bore_diameter_at(hole.station_mm)
        return wall / 2 + hole.chimney_mm + hole.into_bore_mm

    def hole(self, name: str) -> ToneHole:
        """The hole of that name; KeyError where there is none."""
        for hole in self.holes:
            if hole.name == name:
                return hole
        raise KeyError(name)


def _check_profile(label: str, profile: list[tuple[float, float]], length_mm: float) -> None:
    stations = [station for station, _ in profile]
    for first, second in itertools.pairwise(stations):
        if second < first:
            raise ValueError(
                f"{label} stations run backwards at {second:g} after {first:g}. "
                "List them from the top downwards"
            )
    for station in set(stations):
        if stations.count(station) > 2:
            raise ValueError(
                f"{label} station {station:g} appears more than twice. Twice makes a step"
            )
    if stations[0] > 1e-9 or stations[-1] < length_mm - 1e-9:
        raise ValueError(
            f"the {label} is given from {stations[0]:g} to {stations[-1]:g} mm, but the part runs "
            f"from 0 to {length_mm:g}. Add stations so that it covers the whole length"
        )


def diameter_at(profile: list[tuple[float, float]], station_mm: float, side: int = 1) -> float:
    """Diameter on a (station, diameter) polyline; the end values go on beyond its ends.

    At a repeated station ``side`` -1 gives the value above the step, 1 the value below.
    """
    stations = [station for station, _ in profile]
    if side < 0:
        index = bisect.bisect_left(stations, station_mm)
    else:
        index = bisect.bisect_right(stations, station_mm)
    if index == 0:
        return profile[0][1]
    if index == len(profile):
        return profile[-1][1]
    (s0, d0), (s1, d1) = profile[index - 1], profile[index]
    return d0 + (d1 - d0) * (station_mm - s0) / (s1 - s0)
