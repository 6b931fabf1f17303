"""Letters as closed polygons, from the drawing library's own typeface: the same everywhere."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np

Outline = list[tuple[float, float]]

#: Capital letters stand this share of the type's size high.
_CAPITAL = 0.73
#: Points nearer than this (mm) are one.
_SAME_MM = 1e-3


def letter_outlines(text: str, height_mm: float) -> list[list[Outline]]:
    """Every separate shape of a text: its outer outline, then its holes (mm).

    Capitals are ``height_mm`` high; the text begins at x = 0 and y = 0 is half that height.
    """
    path = _path(text, height_mm)
    left, low = path.vertices.min(axis=0)[0], height_mm / 2
    loops = []
    for polygon in path.to_polygons(closed_only=True):
        points = _tidy([(float(x) - left, float(y) - low) for x, y in polygon])
        if len(points) > 2:
            loops.append(points)
    loops.sort(key=lambda loop: -abs(_area(loop)))
    shapes: list[list[Outline]] = []
    for loop in loops:
        around = next((shape for shape in shapes if _inside(loop[0], shape[0])), None)
        if around is None:
            shapes.append([loop])
        else:
            around.append(loop)
    return shapes


def width_mm(text: str, height_mm: float) -> float:
    """Width (mm) of a text whose capitals are ``height_mm`` high."""
    return float(np.ptp(_path(text, height_mm).vertices[:, 0]))


def _path(text: str, height_mm: float) -> Any:
    import matplotlib
    from matplotlib.font_manager import FontProperties
    from matplotlib.textpath import TextPath

    file = Path(matplotlib.get_data_path()) / "fonts" / "ttf" / "DejaVuSans-Bold.ttf"
    face = FontProperties(fname=str(file))
    path = TextPath((0, 0), text, size=height_mm / _CAPITAL, prop=face, usetex=False)
    # Few straight pieces a curve are enough for letters cut by a nozzle or a graver.
    return path.cleaned(simplify=False, curves=False) if len(path.vertices) else path


def _tidy(points: Outline) -> Outline:
    kept: Outline = []
    for point in points:
        if not kept or max(abs(point[0] - kept[-1][0]), abs(point[1] - kept[-1][1])) > _SAME_MM:
            kept.append(point)
    if kept and max(abs(kept[0][0] - kept[-1][0]), abs(kept[0][1] - kept[-1][1])) <= _SAME_MM:
        kept.pop()
    return kept


def _area(loop: Outline) -> float:
    x, y = np.array(loop).T
    return float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1))) / 2


def _inside(point: tuple[float, float], loop: Outline) -> bool:
    from matplotlib.path import Path as Polygon

    return bool(Polygon([*loop, loop[0]], closed=True).contains_point(point))
