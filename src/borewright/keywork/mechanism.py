"""A set of keys as a mechanism: every key turns about its hinge, links pass movement on."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from borewright.keywork.distances import Capsules, gap_mm, to_point_mm
from borewright.keywork.frame import offsets_mm, placed, turned
from borewright.keywork.shapes import element_shape
from borewright.model import Instrument, KeySet, Rest
from borewright.model.keys import Arm, Cup, Element, Hinge, Link, Ring, Touch

#: Angles at which a key's way is laid out, from shut to open; straight lines between.
_STEPS = 33
#: Slack (mm) of a link that its screw and cork take up; a survey is no better than this.
ADJUSTED_MM = 0.1
#: What turns with a key.
TURNING = (Hinge, Arm, Cup, Ring, Touch)

#: Angle of every key from shut (degrees).
State = Mapping[str, float]


@dataclass(frozen=True)
class TurningKey:
    """A key's hinge in the frame: a point and unit vector of its line, and how far it turns."""

    name: str
    hinge: Hinge
    origin: np.ndarray
    axis: np.ndarray

    @property
    def open_deg(self) -> float:
        """From shut to open, by the right hand."""
        return self.hinge.open_deg

    @property
    def rest_deg(self) -> float:
        """Where the key stands when nobody touches it."""
        return self.open_deg if self.hinge.rest is Rest.OPEN else 0.0

    @property
    def pressed_deg(self) -> float:
        """Where it stands when pressed."""
        return 0.0 if self.hinge.rest is Rest.OPEN else self.open_deg

    def moved(self, points: np.ndarray, degrees: float | np.ndarray) -> np.ndarray:
        """Points (..., 3) of the key at an angle from shut."""
        return turned(points, self.origin, self.axis, degrees)


class Mechanism:
    """A key set on an instrument, in the frame of :mod:`borewright.keywork.frame`."""

    def __init__(self, keys: KeySet, instrument: Instrument) -> None:
        self.keys = keys
        self.instrument = instrument
        self._offset = offsets_mm(instrument)
        self.points = {
            element.name: np.stack([self.placed_at(element, 1), self.placed_at(element, 2)])
            for element in keys.elements
        }
        self._shapes: dict[str, Capsules] = {}
        self.turning = {hinge.key: self._turning(hinge) for hinge in keys.of(Hinge)}

    def placed_at(self, element: Element, number: int) -> np.ndarray:
        """First or second point of an element in the frame, in the shut position."""
        point = element.first if number == 1 else element.second
        return placed(point, self._offset[element.part])

    def _turning(self, hinge: Hinge) -> TurningKey:
        a, c = self.points[hinge.name]
        return TurningKey(hinge.key, hinge, a, (c - a) / np.linalg.norm(c - a))

    @property
    def rest(self) -> dict[str, float]:
        """Every key at rest."""
        return {name: key.rest_deg for name, key in self.turning.items()}

    def pressed(self, names: Iterable[str], share: float = 1.0) -> dict[str, float]:
        """Every key's angle when some are pressed, ``share`` of their way, and links follow."""
        state = self.rest
        for name in names:
            key = self.turning[name]
            state[name] = key.rest_deg + share * (key.pressed_deg - key.rest_deg)
        return self._with_links(state)

    def _with_links(self, state: dict[str, float]) -> dict[str, float]:
        # A driver may be driven itself: passes until nothing moves, as many as links at most.
        for _ in self.links:
            before = dict(state)
            for link in self.links:
                drive = self.drives[link.name]
                angle = drive.driven_deg(state[link.key])
                if drive.further(angle, state[link.to]):
                    state[link.to] = angle
            if state == before:
                break
        return state

    @cached_property
    def drives(self) -> dict[str, Drive]:
        """How each link passes movement on, by its name."""
        return {link.name: Drive.of(self, link) for link in self.keys.of(Link)}

    @cached_property
    def links(self) -> list[Link]:
        """Every link, those first whose driver nothing drives."""
        links = self.keys.of(Link)
        driven = {link.to for link in links}
        return sorted(links, key=lambda link: link.key in driven)

    def slack_mm(self, link: Link) -> float:
        """Air (mm) between the two levers of a link, both at their other ends, less its cork.

        What the levers' own shapes say about a link: a bent one leaves more. Less than
        ``ADJUSTED_MM`` is taken up by screw and cork and reads as 0.
        """
        driver, driven = self.turning[link.key], self.turning[link.to]
        point = driven.moved(self.points[link.name][0], driven.pressed_deg)
        one = self._nearest(driver, driver.pressed_deg, point)
        other = self._nearest(driven, driven.pressed_deg, point)
        slack = gap_mm(one, other) - link.cork_mm
        return slack if slack > ADJUSTED_MM else 0.0

    def _nearest(self, key: TurningKey, degrees: float, point: np.ndarray) -> Capsules:
        """The piece of a key, turned, that comes nearest to a point."""
        shapes = [
            self.shape(element, degrees)
            for element in self.keys.of_key(key.name)
            if isinstance(element, TURNING) and not isinstance(element, Hinge)
        ]
        return min(shapes, key=lambda shape: to_point_mm(shape, point))

    def shape(self, element: Element, degrees: float = 0.0) -> Capsules:
        """An element's capsules, turned with its key where it turns."""
        if element.name not in self._shapes:
            self._shapes[element.name] = element_shape(element, *self.points[element.name])
        shape = self._shapes[element.name]
        if not degrees or not isinstance(element, TURNING) or isinstance(element, Hinge):
            return shape
        key = self.turning[element.key]
        return shape.moved(key.moved(shape.starts, degrees), key.moved(shape.ends, degrees))


