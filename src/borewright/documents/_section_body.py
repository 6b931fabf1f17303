"""The bodies of a section drawing: walls, corks, holes, mouthpiece outline."""

from __future__ import annotations

import math
from typing import Any

from borewright.documents._look import (
    BOLD_PT,
    CORK,
    FINE_PT,
    HAIR,
    INK,
    LINE_PT,
    MUTED,
    OUTLINE_TINT,
    PAPER,
    PART_TINTS,
)
from borewright.documents._profile import cork_line, wall_outline
from borewright.documents._rows import Frame, placed_parts
from borewright.model import Instrument, Part, Rest, ToneHole

#: Holes within this angle of front or back are turned into the section; the others are
#: shown where they stand, as seen from the player's right.
TURNED_INTO_SECTION_DEG = 30.0
PAD_THICKNESS_MM = 1.8


def side_of_section(hole: ToneHole) -> int:
    """1 for a hole cut in the front wall, -1 in the back wall, 0 for one seen from the side."""
    bearing = abs(hole.bearing_deg)
    if bearing <= TURNED_INTO_SECTION_DEG:
        return 1
    return -1 if bearing >= 180 - TURNED_INTO_SECTION_DEG else 0


def projected_height_mm(part: Part, hole: ToneHole) -> float:
    """Height (mm) above the axis at which the middle of a hole's rim is seen from the side."""
    rim = part.outside_diameter_at(hole.station_mm) / 2 + hole.chimney_mm
    return rim * math.cos(math.radians(hole.bearing_deg))


def draw_bodies(axes: Any, frame: Frame, instrument: Instrument) -> list[Any]:
    """Draw everything within the row's window; the artists are returned for clipping."""
    artists: list[Any] = []
    row = f"from-{frame.row.drawn_from:g}"
    if instrument.mouthpiece:
        artists += _mouthpiece(axes, frame, instrument)
    for index, (part, offset) in enumerate(placed_parts(instrument)):
        tint = PART_TINTS[index % len(PART_TINTS)]
        for sign, side in ((1, "front"), (-1, "back")):
            outline = [(s + offset, sign * r) for s, r in wall_outline(part)]
            artists.append(_shape(axes, frame, outline, tint, gid=f"wall-{index + 1}-{side}-{row}"))
            for start, end, bottom, top in cork_line(part):
                box = [(start, bottom), (end, bottom), (end, top), (start, top)]
                artists.append(
                    _shape(axes, frame, [(s + offset, sign * r) for s, r in box], CORK, FINE_PT)
                )
        for hole in part.holes:
            if side_of_section(hole):
                artists += _hole_in_section(axes, frame, instrument, part, hole, offset, tint)
            else:
                artists += _hole_from_side(axes, frame, part, hole, offset)
    return artists


def _shape(
    axes: Any,
    frame: Frame,
    points: list[tuple[float, float]],
    fill: str,
    width: float = LINE_PT,
    *,
    gid: str = "",
    edge: str = INK,
) -> Any:
    from matplotlib.patches import Polygon

    patch = Polygon(
        [(frame.x(s), frame.y(h)) for s, h in points],
        closed=True, facecolor=fill, edgecolor=edge, linewidth=width, joinstyle="miter",
    )  # fmt: skip
    if gid:
        patch.set_gid(gid)
    return axes.add_patch(patch)


def _line(
    axes: Any,
    frame: Frame,
    points: list[tuple[float, float]],
    width: float = LINE_PT,
    *,
    colour: str = INK,
    style: Any = "-",
) -> Any:
    xs, ys = zip(*[(frame.x(s), frame.y(h)) for s, h in points], strict=True)
    return axes.plot(xs, ys, color=colour, linewidth=width, linestyle=style)[0]


