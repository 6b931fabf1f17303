"""Every key as solids, drawn from its survey: tubes, rods, arms, cups, pads, rings, touches, posts.

Stands as :mod:`borewright.solids.axes` says; the frame of the keys is turned into it. Nothing
is drawn that was not measured, so a set looks like itself and like nobody's drawing.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

import numpy as np

from borewright.errors import SolidsError
from borewright.keywork import Mechanism
from borewright.keywork.shapes import RING_THICKNESS_MM
from borewright.model.keys import Arm, Cup, Element, Hinge, Post, Ring, Spring, Touch
from borewright.words import say

if TYPE_CHECKING:
    from build123d import Compound, Solid

#: A pad's share of the height from its face to the cup's top; a post's stem over its head.
_PAD_SHARE, _STEM_SHARE = 0.55, 0.6
_TURNING = (Arm, Cup, Ring, Touch)


def in_solids_frame(points: np.ndarray) -> np.ndarray:
    """Points (..., 3) of the keys' frame, as bodies stand: front at -y, left at -x, z down."""
    return np.asarray(np.stack([-points[..., 1], -points[..., 2], points[..., 0]], axis=-1))


def key_solids(mechanism: Mechanism, state: Mapping[str, float] | None = None) -> list[Compound]:
    """One labelled compound a key, its solids labelled by element and name.

    Parameters
    ----------
    mechanism
        The keys on their instrument.
    state
        Angle of each key from shut (degrees); at rest unless given.

    Returns
    -------
    list of Compound
        In the order of the survey. Rods of shared hinges stand in the first key's.

    Raises
    ------
    SolidsError
        Where the kernel cannot make an element.
    """
    from build123d import Compound

    angles = mechanism.rest if state is None else state
    compounds, rods = [], set()
    for key in mechanism.keys.keys:
        children = []
        for element in mechanism.keys.of_key(key):
            for label, solid in _solids(mechanism, element, angles[key]):
                solid.label = label
                children.append(solid)
        hinge = mechanism.keys.hinge(key)
        if hinge.hinge not in rods:
            rods.add(hinge.hinge)
            children.append(_rod(mechanism, hinge))
        compounds.append(Compound(label=f"key {key}", children=children))
    return compounds


def _solids(mechanism: Mechanism, element: Element, degrees: float) -> list[tuple[str, Solid]]:
    first, second = mechanism.points[element.name]
    out = np.array([0.0, *((first + second) / 2)[1:]])
    if isinstance(element, _TURNING):
        turning = mechanism.turning[element.key]
        tip = turning.moved((first + second) / 2 + out, degrees)
        first, second = turning.moved(np.stack([first, second]), degrees)
        out = tip - (first + second) / 2
    a, b = in_solids_frame(np.stack([first, second]))
    name = f"{element.kind.value} {element.name}"
    try:
        return [(f"{kind or name}", solid) for kind, solid in _shapes(element, a, b, out)]
    except (RuntimeError, ValueError) as error:
        raise SolidsError(
            say("the kernel could not make it ({why})", why=str(error)),
            place=(
                say("key {key}", key=element.key),
                say("{element} '{name}'", element=element.kind, name=element.name),
            ),
            remedy=say("Look at its two points and its sizes in the survey."),
        ) from error


def _shapes(
    element: Element, a: np.ndarray, b: np.ndarray, out: np.ndarray
) -> list[tuple[str, Solid]]:
    length = float(np.linalg.norm(b - a))
    if isinstance(element, Arm):
        return [("", _turned(a, b, _capsule(element.diameter_mm / 2, length)))]
    if isinstance(element, Spring) and element.width_mm is None:
        return [("", _turned(a, b, _capsule(element.thickness_mm / 2, length)))]
    if isinstance(element, Post):
        return [("", _turned(a, b, _post(element.head_mm / 2, length)))]
    if isinstance(element, Hinge):
        outer, inner = element.tube_mm / 2, element.rod_mm / 2
        return [("", _turned(a, b, _washer(inner, outer, 0.0, length)))]
    if isinstance(element, Ring):
        inner, outer = element.inside_mm / 2, element.outside_mm / 2
        return [("", _turned(a, b, _washer(inner, outer, -RING_THICKNESS_MM, 0.0)))]
    if isinstance(element, Cup):
        pad = _PAD_SHARE * length
        radius = element.outside_mm / 2
        return [
            (f"pad {element.hole}", _turned(a, b, _disc(element.pad_mm / 2, 0.0, pad))),
            ("", _turned(a, b, _dish(radius, pad, length))),
        ]
    if isinstance(element, Touch):
        return [("", _plate(a, b, in_solids_frame(out), element.width_mm, element.thickness_mm))]
    if isinstance(element, Spring) and element.width_mm:
        return [("", _plate(a, b, in_solids_frame(out), element.width_mm, element.thickness_mm))]
    return []


def _rod(mechanism: Mechanism, hinge: Hinge) -> Solid:
    """The steel rod of a hinge, from its first post to its last."""
    key = mechanism.turning[hinge.key]
    heads = [mechanism.points[post.name][1] for post in mechanism.keys.posts_of(hinge.hinge)]
    along = [float((head - key.origin) @ key.axis) for head in heads]
    ends = np.stack([key.origin + at * key.axis for at in (min(along), max(along))])
    a, b = in_solids_frame(ends)
    solid = _turned(a, b, _disc(hinge.rod_mm / 2, 0.0, float(np.linalg.norm(b - a))))
    solid.label = f"rod {hinge.hinge}"
    return solid


Outline = list[tuple[float, float]]


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


def _turned(a: np.ndarray, b: np.ndarray, outline: Outline) -> Solid:
    """A solid of revolution about the line from a to b: (radius, height over a)."""
    from build123d import Axis, Face, Plane, Solid, Wire

    wire = Wire.make_polygon([(radius, 0.0, height) for radius, height in outline], close=True)
    solid = Solid.revolve(Face(wire), 360.0, Axis((0, 0, 0), (0, 0, 1)))
    plane = Plane(origin=tuple(a), z_dir=tuple((b - a) / np.linalg.norm(b - a)))
    return solid.moved(plane.location)


def _plate(a: np.ndarray, b: np.ndarray, out: np.ndarray, width: float, thick: float) -> Solid:
    """A plate between a and b, its flat facing outwards."""
    from build123d import Plane, Solid

    length = float(np.linalg.norm(b - a))
    along = (b - a) / length
    up = out - (out @ along) * along
    up /= np.linalg.norm(up)
    side = np.cross(up, along)
    corner = a - side * width / 2 - up * thick / 2
    plane = Plane(origin=tuple(corner), x_dir=tuple(along), z_dir=tuple(up))
    # The box grows along x_dir, then z_dir × x_dir: the side.
    return Solid.make_box(length, width, thick, plane)
