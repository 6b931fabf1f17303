"""What each element looks like: bodies of revolution and plates, drawn from the survey alone.

One description for solids, pictures and the page. All lies in the shut position, in the frame of
:mod:`borewright.keywork.frame`; nothing is drawn that was not measured, so a set looks like itself
and like nobody's drawing.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum

import numpy as np

from borewright.keywork.frame import outward_at
from borewright.keywork.mechanism import TURNING, Mechanism
from borewright.keywork.shapes import RING_THICKNESS_MM
from borewright.model.keys import Arm, Cup, Element, Hinge, Post, Ring, Spring, Touch

#: A pad's share of the height from its face to the cup's top; a post's stem over its head.
_PAD_SHARE, _STEM_SHARE = 0.55, 0.6

#: Closed outline of a body of revolution: (radius, height over its first point), mm.
Outline = list[tuple[float, float]]


class Stuff(StrEnum):
    """What a piece is made of, for its colour."""

    METAL = "metal"
    STEEL = "steel"
    PAD = "pad"


@dataclass(frozen=True)
class Piece:
    """One solid of a key between two points; ``out`` is the way a plate's flat faces.

    ``outline`` is turned about the line from ``start`` to ``end``; a plate has none, and is
    ``width_mm`` by ``thick_mm`` instead. ``turns`` says whether it moves with its key.
    """

    name: str
    key: str
    stuff: Stuff
    turns: bool
    start: np.ndarray
    end: np.ndarray
    out: np.ndarray
    outline: Outline | None = None
    width_mm: float = 0.0
    thick_mm: float = 0.0

    def at(self, mechanism: Mechanism, degrees: float) -> Piece:
        """The piece with its key at an angle from shut."""
        if not self.turns or not degrees:
            return self
        key = mechanism.turning[self.key]
        start, end, tip = key.moved(np.stack([self.start, self.end, self.end + self.out]), degrees)
        return replace(self, start=start, end=end, out=tip - end)


def pieces_of(mechanism: Mechanism, key: str) -> list[Piece]:
    """Everything of one key; the rod of a shared hinge is its first key's."""
    found = [piece for each in mechanism.keys.of_key(key) for piece in _pieces(mechanism, each)]
    hinge = mechanism.keys.hinge(key)
    sharing = [tube.key for tube in mechanism.keys.of(Hinge) if tube.hinge == hinge.hinge]
    return [*found, _rod(mechanism, hinge)] if sharing[0] == key else found


def _pieces(mechanism: Mechanism, element: Element) -> list[Piece]:
    first, second = mechanism.points[element.name]
    length = float(np.linalg.norm(second - first))
    turns = isinstance(element, TURNING)
    stuff = Stuff.STEEL if isinstance(element, Post | Spring) else Stuff.METAL
    one = Piece(
        f"{element.kind.value} {element.name}",
        element.key,
        stuff,
        turns,
        first,
        second,
        outward_at((first + second) / 2),
    )
    if isinstance(element, Arm):
        return [replace(one, outline=_capsule(element.diameter_mm / 2, length))]
    if isinstance(element, Spring) and element.width_mm is None:
        return [replace(one, outline=_capsule(element.thickness_mm / 2, length))]
    if isinstance(element, Post):
        return [replace(one, outline=_post(element.head_mm / 2, length))]
    if isinstance(element, Hinge):
        outline = _washer(element.rod_mm / 2, element.tube_mm / 2, 0.0, length)
        return [replace(one, outline=outline)]
    if isinstance(element, Ring):
        outline = _washer(element.inside_mm / 2, element.outside_mm / 2, -RING_THICKNESS_MM, 0.0)
        return [replace(one, outline=outline)]
    if isinstance(element, Cup):
        pad = _PAD_SHARE * length
        face = _disc(element.pad_mm / 2, 0.0, pad)
        return [
            replace(one, name=f"pad {element.hole}", stuff=Stuff.PAD, outline=face),
            replace(one, outline=_dish(element.outside_mm / 2, pad, length)),
        ]
    if isinstance(element, Touch | Spring) and element.width_mm:
        return [replace(one, width_mm=element.width_mm, thick_mm=element.thickness_mm)]
    return []


def _rod(mechanism: Mechanism, hinge: Hinge) -> Piece:
    """The steel rod of a hinge, from its first post to its last."""
    key = mechanism.turning[hinge.key]
    heads = [mechanism.points[post.name][1] for post in mechanism.keys.posts_of(hinge.hinge)]
    along = [float((head - key.origin) @ key.axis) for head in heads]
    start, end = (key.origin + at * key.axis for at in (min(along), max(along)))
    outline = _disc(hinge.rod_mm / 2, 0.0, max(along) - min(along))
    out = outward_at((start + end) / 2)
    return Piece(f"rod {hinge.hinge}", hinge.key, Stuff.STEEL, False, start, end, out, outline)


def _disc(radius: float, low: float, high: float) -> Outline:
    return [(0.0, low), (radius, low), (radius, high), (0.0, high)]


def _washer(inner: float, outer: float, low: float, high: float) -> Outline:
    return [(inner, low), (outer, low), (outer, high), (inner, high)]


def _dish(radius: float, low: float, high: float) -> Outline:
    """A cup over its pad, with a broken edge on top."""
    edge = min(0.25 * radius, 0.6 * (high - low))
    return [(0.0, low), (radius, low), (radius, high - edge), (radius - edge, high), (0.0, high)]


def _capsule(radius: float, length: float) -> Outline:
    """A bar with round ends (twelve flats each)."""
    turns = np.linspace(-np.pi / 2, 0.0, 7)
    foot = [(radius * np.cos(t), radius * np.sin(t)) for t in turns]
    head = [(r, length - h) for r, h in reversed(foot)]
    return [(0.0 if r < 1e-9 else float(r), float(h)) for r, h in (*foot, *head)]


def _post(radius: float, length: float) -> Outline:
    """A stem with a ball on it."""
    stem = _STEM_SHARE * radius
    low = np.arcsin(stem / radius)
    turns = np.linspace(-np.pi / 2 + low, np.pi / 2, 13)
    ball = [(radius * np.cos(t), length + radius * np.sin(t)) for t in turns]
    points = [(0.0, 0.0), (stem, 0.0), *ball]
    return [(0.0 if r < 1e-9 else float(r), float(h)) for r, h in points]
