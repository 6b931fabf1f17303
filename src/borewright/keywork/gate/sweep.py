"""Every key through its whole swing, with what it drives, against everything else."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from borewright.keywork.body import Body, Rim
from borewright.keywork.distances import Capsules, gap_mm, gaps_mm, to_point_mm
from borewright.keywork.gate.limits import Limits
from borewright.keywork.mechanism import TURNING, Mechanism
from borewright.keywork.shapes import RING_THICKNESS_MM
from borewright.model.keys import Arm, Cup, Element, Hinge, Link, Post, Ring, Touch

#: Shares of a key's way at which the mechanism is looked at.
SHARES = (0.25, 0.5, 0.75, 1.0)
#: Levers of one link may touch within this (mm) of their meeting point.
_MEETING_MM = 2.5


@dataclass(frozen=True)
class Pose:
    """The mechanism with one key pressed by a share of its way; ``key`` is empty at rest.

    ``down`` says that all other open keys are held shut, as with all fingers down.
    """

    key: str
    share: float
    down: bool
    state: dict[str, float]

    @property
    def at_rest(self) -> bool:
        """Whether nobody touches anything."""
        return not self.key and not self.down


@dataclass(frozen=True)
class Near:
    """Two elements (or an element and the body) that come close, and when they are closest."""

    first: Element
    second: Element | None
    air_mm: float
    pose: Pose
    hole: str = ""


def poses(mechanism: Mechanism) -> list[Pose]:
    """At rest, and each key through its swing, from rest and with all open keys held shut."""
    open_keys = [key.name for key in mechanism.turning.values() if key.rest_deg]
    found = [Pose("", 0.0, False, mechanism.rest)]
    down = mechanism.pressed(open_keys)
    for name, key in mechanism.turning.items():
        for share in SHARES:
            state = mechanism.pressed([name], share)
            found.append(Pose(name, share, False, state))
            if not key.rest_deg:
                held = dict(down)
                for moved, degrees in state.items():
                    if not mechanism.turning[moved].rest_deg:
                        held[moved] = degrees
                found.append(Pose(name, share, True, held))
    found.append(Pose("", 1.0, True, down))
    return found


class Sweep:
    """All elements as shapes, and which pairs may not meet."""

    def __init__(self, mechanism: Mechanism, body: Body, limits: Limits) -> None:
        self.mechanism, self.body, self.limits = mechanism, body, limits
        kinds = (Hinge, Post, Arm, Cup, Ring, Touch)
        self.elements = [e for e in mechanism.keys.elements if isinstance(e, kinds)]
        self.turns = np.array(
            [isinstance(e, TURNING) and not isinstance(e, Hinge) for e in self.elements]
        )
        self._of_key = {
            key: np.array([e.key == key for e in self.elements]) & self.turns
            for key in mechanism.turning
        }
        keys = np.array([element.key for element in self.elements])
        rods = np.array([element.hinge for element in self.elements])
        same_key, same_rod = keys[:, None] == keys, rods[:, None] == rods
        # Rings of one key are soldered to it, never to each other.
        rings = np.array([isinstance(e, Ring) for e in self.elements])
        same_key &= ~(rings[:, None] & rings) | np.eye(len(keys), dtype=bool)
        fixed = ~self.turns
        # What is soldered together, and posts and tubes of one rod, meet by design.
        self._apart = ~(same_rod & (same_key | (fixed[:, None] & fixed)))
        self._covers = covers_of(mechanism, self.elements)
        self._shapes: dict[tuple[int, float], Capsules] = {}
        self._airs: dict[tuple[int, float], float] = {}
        for i, j in self._meetings():
            self._apart[i, j] = self._apart[j, i] = False

    def _meetings(self) -> set[tuple[int, int]]:
        """Pairs of elements that a link brings together at its meeting point."""
        found = set()
        for link in self.mechanism.keys.of(Link):
            driven = self.mechanism.turning[link.to]
            near: list[set[int]] = []
            for key in (self.mechanism.turning[link.key], driven):
                close = set()
                for own, other in (
                    (key.rest_deg, driven.rest_deg),
                    (key.pressed_deg, driven.pressed_deg),
                ):
                    point = driven.moved(self.mechanism.points[link.name][0], other)
                    for i in np.nonzero(self._of_key[key.name])[0]:
                        if to_point_mm(self.shape(int(i), own), point) < _MEETING_MM:
                            close.add(int(i))
                near.append(close)
            found |= {(i, j) for i in near[0] for j in near[1]}
        return found

    def shape(self, index: int, degrees: float) -> Capsules:
        """An element's capsules, its key at an angle."""
        turned = degrees if self.turns[index] else 0.0
        if (index, turned) not in self._shapes:
            self._shapes[index, turned] = self.mechanism.shape(self.elements[index], turned)
        return self._shapes[index, turned]

    def near(self) -> list[Near]:
        """Every pair that comes closer than its limit: the closest meeting of each."""
        worst: dict[tuple[str, str, bool], Near] = {}
        rest = self.mechanism.rest
        for pose in poses(self.mechanism):
            moved = np.zeros(len(self.elements), dtype=bool)
            for key, mask in self._of_key.items():
                if pose.state[key] != rest[key]:
                    moved |= mask
            tried = np.ones_like(moved) if pose.at_rest else moved
            covers = self._turned_covers(pose.state)
            for near in (*self._pairs(pose, covers, tried), *self._skin(pose, covers, tried)):
                second = near.second.name if near.second else near.hole
                key_of = (near.first.name, second, pose.at_rest)
                if key_of not in worst or near.air_mm < worst[key_of].air_mm:
                    worst[key_of] = near
        return list(worst.values())

    def _turned_covers(self, state: Mapping[str, float]) -> Capsules:
        starts, ends = self._covers.starts.copy(), self._covers.ends.copy()
        for name, mask in self._of_key.items():
            if state[name] and mask.any():
                key = self.mechanism.turning[name]
                starts[mask] = key.moved(starts[mask], state[name])
                ends[mask] = key.moved(ends[mask], state[name])
        return self._covers.moved(starts, ends)

    def _pairs(self, pose: Pose, covers: Capsules, tried: np.ndarray) -> Iterator[Near]:
        rows = np.nonzero(tried)[0]
        air = gaps_mm(covers.only(rows), covers)
        close = (air < self.limits.parts_air_mm) & self._apart[rows]
        seen = set()
        for row, j in zip(*np.nonzero(close), strict=True):
            i, j = int(rows[row]), int(j)
            if i == j or (min(i, j), max(i, j)) in seen:
                continue
            seen.add((min(i, j), max(i, j)))
            first, second = self.elements[i], self.elements[j]
            exact = gap_mm(
                self.shape(i, pose.state[first.key]), self.shape(j, pose.state[second.key])
            )
            if exact < self.limits.parts_air_mm:
                pair = (first, second) if i < j else (second, first)
                yield Near(*pair, exact, pose)

    def _skin(self, pose: Pose, covers: Capsules, tried: np.ndarray) -> Iterator[Near]:
        """Levers, tubes, cups and rings against the body's outside and its chimneys."""
        rows = np.nonzero(tried)[0]
        to_rims = gaps_mm(covers.only(rows), self._rims)
        for row, index in enumerate(rows):
            i, element = int(index), self.elements[index]
            degrees = pose.state[element.key]
            if isinstance(element, Arm | Touch | Hinge):
                air = self._body_air_mm(i, degrees)
                limit = self.limits.lever_air_moved_mm
                if isinstance(element, Hinge):
                    limit = self.limits.tube_air_mm
                elif pose.at_rest:
                    limit = self.limits.lever_air_rest_mm
                if air < limit:
                    yield Near(element, None, air, pose)
            for column in np.nonzero(to_rims[row] < self.limits.parts_air_mm)[0]:
                rim = self._chimneys[column]
                if isinstance(element, Ring | Cup) and element.hole == rim.hole.name:
                    continue
                reach = rim.hole.diameter_mm / 2 + rim.wall_mm
                air = _cylinder_air_mm(self.shape(i, degrees), rim.centre, rim.out, reach)
                if air < self.limits.parts_air_mm:
                    yield replace(Near(element, None, air, pose), hole=rim.hole.name)

    @cached_property
    def _chimneys(self) -> list[Rim]:
        """Rims that stand above the body."""
        rims = self.body.rims.values()
        return [rim for rim in rims if rim.wall_mm and rim.hole.chimney_mm > 0]

    @cached_property
    def _rims(self) -> Capsules:
        """A ball round each chimney."""
        centres = np.array([rim.centre for rim in self._chimneys]).reshape(-1, 3)
        reach = [r.hole.diameter_mm / 2 + r.wall_mm + r.hole.chimney_mm for r in self._chimneys]
        return Capsules(centres, centres, np.array(reach))

    def _body_air_mm(self, index: int, degrees: float) -> float:
        turned = degrees if self.turns[index] else 0.0
        if (index, turned) not in self._airs:
            self._airs[index, turned] = self.body_air_of(self.body, self.shape(index, turned))
        return self._airs[index, turned]

    @staticmethod
    def body_air_of(body: Body, shape: Capsules) -> float:
        """Air (mm) between a shape and a body's outside."""
        share = np.linspace(0.0, 1.0, 41)[:, None, None]
        points = shape.starts + share * (shape.ends - shape.starts)
        radius = np.hypot(points[..., 1], points[..., 2])
        return float((radius - shape.radii - body.outside_mm(points[..., 0])).min())


