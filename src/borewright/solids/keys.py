"""Every key as solids, drawn from its survey: tubes, rods, arms, cups, pads, rings, touches, posts.

Stands as :mod:`borewright.solids.axes` says; the frame of the keys is turned into it.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

import numpy as np

from borewright.errors import SolidsError
from borewright.keywork import Mechanism
from borewright.keywork.pieces import Outline, Piece, pieces_of
from borewright.words import say

if TYPE_CHECKING:
    from build123d import Compound, Solid


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
    compounds = []
    for key in mechanism.keys.keys:
        children = []
        for piece in pieces_of(mechanism, key):
            solid = _solid(piece.at(mechanism, angles[key]))
            solid.label = piece.name
            children.append(solid)
        compounds.append(Compound(label=f"key {key}", children=children))
    return compounds


def _solid(piece: Piece) -> Solid:
    a, b = in_solids_frame(np.stack([piece.start, piece.end]))
    try:
        if piece.outline is not None:
            return _turned(a, b, piece.outline)
        return _plate(a, b, in_solids_frame(piece.out), piece.width_mm, piece.thick_mm)
    except (RuntimeError, ValueError) as error:
        raise SolidsError(
            say("the kernel could not make it ({why})", why=str(error)),
            place=(say("key {key}", key=piece.key), piece.name),
            remedy=say("Look at its two points and its sizes in the survey."),
        ) from error


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
