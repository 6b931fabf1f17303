"""The assembled instrument as a shaded picture: bodies, pads as discs, posts as pins."""

from __future__ import annotations

import math
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from borewright.model import Instrument, SolidsReport

if TYPE_CHECKING:
    import numpy as np

    from borewright.solids import Pin, PostPlan

_BODIES = ((176, 128, 78), (158, 112, 66))
_COLOURS = {"pad": (225, 222, 210), "post": (190, 195, 200)}
_SIDES = 36


def assembly_picture(
    instrument: Instrument, posts: Sequence[PostPlan], report: SolidsReport, path: Path
) -> Path:
    """Draw exported bodies in place, seen from the front, the side and the back, as PNG."""
    import numpy as np

    from borewright.documents import Shape, shaded_picture
    from borewright.solids import pads_and_posts, read_mesh

    shapes = []
    for number, files in enumerate(report.parts):
        mesh = read_mesh(files.stl)
        shift = np.array([0.0, 0.0, instrument.offset_mm(files.part)])
        triangles = mesh.triangles + shift
        shapes.append(Shape(files.part, triangles, _BODIES[number % 2]))
    for pin in pads_and_posts(instrument, posts):
        shapes.append(Shape(str(pin.words), _can(pin), _COLOURS[pin.kind]))
    return shaded_picture(shapes, path)


def _can(pin: Pin) -> np.ndarray:
    """A radial cylinder as triangles, outwards."""
    import numpy as np

    from borewright.solids import bearing_direction

    x, y = bearing_direction(pin.bearing_deg)
    out, side, along = np.array([x, y, 0.0]), np.array([-y, x, 0.0]), np.array([0.0, 0.0, 1.0])
    turns = [2 * math.pi * number / _SIDES for number in range(_SIDES)]
    ring = np.array([math.cos(t) * side + math.sin(t) * along for t in turns]) * pin.radius_mm
    middle = np.array([0.0, 0.0, pin.station_mm])
    low, high = middle + out * pin.low_mm, middle + out * pin.high_mm
    triangles = []
    for one, other in zip(ring, np.roll(ring, -1, axis=0), strict=True):
        a, b, c, d = low + one, low + other, high + one, high + other
        triangles += [(a, b, d), (a, d, c), (high, c, d), (low, b, a)]
    return np.array(triangles)