@dataclass(frozen=True)
class Drive:
    """How one link passes movement on: both keys' ways at the meeting point, by angle.

    ``driver_mm`` and ``driven_mm`` are heights there (outwards) at angles laid out evenly from
    shut to open; ``gap_mm`` is what the driver goes, at rest, before it meets; ``sense`` is the
    way the driver pushes (1 outwards, -1 inwards).
    """

    driver: TurningKey
    driven: TurningKey
    driver_mm: np.ndarray
    driven_mm: np.ndarray
    gap_mm: float
    sense: float

    @classmethod
    def of(cls, mechanism: Mechanism, link: Link) -> Drive:
        """A link of a mechanism."""
        driver, driven = mechanism.turning[link.key], mechanism.turning[link.to]
        first, second = mechanism.points[link.name]
        out = (second - first) / np.linalg.norm(second - first)
        ways = []
        for key in (driver, driven):
            angles = np.linspace(0.0, key.open_deg, _STEPS)
            ways.append((key.moved(np.tile(first, (_STEPS, 1)), angles) - first) @ out)
        sense = float(
            np.sign(
                _at(ways[0], driver, driver.pressed_deg) - _at(ways[0], driver, driver.rest_deg)
            )
        )
        gap = link.gap_mm + mechanism.slack_mm(link)
        if driver.hinge.rest is driven.hinge.rest:
            # They meet with both shut; what is between them at rest follows from their ways.
            apart = _at(ways[1], driven, driven.rest_deg) - _at(ways[0], driver, driver.rest_deg)
            gap += max(sense * apart, 0.0)
        return cls(driver, driven, ways[0], ways[1], gap, sense)

    @property
    def driver_way_mm(self) -> float:
        """Way of the driver at the meeting point, from rest to pressed."""
        return _at(self.driver_mm, self.driver, self.driver.pressed_deg) - _at(
            self.driver_mm, self.driver, self.driver.rest_deg
        )

    @property
    def driven_way_mm(self) -> float:
        """Way of the driven key there, from rest to its other end."""
        return _at(self.driven_mm, self.driven, self.driven.pressed_deg) - _at(
            self.driven_mm, self.driven, self.driven.rest_deg
        )

    @property
    def mismatch_mm(self) -> float:
        """How much further the driven key would have to go than the driver brings it; - if less."""
        return self.sense * (self.driven_way_mm - self.driver_way_mm) + self.gap_mm

    @property
    def works_against(self) -> bool:
        """Whether the driver pushes the driven key the wrong way, so that it never moves."""
        return bool(np.sign(self.driven_way_mm) != self.sense)

    def driven_deg(self, driver_deg: float) -> float:
        """Where the driver brings the driven key, when the driver stands at an angle."""
        gone = _at(self.driver_mm, self.driver, driver_deg) - _at(
            self.driver_mm, self.driver, self.driver.rest_deg
        )
        push = self.sense * gone - self.gap_mm
        if push <= 0 or self.works_against:
            return self.driven.rest_deg
        rest = _at(self.driven_mm, self.driven, self.driven.rest_deg)
        wanted = rest + self.sense * push
        angles = np.linspace(0.0, self.driven.open_deg, _STEPS)
        order = np.argsort(self.driven_mm)
        return float(np.interp(wanted, self.driven_mm[order], angles[order]))

    def further(self, degrees: float, than: float) -> bool:
        """Whether an angle of the driven key is further from rest than another."""
        return abs(degrees - self.driven.rest_deg) > abs(than - self.driven.rest_deg) + 1e-9


def _at(way_mm: np.ndarray, key: TurningKey, degrees: float) -> float:
    share = degrees / key.open_deg
    return float(np.interp(share, np.linspace(0.0, 1.0, _STEPS), way_mm))
