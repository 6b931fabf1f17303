"""Bodies that are printed beside a part to carry it, and are taken off: collars, sleeves, brims."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from borewright.model.base import Entity
from borewright.words import say

if TYPE_CHECKING:
    from borewright.solids._mesh import Mesh

#: How far round they reach (degrees): a slit lets them be opened and peeled off.
_ROUND_DEG = 345.0


class Support(Entity):
    """A ring about the part's axis, slit on one side.

    ``outline`` is its closed section as (radius, height above the bed) in mm.
    """

    name: str
    outline: list[tuple[float, float]]


def support_mesh(support: Support) -> Mesh:
    """Its triangles (mm), standing on the bed about the axis x = y = 0. SolidsError if none."""
    from build123d import Axis, Face, Solid, Wire

    from borewright.solids._mesh import meshed

    wire = Wire.make_polygon([(r, 0.0, z) for r, z in support.outline], close=True)
    solid = Solid.revolve(Face(wire), _ROUND_DEG, Axis((0, 0, 0), (0, 0, 1)))
    return meshed(solid, say("support '{support}'", support=support.name))


def with_supports(mesh: Mesh, supports: Sequence[Support], *, turned: bool) -> Mesh:
    """A part's triangles as drawn, and those of its supports where it stands on them.

    ``turned`` is whether its bottom end is on the bed. They touch nowhere: shells of one object.
    """
    from borewright.solids._mesh import Mesh

    vertices, triangles = [mesh.vertices], [mesh.triangles]
    heights, count = mesh.vertices[:, 2], len(mesh.vertices)
    for support in supports:
        ring = support_mesh(support)
        points = ring.vertices.copy()
        if turned:
            points[:, 1], points[:, 2] = -points[:, 1], heights.max() - points[:, 2]
        else:
            points[:, 2] += heights.min()
        vertices.append(points)
        triangles.append(ring.triangles + count)
        count += len(points)
    return Mesh(np.concatenate(vertices), np.concatenate(triangles))


def support_volume_mm3(support: Support) -> float:
    """Its volume (mm³), by Pappus: the section's moment about the axis times the way round."""
    moment = 0.0
    for (r0, z0), (r1, z1) in itertools.pairwise([*support.outline, support.outline[0]]):
        # Of the triangle from the origin: twice its area times the radius of its centroid.
        moment += (r0 * z1 - r1 * z0) * (r0 + r1) / 6
    return abs(moment) * math.radians(_ROUND_DEG)
