"""The coupon's sizes in the page's language: what each is, and where to put the gauge."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from borewright.bench.widgets.units import decimal
from borewright.bench.words import _

if TYPE_CHECKING:
    from borewright.printing.coupon import CouponFeature

_HOLE = re.compile(r"tube hole (?P<size>[\d.]+)@(?P<bearing>[+-]\d+) (?P<way>across|upright)")
_PILOT = re.compile(r"pilot (?P<bearing>[+-]\d+)")
_TURNED = re.compile(r"(?P<what>tenon|tube outside|block outside) (?P<turn>\d+)")


def feature_words(feature: CouponFeature) -> tuple[str, str]:
    """What a size is called, and where it is measured."""
    station = re.search(r"([\d.]+) mm", str(feature.where))
    at = decimal(float(station[1]), 0) if station else ""
    if (hole := _HOLE.fullmatch(feature.feature)) is not None:
        size, bearing = decimal(float(hole["size"]), 0), hole["bearing"]
        words = _("hole {size} at {bearing}°", size=size, bearing=bearing)
        way = _("level") if hole["way"] == "across" else _("along the tube")
        return f"{words}, {way}", _("tube, {station} mm from the top", station=at)
    if (pilot := _PILOT.fullmatch(feature.feature)) is not None:
        words = _("pilot hole at {bearing}°", bearing=pilot["bearing"])
        return words, _("block, {station} mm from the shoulder", station=at)
    if (turned := _TURNED.fullmatch(feature.feature)) is not None:
        places = {
            "tenon": (_("tenon, turned {turn}°", turn=turned["turn"]), _("on the block")),
            "tube outside": (
                _("tube's outside, turned {turn}°", turn=turned["turn"]), _("near its top")
            ),
            "block outside": (
                _("block's outside, turned {turn}°", turn=turned["turn"]), _("near its bottom")
            ),
        }  # fmt: skip
        return places[turned["what"]]
    if feature.feature == "tube bore":
        return _("tube's bore"), _("from the top end, {depth} mm deep", depth=at)
    if feature.feature == "socket":
        return _("socket"), _("tube's bottom end, {depth} mm deep", depth=at)
    size = decimal(feature.nominal_mm, 1)
    return _("block's bore {size}", size=size), _("plug gauge from the tenon's end")
