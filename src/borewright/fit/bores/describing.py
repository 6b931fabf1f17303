"""Features of parents and blend side by side."""

from __future__ import annotations

from borewright.model import Instrument
from borewright.model.bores import BoreFeatures, FeatureRow, bore_features


def feature_rows(first: Instrument, second: Instrument, blended: Instrument) -> list[FeatureRow]:
    """Every feature that all three have (mm)."""
    columns = [_figures(bore_features(each)) for each in (first, second, blended)]
    return [
        FeatureRow(feature=name, first=value, second=columns[1][name], blend=columns[2][name])
        for name, value in columns[0].items()
        if name in columns[1] and name in columns[2]
    ]


def _figures(found: BoreFeatures) -> dict[str, float]:
    figures: dict[str, float | None] = {
        "barrel length": found.barrel_length,
        "barrel, top diameter": found.barrel_top,
        "barrel, bottom diameter": found.barrel_bottom,
        "throat taper, length": found.throat_length,
        "throat taper, widening": found.throat_widening,
    }
    for name, top, bottom in found.cylinders:
        figures[f"{name}, cylinder at its top"] = top
        figures[f"{name}, cylinder at its bottom"] = bottom
    figures |= {
        f"flare of {found.flare_part}, start": found.flare_start,
        f"flare of {found.flare_part}, growth": found.flare_growth,
        "bell length": found.bell_length,
        "bell, top diameter": found.bell_top,
        "bell, rim": found.rim,
    }
    return {name: value for name, value in figures.items() if value is not None}
