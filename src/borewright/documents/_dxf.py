"""A sheet as DXF: every line, circle, arc and dimension as the entity that it is.

The part is drawn at its own size, 1:1, whatever the paper's scale, so that a machine's program
can take holes and profiles from it; a detail drawn larger measures true all the same, by its
dimensions' own factor.
"""

from __future__ import annotations

import io
from typing import Any

from borewright.documents._dimension_marks import ARROW, TEXT_MM
from borewright.documents._figure import drawable
from borewright.documents.sheet import Dimension, Layer, Point, Sheet

#: DXF colour numbers and line types of the layers.
_LAYERS: dict[Layer, tuple[int, str]] = {
    Layer.OUTLINE: (7, "CONTINUOUS"),
    Layer.HIDDEN: (8, "DASHED"),
    Layer.CENTRE: (8, "CENTER"),
    Layer.CUT: (1, "CONTINUOUS"),
    Layer.HOLE: (7, "CONTINUOUS"),
    Layer.POST: (30, "CONTINUOUS"),
    Layer.DIMENSION: (5, "CONTINUOUS"),
    Layer.DRILL: (1, "CONTINUOUS"),
    Layer.FRAME: (9, "CONTINUOUS"),
    Layer.TEXT: (7, "CONTINUOUS"),
}


def dxf_bytes(sheet: Sheet) -> bytes:
    """The sheet as DXF (R2010, millimetres of the part)."""
    from ezdxf.filemanagement import new
    from ezdxf.units import MM

    document = new("R2010", setup=True, units=MM)
    space = document.modelspace()
    for layer, (colour, kind) in _LAYERS.items():
        document.layers.add(layer.value, color=colour, linetype=kind)

    def at(point: Point) -> Point:
        return point[0] * sheet.unit, point[1] * sheet.unit

    for line in sheet.lines:
        points, on = [at(point) for point in line.points], {"layer": line.layer.value}
        if len(points) == 2:
            space.add_line(points[0], points[1], dxfattribs=on)
        else:
            space.add_lwpolyline(points, close=line.closed, dxfattribs=on)
    for circle in sheet.circles:
        radius, on = circle.radius * sheet.unit, {"layer": circle.layer.value}
        if circle.whole:
            space.add_circle(at(circle.at), radius, dxfattribs=on)
        else:
            ends = circle.start_deg, circle.end_deg
            space.add_arc(at(circle.at), radius, *ends, dxfattribs=on)
    for each in sheet.dimensions:
        _dimension(space, each, at, sheet.unit)
    _texts(space, sheet, at)
    stream = io.StringIO()
    document.write(stream)
    return stream.getvalue().encode("utf-8")


def _dimension(space: Any, of: Dimension, at: Any, unit: float) -> None:
    base = at((of.line_at, of.start[1]) if of.upright else (of.start[0], of.line_at))
    made = space.add_linear_dim(
        base=base,
        p1=at(of.start),
        p2=at(of.end),
        angle=90 if of.upright else 0,
        text=f"{of.before.replace('⌀', '%%c')}<>{of.after.replace('±', '%%p')}",
        override={
            "dimlfac": of.ratio / unit,
            "dimtxt": TEXT_MM * unit,
            "dimasz": ARROW[0] * unit,
            "dimexo": 0.8 * unit,
            "dimexe": 1.2 * unit,
            "dimgap": 0.6 * unit,
            "dimtad": 1,
            "dimdec": 2,
            "dimzin": 8,
            "dimdsep": ord("," if "," in of.text else "."),
        },
        dxfattribs={"layer": Layer.DIMENSION.value},
    )
    made.render()


def _texts(space: Any, sheet: Sheet, at: Any) -> None:
    from ezdxf.enums import TextEntityAlignment

    align = {
        "left": TextEntityAlignment.MIDDLE_LEFT,
        "center": TextEntityAlignment.MIDDLE_CENTER,
        "right": TextEntityAlignment.MIDDLE_RIGHT,
    }
    for text in sheet.texts:
        space.add_text(
            drawable(text.text),
            height=text.height_mm * sheet.unit,
            rotation=text.angle_deg,
            dxfattribs={"layer": Layer.TEXT.value},
        ).set_placement(at(text.at), align=align[text.align])
