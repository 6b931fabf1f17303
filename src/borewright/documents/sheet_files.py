"""Sheets as PDF, SVG, PNG and DXF, all true to scale."""

from __future__ import annotations

import io
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from borewright.documents._dimension_marks import dimension_marks
from borewright.documents._dxf import dxf_bytes
from borewright.documents._figure import drawing_settings, new_figure, sheet_axes, write
from borewright.documents._look import BLUE, HAIR, INK, MUTED, ORANGE, OUTLINE_TINT, PAPER
from borewright.documents.sheet import Layer, Sheet
from borewright.errors import DocumentsError
from borewright.model import write_bytes
from borewright.words import say

#: Wide and narrow lines, 0.35 and 0.18 mm in points: the line group of ISO 128-2 for A3.
_WIDE, _NARROW = 0.35 * 72 / 25.4, 0.18 * 72 / 25.4
#: Width (points), colour and dashes of every layer.
_INK: dict[Layer, tuple[float, str, Any]] = {
    Layer.OUTLINE: (_WIDE, INK, "-"),
    Layer.HIDDEN: (_NARROW, INK, (0, (4, 2))),
    Layer.CENTRE: (_NARROW, MUTED, (0, (10, 2, 2, 2))),
    Layer.CUT: (_WIDE, INK, "-"),
    Layer.HOLE: (_WIDE, INK, "-"),
    Layer.POST: (_NARROW, ORANGE, "-"),
    Layer.DIMENSION: (_NARROW, BLUE, "-"),
    Layer.DRILL: (0.35, ORANGE, "-"),
    Layer.FRAME: (0.4, HAIR, "-"),
    Layer.TEXT: (0.4, INK, "-"),
}
#: Formats that are pictures, by their suffix.
_DRAWN = (".pdf", ".svg", ".png")
#: Points of type per millimetre of a capital letter's height, for the drawing's typeface.
_POINT_PER_MM = 72 / 25.4 / 0.73


def write_sheets(sheet: Sheet, paths: Sequence[Path]) -> list[Path]:
    """Write a sheet in several formats, as :func:`write_sheet` does; it is laid out once."""
    pictures = [path.suffix.lower()[1:] for path in paths if path.suffix.lower() in _DRAWN]
    if len(pictures) < 2:
        return [write_sheet(sheet, path) for path in paths]
    drawn = dict(zip(pictures, _pictures(sheet, pictures), strict=True))
    for path in paths:
        kind = path.suffix.lower()[1:]
        if kind in drawn:
            write_bytes(path, drawn[kind])
        else:
            write_sheet(sheet, path)
    return list(paths)


def write_sheet(sheet: Sheet, path: Path | str) -> Path:
    """Write a sheet as PDF, SVG, PNG or DXF, by the suffix of ``path``.

    One millimetre on the sheet is one millimetre in every file; print PDFs at 100 %. Raises
    DocumentsError for another suffix.
    """
    target = Path(path)
    suffix = target.suffix.lower()
    if suffix == ".dxf":
        write_bytes(target, dxf_bytes(sheet))
    elif suffix in _DRAWN:
        write_bytes(target, _pictures(sheet, [suffix[1:]])[0])
    else:
        raise DocumentsError(
            say("'{suffix}' is not a drawing format", suffix=target.suffix or target.name),
            place=str(target),
            remedy=say("Let the file name end in .pdf, .svg, .dxf or .png."),
        )
    return target


def _pictures(sheet: Sheet, wanted: Sequence[str]) -> list[bytes]:
    kinds: dict[str, dict[str, Any]] = {
        "svg": {"Date": None, "Creator": None, "Title": sheet.title},
        "pdf": {"CreationDate": None, "Creator": None, "Producer": None, "Title": sheet.title},
        "png": {"Software": None},
    }
    found = []
    with drawing_settings():
        figure = new_figure(sheet.width_mm, sheet.height_mm)
        axes = sheet_axes(figure)
        _draw(axes, sheet)
        for kind in wanted:
            stream = io.BytesIO()
            dpi = 150 if kind == "png" else 72
            figure.savefig(stream, format=kind, dpi=dpi, metadata=kinds[kind])
            found.append(stream.getvalue())
    return found


def _draw(axes: Any, sheet: Sheet) -> None:
    from matplotlib.patches import Arc, Polygon

    marked = [dimension_marks(each) for each in sheet.dimensions]
    for circle in sheet.circles:
        width, colour, style = _INK[circle.layer]
        across = 2 * circle.radius
        arc = Arc(circle.at, across, across, theta1=circle.start_deg, theta2=circle.end_deg)
        arc.set(color=colour, linewidth=width, linestyle=style, gid=circle.name or None)
        axes.add_patch(arc)
    for arrow in [arrow for marks in marked for arrow in marks.arrows]:
        axes.add_patch(Polygon(arrow, closed=True, color=_INK[Layer.DIMENSION][1], linewidth=0))
    for line in [*sheet.lines, *(line for marks in marked for line in marks.lines)]:
        width, colour, style = _INK[line.layer]
        points = [*line.points, line.points[0]] if line.closed else list(line.points)
        xs, ys = zip(*points, strict=True)
        if line.filled:
            axes.fill(xs, ys, facecolor=OUTLINE_TINT, edgecolor="none", zorder=0)
        artist = axes.plot(
            xs, ys, color=colour, linewidth=width, linestyle=style, solid_capstyle="butt"
        )[0]
        if line.name:
            artist.set_gid(line.name)
    # A dimension's value is crossed by no line: what runs below it is broken there (ISO 129-1).
    free = {"facecolor": PAPER, "edgecolor": "none", "pad": 0.3}
    texts = [(text, None) for text in sheet.texts]
    for text, box in [*texts, *((marks.text, free) for marks in marked)]:
        write(
            axes,
            *text.at,
            text.text,
            fontsize=text.height_mm * _POINT_PER_MM,
            ha=text.align,
            va="center",
            rotation=text.angle_deg,
            rotation_mode="anchor",
            fontweight="bold" if text.bold else "normal",
            bbox=box,
        )
