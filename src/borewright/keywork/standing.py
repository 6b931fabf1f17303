"""Where hinges and posts stand on a body, from numbers measured on the keys alone."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from borewright.keywork.body import Body
from borewright.keywork.frame import outward, outward_at, surveyed, turned
from borewright.keywork.mechanism import Mechanism
from borewright.model import Instrument, KeySet
from borewright.model.keys import Cup, Element, Hinge, Link, Post, Ring, Spring, SpringShape, Stop

#: A ring's top over its rim when down (mm): flush to 0.3 is right (from memory).
RING_OVER_MM = 0.1
#: A flat spring whose held end lies this near to the body (mm) is screwed to it, not to its key.
ON_BODY_MM = 1.0
#: Least wall (mm) below a hole that is drilled for a post or a screw (from memory).
POST_WALL_MM = 2.0


def hinge_beside_pad(m_mm: float, h_mm: float, seat_mm: float) -> tuple[float, float]:
    """Height R (mm) of a rod along the body and its bearing Δ (degrees) from the hole's.

    R = √((s + h)² + m²), Δ = atan2(m, s + h), with the seat's height s from the bore's axis.
    """
    return math.hypot(seat_mm + h_mm, m_mm), math.degrees(math.atan2(m_mm, seat_mm + h_mm))


def across_head(offset_mm: float, height_mm: float) -> tuple[float, float]:
    """Bearing (degrees, from the hinge's middle) and height (mm) of a post head of a hinge across.

    ``offset_mm`` is its distance from the middle along the hinge, which lies ``height_mm`` from
    the axis.
    """
    return math.degrees(math.atan2(offset_mm, height_mm)), math.hypot(offset_mm, height_mm)


def rod_clearance_mm(height_mm: float, tube_mm: float, outside_mm: float) -> float:
    """Air between a tube (diameter) at a height and the body's outside radius below it."""
    return height_mm - tube_mm / 2 - outside_mm


@dataclass(frozen=True)
class Stood:
    """A key set on a body: every hinge moved as a whole until its pads lie on their seats.

    ``moved_mm`` is how far each hinge went: along the body, round it (degrees) and outwards.
    """

    keys: KeySet
    moved_mm: dict[str, tuple[float, float, float]]


@dataclass(frozen=True)
class Elsewhere:
    """Where a post would do: how far (mm) along its hinge, and the station and bearing there."""

    along_mm: float
    station_mm: float
    bearing_deg: float


def moved_along(mechanism: Mechanism, body: Body, post: Post, along_mm: float) -> Post:
    """A post moved along its hinge's line, its foot set anew on the body's outside."""
    tube = next(hinge for hinge in mechanism.keys.of(Hinge) if hinge.hinge == post.hinge)
    head = mechanism.points[post.name][1] + along_mm * mechanism.turning[tube.key].axis
    foot = head.copy()
    foot[1:] *= float(body.outside_mm(head[0])) / np.hypot(head[1], head[2])
    offset = body.offset_mm[post.part]
    return post.model_copy(
        update={"first": surveyed(foot, offset), "second": surveyed(head, offset)}
    )


@dataclass(frozen=True)
class PostPlace:
    """Where one post stands and how it is drilled (mm, degrees).

    ``height_mm`` is the head's middle over the body, ``depth_mm`` the hole's below it;
    ``drill`` the way out of the hole as a unit vector of the frame, ``off_square_deg`` its angle
    to the surface there (on a taper, or a post that stands parallel to its neighbour).
    """

    post: str
    hinge: str
    part: str
    station_mm: float
    bearing_deg: float
    foot_mm: float
    height_mm: float
    depth_mm: float
    drill: tuple[float, float, float]
    off_square_deg: float

    @property
    def lean_down_deg(self) -> float:
        """How far the hole's way out leans down the body from straight out of the bore's axis."""
        return self._lean(np.array([1.0, 0.0, 0.0]))

    @property
    def lean_left_deg(self) -> float:
        """How far it leans round the body, to the player's left (greater bearings)."""
        return self._lean(outward(self.bearing_deg + 90.0))

    def _lean(self, way: np.ndarray) -> float:
        up = np.array(self.drill)
        return float(np.degrees(np.arctan2(up @ way, up @ outward(self.bearing_deg))))


def screwed_to_body(mechanism: Mechanism, body: Body, spring: Spring) -> bool:
    """Whether a flat spring's held end lies on the body, so that a screw goes into the body."""
    held = mechanism.points[spring.name][0]
    over = float(np.hypot(held[1], held[2]) - body.outside_mm(held[0]))
    return spring.shape is SpringShape.FLAT and over <= ON_BODY_MM


def screw_places(mechanism: Mechanism, body: Body) -> list[PostPlace]:
    """Where a flat spring's screw goes into the body: square to it, named as the spring is.

    ``depth_mm`` leaves as much wall below the hole as below a post's.
    """
    found = []
    for spring in mechanism.keys.of(Spring):
        if not screwed_to_body(mechanism, body, spring):
            continue
        foot = mechanism.points[spring.name][0].copy()
        foot[1:] *= float(body.outside_mm(foot[0])) / np.hypot(foot[1], foot[2])
        part, radius = body.instrument.part(spring.part), float(np.hypot(foot[1], foot[2]))
        normal = _square_to(body, foot)
        wall = radius - part.bore_diameter_at(spring.first.station_mm) / 2 - POST_WALL_MM
        found.append(
            PostPlace(
                post=spring.name,
                hinge=spring.hinge,
                part=spring.part,
                station_mm=spring.first.station_mm,
                bearing_deg=spring.first.bearing_deg,
                foot_mm=radius,
                height_mm=0.0,
                depth_mm=min(max(wall, 0.0), body.instrument.body.post_depth_mm),
                drill=(float(normal[0]), float(normal[1]), float(normal[2])),
                off_square_deg=0.0,
            )
        )
    return found


def _square_to(body: Body, foot: np.ndarray) -> np.ndarray:
    """The way out of the body's outside at a point, square to it."""
    slope = (body.outside_mm(foot[0] + 0.5) - body.outside_mm(foot[0] - 0.5)).item()
    normal = outward_at(foot) - slope * np.array([1.0, 0.0, 0.0])
    return np.asarray(normal / np.linalg.norm(normal))


def post_places(mechanism: Mechanism, body: Body) -> list[PostPlace]:
    """Every post's place and drilling direction."""
    found = []
    for post in mechanism.keys.of(Post):
        foot, head = mechanism.points[post.name]
        up = (head - foot) / np.linalg.norm(head - foot)
        normal = _square_to(body, foot)
        found.append(
            PostPlace(
                post=post.name,
                hinge=post.hinge,
                part=post.part,
                station_mm=post.first.station_mm,
                bearing_deg=post.first.bearing_deg,
                foot_mm=float(np.hypot(foot[1], foot[2])),
                height_mm=float(np.linalg.norm(head - foot)),
                depth_mm=body.instrument.body.post_depth_mm,
                drill=(float(up[0]), float(up[1]), float(up[2])),
                off_square_deg=float(np.degrees(np.arccos(np.clip(up @ normal, -1.0, 1.0)))),
            )
        )
    return found


def stand_on(keys: KeySet, instrument: Instrument) -> Stood:
    """Move each hinge, with all that turns on it, until its pads lie on this body's seats.

    A key is stiff: its pad's place fixes its hinge. So a hinge goes along with its hole, turns
    round the body to the hole's bearing, and rises with the seat; posts are set anew from the
    body's outside. Along and round the body a hinge takes the middle of what its pads and rings
    ask, outwards that of its pads; one without either follows the key that it drives. What is
    left over, the gate names.
    """
    mechanism, body = Mechanism(keys, instrument), Body(instrument)
    asked: dict[str, list[np.ndarray]] = {}
    heights: dict[str, list[float]] = {}
    over: list[Cup | Ring] = [*keys.of(Cup), *keys.of(Ring)]
    for element in over:
        wish = _wish(mechanism, body, element)
        asked.setdefault(element.hinge, []).append(wish)
        # A pad must lie flat; a ring's height is its chimney's affair.
        pads = any(cup.hinge == element.hinge for cup in keys.of(Cup))
        if isinstance(element, Cup) or not pads:
            heights.setdefault(element.hinge, []).append(float(wish[2]))
    moves = {
        hinge: np.array([*np.mean(wishes, axis=0)[:2], np.mean(heights[hinge])])
        for hinge, wishes in asked.items()
    }
    bearings = _bearings(keys, body)
    for link in keys.of(Link):
        driven = keys.hinge(link.to).hinge
        if link.hinge not in moves and driven in moves:
            point = mechanism.points[link.name][0]
            went = _gone(point, moves[driven], bearings[driven]) - point
            moves[link.hinge] = np.array([went[0], 0.0, float(went @ outward_at(point))])
            bearings[link.hinge] = float(np.degrees(np.arctan2(point[1], point[2])))
    elements = []
    for each in keys.elements:
        move = moves.get(each.hinge)
        if move is not None and np.abs(move).max() > 1e-9:
            elements.append(_stood(mechanism, body, each, move, bearings[each.hinge]))
        else:
            elements.append(each)
    told = {hinge: (float(m[0]), float(m[1]), float(m[2])) for hinge, m in moves.items()}
    return Stood(KeySet(elements=tuple(elements)), told)


def _wish(mechanism: Mechanism, body: Body, element: Cup | Ring) -> np.ndarray:
    """Along (mm), round (degrees) and out (mm) from where a cup or ring is to where it belongs."""
    rim = body.rims[element.hole]
    face = mechanism.points[element.name][0]
    over = 0.0 if isinstance(element, Cup) else RING_OVER_MM
    bearing = float(np.degrees(np.arctan2(face[1], face[2])))
    turn = (rim.hole.bearing_deg - bearing + 180) % 360 - 180
    height = float(np.hypot(face[1], face[2]))
    return np.array([rim.centre[0] - face[0], turn, rim.height_mm + over - height])


def _bearings(keys: KeySet, body: Body) -> dict[str, float]:
    """The way in which each hinge rises: its first pad's or ring's hole."""
    found: dict[str, float] = {}
    over: list[Cup | Ring] = [*keys.of(Cup), *keys.of(Ring)]
    for element in over:
        found.setdefault(element.hinge, body.rims[element.hole].hole.bearing_deg)
    return found


def _gone(point: np.ndarray, move: np.ndarray, bearing_deg: float) -> np.ndarray:
    axis = np.array([1.0, 0.0, 0.0])
    # Bearings run from the front to the left: against the right hand about x.
    turned_point = turned(point, np.zeros(3), axis, -float(move[1]))
    return np.asarray(turned_point + move[0] * axis + move[2] * outward(bearing_deg))


def _stood(
    mechanism: Mechanism, body: Body, element: Element, move: np.ndarray, bearing_deg: float
) -> Element:
    offset = body.offset_mm[element.part]
    gone = [_gone(point, move, bearing_deg) for point in mechanism.points[element.name]]
    first, second = laid_on_body(mechanism, body, element, (gone[0], gone[1]))
    return element.model_copy(
        update={"first": surveyed(first, offset), "second": surveyed(second, offset)}
    )


def laid_on_body(
    mechanism: Mechanism, body: Body, element: Element, points: tuple[np.ndarray, np.ndarray]
) -> tuple[np.ndarray, np.ndarray]:
    """An element's moved points with what stands or lies on the body put back on its outside."""
    first, second = points[0].copy(), points[1].copy()
    if isinstance(element, Post):
        first = second.copy()
        first[1:] *= float(body.outside_mm(second[0])) / np.hypot(second[1], second[2])
    flat = isinstance(element, Spring) and element.shape is SpringShape.FLAT
    if isinstance(element, Stop) or flat:
        # What lies on the body stays on it: of a spring that is screwed to it, the held end.
        held = isinstance(element, Spring) and screwed_to_body(mechanism, body, element)
        before, moved = mechanism.points[element.name][0 if held else 1], first if held else second
        over = float(np.hypot(before[1], before[2]) - body.outside_mm(before[0]))
        moved[1:] *= (float(body.outside_mm(moved[0])) + over) / np.hypot(moved[1], moved[2])
    return first, second
