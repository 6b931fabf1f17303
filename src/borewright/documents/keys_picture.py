"""The keys on their joints, shaded, from four sides, each named where it is best seen."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from borewright.documents._figure import new_figure, sheet_axes, write, write_picture
from borewright.documents._look import INK, PAPER, SMALL_TEXT_PT
from borewright.documents.shaded import Shape, shaded_view
from borewright.model.results.key_figures import KeyFigures
from borewright.words import ENGLISH, Reader, say_as

#: The sides that are shown.
SIDES = (
    (0.0, say_as("bearing", "front")),
    (90.0, say_as("bearing", "left")),
    (180.0, say_as("bearing", "back")),
    (-90.0, say_as("bearing", "right")),
)
_POINTS_PER_MM = 10.0
_NAME_ROOM_MM = 11.0


@dataclass(frozen=True)
class NamedPoint:
    """A name and where it belongs: a point as bodies stand (z is the axis, front at -y)."""

    name: str
    point: tuple[float, float, float]
    bearing_deg: float


@dataclass(frozen=True)
class ShownKeys:
    """Shapes of joints and keys at rest, the keys' names and figures."""

    shapes: Sequence[Shape]
    names: Sequence[NamedPoint]
    figures: Sequence[KeyFigures]


def keys_drawing(
    shown: ShownKeys, path: Path | str, *, width_mm: float = 260.0, words: Reader = ENGLISH
) -> Path:
    """Write the keys as SVG or PNG, by the suffix of ``path``; DocumentsError for another."""
    return write_picture(path, lambda: keys_figure(shown, width_mm, words), words("Keys"), words)


def keys_figure(shown: ShownKeys, width_mm: float, words: Reader = ENGLISH) -> Any:
    """The drawing as a figure."""
    from matplotlib.patheffects import withStroke

    wide = width_mm - _NAME_ROOM_MM
    views = [
        shaded_view(shown.shapes, bearing, round(wide * _POINTS_PER_MM)) for bearing, _ in SIDES
    ]
    heights = [view.image.shape[0] / _POINTS_PER_MM for view in views]
    figure = new_figure(width_mm, sum(heights))
    axes = sheet_axes(figure)
    top = sum(heights)
    for (bearing, side), view, height in zip(SIDES, views, heights, strict=True):
        axes.imshow(
            view.image,
            extent=(_NAME_ROOM_MM, width_mm, top - height, top),
            aspect="auto",
            zorder=1,
            interpolation="none",
        )
        write(axes, 1, top - height / 2, words.tell(side), va="center", fontsize=SMALL_TEXT_PT)
        for name in shown.names:
            if _nearest(name.bearing_deg) != bearing:
                continue
            column, row = view.pixel(np.array(name.point))
            write(
                axes,
                _NAME_ROOM_MM + column / _POINTS_PER_MM,
                top - row / _POINTS_PER_MM,
                name.name,
                ha="center",
                va="center",
                fontsize=SMALL_TEXT_PT,
                color=INK,
                fontweight="bold",
                zorder=2,
                path_effects=[withStroke(linewidth=1.6, foreground=PAPER)],
            )
        top -= height
    axes.set_xlim(0, width_mm)
    axes.set_ylim(0, sum(heights))
    return figure


def _nearest(bearing_deg: float) -> float:
    return min((b for b, _ in SIDES), key=lambda b: abs((bearing_deg - b + 180) % 360 - 180))