def _hole_in_section(
    axes: Any, frame: Frame, instrument: Instrument, part: Part, hole: ToneHole,
    offset: float, tint: str,
) -> list[Any]:  # fmt: skip
    side = side_of_section(hole)
    centre = offset + hole.station_mm
    half = hole.diameter_mm / 2
    bore = part.bore_diameter_at(hole.station_mm) / 2
    outside = part.outside_diameter_at(hole.station_mm) / 2
    rim = outside + hole.chimney_mm
    artists: list[Any] = []

    def mirrored(points: list[tuple[float, float]]) -> list[tuple[float, float]]:
        return [(centre + along, side * height) for along, height in points]

    if hole.chimney_mm > 0:
        wide = half + instrument.fit.chimney_wall_mm
        box = [(-wide, outside), (-wide, rim), (wide, rim), (wide, outside)]
        artists.append(_shape(axes, frame, mirrored(box), tint))
    elif hole.chimney_mm < 0:
        wide = max(hole.pad.diameter_mm / 2 if hole.pad else 0.0, half + 1.0)
        box = [(-wide, outside + 1.2), (-wide, rim), (wide, rim), (wide, outside + 1.2)]
        artists.append(_shape(axes, frame, mirrored(box), PAPER, 0.0, edge="none"))
        sunk = [(-wide, outside), (-wide, rim), (wide, rim), (wide, outside)]
        artists.append(_line(axes, frame, mirrored(sunk)))
    inner = bore - hole.into_bore_mm
    if hole.into_bore_mm:
        tube = half + 0.8
        box = [(-tube, inner), (-tube, rim), (tube, rim), (tube, inner)]
        artists.append(_shape(axes, frame, mirrored(box), HAIR))
    channel = [(-half, rim + 0.2), (half, rim + 0.2), (half, inner - 0.8), (-half, inner - 0.8)]
    artists.append(_shape(axes, frame, mirrored(channel), PAPER, 0.0, edge="none"))
    if hole.undercut:
        wide, knee = hole.undercut.diameter_mm / 2, inner + hole.undercut.depth_mm
        cone = [(-half, knee), (half, knee), (wide, inner - 0.8), (-wide, inner - 0.8)]
        artists.append(_shape(axes, frame, mirrored(cone), PAPER, 0.0, edge="none"))
        edge = [(half, rim), (half, knee), (wide, inner)]
    else:
        edge = [(half, rim), (half, inner)]
    for sign in (1, -1):
        sided = [(sign * along, height) for along, height in edge]
        artists.append(_line(axes, frame, mirrored(sided)))
    if hole.pad:
        artists.append(_shape(axes, frame, mirrored(_pad(hole, rim)), OUTLINE_TINT, FINE_PT))
    return artists


def _pad(hole: ToneHole, rim: float) -> list[tuple[float, float]]:
    """A pad as it rests: on the rim, or lifted."""
    assert hole.pad is not None
    seat = rim + (hole.pad.lift_mm if hole.pad.rest is Rest.OPEN else 0.0)
    half = hole.pad.diameter_mm / 2
    top = seat + PAD_THICKNESS_MM
    return [(-half, seat), (-half, top), (half, top), (half, seat)]


def _hole_from_side(
    axes: Any, frame: Frame, part: Part, hole: ToneHole, offset: float
) -> list[Any]:
    from matplotlib.patches import Ellipse

    ellipse = Ellipse(
        (frame.x(offset + hole.station_mm), frame.y(projected_height_mm(part, hole))),
        hole.diameter_mm * frame.scale,
        hole.diameter_mm * frame.scale * abs(math.sin(math.radians(hole.bearing_deg))),
        facecolor="none", edgecolor=INK, linewidth=LINE_PT,
        linestyle="-" if hole.bearing_deg > 0 else (0, (2.5, 1.5)),
    )  # fmt: skip
    return [axes.add_patch(ellipse)]


def _mouthpiece(axes: Any, frame: Frame, instrument: Instrument) -> list[Any]:
    """An outline with a beak, reed side to the back; its inside is not drawn to shape."""
    mouthpiece = instrument.mouthpiece
    assert mouthpiece is not None
    shown = mouthpiece.shown_mm
    radius = max(mouthpiece.bore_diameter_mm / 2 + 3.5, instrument.parts[0].outside[0][1] * 0.42)
    beak = 0.45 * shown
    outline = [
        (0.0, radius), (-shown + beak, radius * 0.94), (-shown + 1.0, -radius * 0.42),
        (-shown, -radius * 0.60), (-shown * 0.3, -radius * 0.80), (-shown * 0.27, -radius),
        (0.0, -radius),
    ]  # fmt: skip
    shape = _shape(axes, frame, outline, OUTLINE_TINT, BOLD_PT * 0.6, edge=MUTED)
    half = mouthpiece.bore_diameter_mm / 2
    top = -min(mouthpiece.bore_length_mm, shown * 0.6)
    bore = [(0.0, half), (top, half), (top, -half), (0.0, -half)]
    return [shape, _line(axes, frame, bore, FINE_PT, colour=MUTED, style=(0, (4, 2)))]
