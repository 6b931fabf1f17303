"""Features of parents and blend side by side."""

from __future__ import annotations

from borewright.model import Instrument
from borewright.model.bores import BoreFeatures, FeatureRow, bore_features
from borewright.words import Message, say


def feature_rows(first: Instrument, second: Instrument, blended: Instrument) -> list[FeatureRow]:
    """Every feature that all three have (mm)."""
    columns = [_figures(bore_features(each)) for each in (first, second, blended)]
    return [
        FeatureRow(feature=name, first=value, second=columns[1][name], blend=columns[2][name])
        for name, value in columns[0].items()
        if name in columns[1] and name in columns[2]
    ]


def _figures(found: BoreFeatures) -> dict[Message, float]:
    figures: dict[Message, float | None] = {
        say("barrel length"): found.barrel_length,
        say("barrel, top diameter"): found.barrel_top,
        say("barrel, bottom diameter"): found.barrel_bottom,
        say("throat taper, length"): found.throat_length,
        say("throat taper, widening"): found.throat_widening,
    }
    for name, top, bottom in found.cylinders:
        figures[say("{part}, cylinder at its top", part=name)] = top
        figures[say("{part}, cylinder at its bottom", part=name)] = bottom
    figures |= {
        say("flare of {part}, start", part=found.flare_part): found.flare_start,
        say("flare of {part}, growth", part=found.flare_part): found.flare_growth,
        say("bell length"): found.bell_length,
        say("bell, top diameter"): found.bell_top,
        say("bell, rim"): found.rim,
    }
    return {name: value for name, value in figures.items() if value is not None}