def covers_of(mechanism: Mechanism, elements: Sequence[Element]) -> Capsules:
    """One capsule round each element, shut: what lies further away need not be measured."""
    starts, ends, radii = [], [], []
    for element in elements:
        first, second = mechanism.points[element.name]
        radius = 0.0
        if isinstance(element, Arm):
            radius = element.diameter_mm / 2
        elif isinstance(element, Post):
            radius = element.head_mm / 2
        elif isinstance(element, Hinge):
            radius = element.tube_mm / 2
        elif isinstance(element, Touch):
            radius = element.width_mm / 2
        elif isinstance(element, Cup | Ring):
            radius = element.outside_mm / 2 + RING_THICKNESS_MM
        starts.append(first)
        ends.append(second)
        radii.append(radius)
    return Capsules(np.array(starts), np.array(ends), np.array(radii))


def _cylinder_air_mm(shape: Capsules, top: np.ndarray, out: np.ndarray, radius: float) -> float:
    """Air (mm) between a shape and a chimney: a cylinder that ends at ``top``."""
    share = np.linspace(0.0, 1.0, 41)[:, None, None]
    points = shape.starts + share * (shape.ends - shape.starts)
    off = points - top
    along = off @ out
    aside = np.linalg.norm(off - along[..., None] * out, axis=-1) - radius
    outside = np.hypot(np.maximum(aside, 0.0), np.maximum(along, 0.0))
    inside = np.minimum(np.maximum(aside, along), 0.0)
    return float((outside + inside - shape.radii).min())
