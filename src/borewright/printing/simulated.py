"""A printer that errs as it is told: to try the coupon's method before trusting it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from borewright.printing.coupon_features import CouponFeature, FeatureKind, coupon_features
from borewright.printing.measuring import MeasuredFeature


@dataclass(frozen=True)
class Fault:
    """Error (mm) of a size x: offset + slope · x, with a normal scatter (mm)."""

    offset_mm: float = 0.0
    slope: float = 0.0
    scatter_mm: float = 0.03

    def expected_mm(self, size_mm: float) -> float:
        """Printed size (mm) on average."""
        return size_mm + self.offset_mm + self.slope * size_mm


@dataclass
class SimulatedPrinter:
    """Prints and measures features with known faults; one seed, one run."""

    faults: Mapping[FeatureKind, Fault]
    seed: int = 0
    _random: np.random.Generator = field(init=False, repr=False)

    def __post_init__(self) -> None:
        """Start the run."""
        self._random = np.random.default_rng(self.seed)

    def printed_mm(self, kind: FeatureKind, drawn_mm: float) -> float:
        """What a drawn size comes out as (mm)."""
        fault = self._fault(kind)
        return fault.expected_mm(drawn_mm) + float(self._random.normal(0.0, fault.scatter_mm))

    def measured(self, feature: CouponFeature) -> float:
        """One reading (mm) of a coupon's feature."""
        size = feature.nominal_mm
        if feature.kind is FeatureKind.LENGTH and not feature.from_bed:
            # Only the face on the bed is where the bed put it.
            return self.printed_mm(feature.kind, size) - self._fault(feature.kind).offset_mm
        if feature.kind is FeatureKind.CROWN:
            # The wall above a hole shrinks with the part and gains what the crown comes down.
            along = self._fault(FeatureKind.LENGTH).slope * (size + feature.hole_mm / 2)
            drop = self.printed_mm(feature.kind, feature.hole_mm) - feature.hole_mm
            return size + along + drop
        return self.printed_mm(feature.kind, size)

    def _fault(self, kind: FeatureKind) -> Fault:
        return self.faults.get(kind, Fault())

    def coupon(self) -> list[MeasuredFeature]:
        """A whole coupon, printed and measured."""
        return [MeasuredFeature(one, self.measured(one)) for one in coupon_features()]
