"""A shaded picture of shapes given as triangles, drawn point by point with a depth buffer."""

from __future__ import annotations

import io
import math
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from borewright.errors import DocumentsError
from borewright.model import write_bytes
from borewright.words import say

_AMBIENT, _LIGHT = 0.30, 0.68
#: White around a view (pixels).
_EDGE_PX = 12
_TOWARDS_LIGHT = np.array([0.35, 0.45, 0.82])


@dataclass(frozen=True)
class Shape:
    """Triangles of shape (n, 3, 3) in mm, outwards, with a colour (0 to 255 each)."""

    name: str
    triangles: np.ndarray
    colour: tuple[int, int, int]


def shaded_picture(
    shapes: Sequence[Shape],
    path: Path | str,
    *,
    bearings_deg: Sequence[float] = (0.0, 60.0, 180.0),
    width_px: int = 1800,
) -> Path:
    """Write the shapes as PNG, one view below the other, the z axis to the right.

    Parameters
    ----------
    shapes
        What to draw; z is the instrument's axis, front at -y.
    path
        A file ending in .png.
    bearings_deg
        For every view, the bearing that faces the viewer.
    width_px
        Width of the picture.

    Raises
    ------
    DocumentsError
        For another suffix, or nothing to draw.
    """
    target = Path(path)
    if target.suffix.lower() != ".png":
        raise DocumentsError(
            say(
                "'{suffix}' is not a format for shaded pictures",
                suffix=target.suffix or target.name,
            ),
            place=str(target),
            remedy=say("Let the file name end in .png."),
        )
    if not any(len(shape.triangles) for shape in shapes):
        raise DocumentsError(
            say("there is nothing to draw"),
            place=str(target),
            remedy=say("Look whether the instrument has parts."),
        )
    from matplotlib.image import imsave

    picture = np.concatenate([shaded_view(shapes, b, width_px).image for b in bearings_deg])
    stream = io.BytesIO()
    imsave(stream, picture, format="png", metadata={"Title": target.stem})
    write_bytes(target, stream.getvalue())
    return target


@dataclass(frozen=True)
class ShadedView:
    """One view: an image (rows, columns, 3) of bytes, and how it was laid out."""

    image: np.ndarray
    turn: np.ndarray
    left: float
    top: float
    scale: float

    def pixel(self, point: np.ndarray) -> tuple[float, float]:
        """Column and row at which a point (3,) in mm shows."""
        x, y, _ = point @ self.turn
        return (x - self.left) * self.scale + _EDGE_PX, (self.top - y) * self.scale + _EDGE_PX


def shaded_view(shapes: Sequence[Shape], bearing: float, width: int) -> ShadedView:
    """The shapes as seen from a bearing (degrees), so many pixels wide."""
    angle = math.radians(bearing)
    # Screen right is z (downwards on the part), screen up the side to which bearings fall,
    # towards the viewer the bearing itself.
    out = np.array([-math.sin(angle), -math.cos(angle), 0.0])
    up = np.array([math.cos(angle), -math.sin(angle), 0.0])
    turn = np.stack([np.array([0.0, 0.0, 1.0]), -up, out], axis=1)
    turned = [shape.triangles.astype(np.float64) @ turn for shape in shapes]
    corners = np.concatenate([triangles.reshape(-1, 3) for triangles in turned])
    low, high = corners.min(axis=0), corners.max(axis=0)
    margin = _EDGE_PX
    scale = (width - 2 * margin) / (high[0] - low[0])
    rows = math.ceil((high[1] - low[1]) * scale) + 2 * margin
    image = np.full((rows, width, 3), 252, dtype=np.uint8)
    depth = np.full((rows, width), -np.inf)
    for shape, triangles in zip(shapes, turned, strict=True):
        normals = np.cross(triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0])
        sizes = np.linalg.norm(normals, axis=1)
        facing = (normals[:, 2] > 1e-12) & (sizes > 1e-12)
        shade = _AMBIENT + _LIGHT * np.clip(
            normals[facing] / sizes[facing, None] @ _TOWARDS_LIGHT, 0, 1
        )
        placed = triangles[facing].copy()
        placed[:, :, 0] = (placed[:, :, 0] - low[0]) * scale + margin
        placed[:, :, 1] = (high[1] - placed[:, :, 1]) * scale + margin
        colours = np.clip(shade[:, None] * np.array(shape.colour), 0, 255).astype(np.uint8)
        _draw(image, depth, placed, colours)
    return ShadedView(image, turn, float(low[0]), float(high[1]), float(scale))


