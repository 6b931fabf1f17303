"""Bounds of what a solution leaves out: order, edge layers, and the ends of the air."""

from __future__ import annotations

import math

from borewright.acoustics.solved.bore_section import BoreSection
from borewright.acoustics.solved.mesh_detail import MeshDetail
from borewright.acoustics.solved.shape import HoleShape

#: Decay of the slowest wave in a round bore that a hole excites, exp(-1.841 x/a): the first
#: zero of J1'. A section's end reflects it, so its error goes with the square.
_BORE_DECAY = 1.841
#: Bound over what one order less changes: in 26 shapes drawn at random a finer mesh moved the
#: default's lengths by at most a fifth of the bound so made.
ORDER_MARGIN = 1.5
#: What one layer at a sharp edge leaves of the error: 0.15^(4/3), the energy of a corner of
#: 270 degrees.
_LAYER_GAIN = 0.08


def truncation_mm(shape: HoleShape, detail: MeshDetail, far_radius_mm: float) -> float:
    """Bound (mm of shunt length) of near ends and few layers, whatever the order.

    The factors bound what moving the ends and adding layers was measured to change; see the
    tables in docs/solved-holes.md.
    """
    b = shape.radius_mm
    ends = 0.5 * shape.reach_mm**2 / shape.bore_radius_mm
    ends *= math.exp(-2 * _BORE_DECAY * detail.bore_ends)
    layers = 7e-4 * shape.reach_mm * _LAYER_GAIN ** (detail.edge_layers - 1)
    if far_radius_mm == 0.0:
        return ends + layers
    # A sphere's condition is exact for the source itself. Half space: the next term is of
    # fourth order in the distance; round a cylinder, whose ends go on, of second.
    order = 4 if shape.body_radius_mm is None else 2
    far = b**2 / (4 * far_radius_mm) / detail.outer_end**order
    return ends + layers + far


def filling_mm(shape: HoleShape, filling: float, volume: float) -> float:
    """Bound (mm) for a closed hole's inertance, a small difference of large energies.

    The bore's own filling is represented to about 1e-5 by curved elements.
    """
    return 1.5e-5 * math.pi * shape.radius_mm**2 * filling / volume**2


def error_bounds(
    shape: HoleShape,
    section: BoreSection,
    lengths: list[tuple[float, float]],
    left_out_mm: float,
    of_filling_mm: float,
    volume_off_mm3: float,
) -> dict[str, float | None]:
    """Bounds of series and shunt length and volume: what an order changes, and the rest.

    ``lengths`` are series and shunt length of the best order and of one less; without the
    latter nothing is known, and all bounds are None.
    """
    names = ("series_error_mm", "shunt_error_mm", "volume_error_mm3")
    if len(lengths) == 1:
        return dict.fromkeys(names)
    (series, shunt), (series_before, shunt_before) = lengths
    # The series length sees ends and layers less, as hole to bore in area; the bare bore is
    # subtracted from it and from the volume, and its curved elements are right to a millionth.
    share = 0.5 * (shape.reach_mm / shape.bore_radius_mm) ** 2
    bore = section.upper.volume + section.lower.volume
    bare = (section.upper.inertance + section.lower.inertance) * math.pi * shape.bore_radius_mm**2
    bounds = (
        ORDER_MARGIN * abs(series - series_before) + share * left_out_mm + 1e-6 * bare,
        ORDER_MARGIN * abs(shunt - shunt_before) + left_out_mm + of_filling_mm,
        abs(volume_off_mm3) + 1e-5 * shape.radius_mm**3 + 1e-6 * bore,
    )
    return dict(zip(names, bounds, strict=True))