#: Widths (pixels) up to which triangles are drawn together, each on a little grid of its own.
_TOGETHER_PX = (3, 7)


def _draw(image: np.ndarray, depth: np.ndarray, triangles: np.ndarray, colours: np.ndarray) -> None:
    """Draw triangles (n, 3, 3) in pixels and depth: small ones together, large ones singly."""
    spans = np.ptp(triangles[:, :, :2], axis=1).max(axis=1)
    done = np.zeros(len(triangles), dtype=bool)
    for most in _TOGETHER_PX:
        chosen = np.flatnonzero(~done & (spans <= most))
        done[chosen] = True
        for start in range(0, len(chosen), 20_000):
            batch = chosen[start : start + 20_000]
            _fill_small(image, depth, triangles[batch], colours[batch], most + 1)
    for index in np.flatnonzero(~done):
        _fill(image, depth, triangles[index], colours[index])


def _fill_small(
    image: np.ndarray, depth: np.ndarray, triangles: np.ndarray, colours: np.ndarray, grid: int
) -> None:
    """Triangles no wider than ``grid`` - 1 pixels, all at once; the nearest wins each pixel."""
    x, y, z = (triangles[:, :, axis][:, None, None, :] for axis in range(3))
    step = np.arange(grid)
    px = (np.ceil(triangles[:, :, 0].min(axis=1) - 0.5)[:, None] + step)[:, None, :]
    py = (np.ceil(triangles[:, :, 1].min(axis=1) - 0.5)[:, None] + step)[:, :, None]
    first, second, third, area = _shares(x, y, px, py)
    near = first * z[..., 0] + second * z[..., 1] + third * z[..., 2]
    rows, columns = depth.shape
    inside = (np.minimum(np.minimum(first, second), third) >= -1e-9) & (np.abs(area) >= 1e-9)
    inside &= (px >= 0) & (px < columns) & (py >= 0) & (py < rows)
    owner, row, column = np.nonzero(inside)
    place = py[owner, row, 0].astype(int) * columns + px[owner, 0, column].astype(int)
    height = near[owner, row, column]
    # Sorted by depth, the last one written to a pixel is the nearest.
    order = np.argsort(height, kind="stable")
    place, height, owner = place[order], height[order], owner[order]
    winner = np.full(depth.size, -1)
    winner[place] = np.arange(len(place))
    hit = np.flatnonzero(winner >= 0)
    best = winner[hit]
    nearer = height[best] > depth.ravel()[hit]
    hit, best = hit[nearer], best[nearer]
    depth.reshape(-1)[hit] = height[best]
    image.reshape(-1, 3)[hit] = colours[owner[best]]


def _shares(
    x: np.ndarray, y: np.ndarray, px: np.ndarray, py: np.ndarray
) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """Barycentric shares of pixels in triangles, and twice the triangles' areas."""
    x0, x1, x2 = (x[..., corner] for corner in range(3))
    y0, y1, y2 = (y[..., corner] for corner in range(3))
    area = (x1 - x0) * (y2 - y0) - (x2 - x0) * (y1 - y0)
    with np.errstate(divide="ignore", invalid="ignore"):
        first = ((x1 - px) * (y2 - py) - (x2 - px) * (y1 - py)) / area
        second = ((x2 - px) * (y0 - py) - (x0 - px) * (y2 - py)) / area
    return first, second, 1 - first - second, area


def _fill(image: np.ndarray, depth: np.ndarray, triangle: np.ndarray, colour: np.ndarray) -> None:
    """Draw one triangle (pixels and depth) where it is nearer than what is there."""
    x, y, z = triangle.T
    left, right = math.ceil(x.min() - 0.5), math.floor(x.max() + 0.5)
    top, bottom = math.ceil(y.min() - 0.5), math.floor(y.max() + 0.5)
    px = np.arange(left, right + 1)[None, :]
    py = np.arange(top, bottom + 1)[:, None]
    first, second, third, area = _shares(x, y, px, py)
    if right < left or bottom < top or abs(float(area)) < 1e-9:
        return
    inside = (first >= -1e-9) & (second >= -1e-9) & (third >= -1e-9)
    near = first * z[0] + second * z[1] + third * z[2]
    window = (slice(top, bottom + 1), slice(left, right + 1))
    nearer = inside & (near > depth[window])
    depth[window][nearer] = near[nearer]
    image[window][nearer] = colour
