"""Measured coupons, read from the sheet; what cannot be a measure is refused with its place."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from borewright.errors import PrintingError
from borewright.model.files.tables import number, read_table
from borewright.printing.coupon_features import CouponFeature, coupon_features
from borewright.words import Place, Text, say

#: A printed size further off than this (mm, or this share of it) is a slip of the pen.
_FAR_MM, _FAR_SHARE = 1.0, 0.15


@dataclass(frozen=True)
class MeasuredFeature:
    """A feature of the coupon or of a body, and one reading of it (mm)."""

    feature: CouponFeature
    measured_mm: float
    lot: str = ""

    @property
    def error_mm(self) -> float:
        """Measured less nominal (mm)."""
        return self.measured_mm - self.feature.nominal_mm


def read_measured(path: Path | str) -> list[MeasuredFeature]:
    """All readings of a measured sheet; empty lines are features not measured.

    Raises ModelError or PrintingError with line and column for an unknown feature, a changed
    kind or nominal size, something that is not a number, or a size that cannot be.
    """
    path = Path(path)
    known = {one.feature: one for one in coupon_features()}
    readings = []
    rows = read_table(
        path, ("feature", "measured_mm"), ("kind", "where", "nominal_mm", "comment", "lot")
    )
    for line, cells in rows:
        place = (str(path), say("line {line}", line=line))
        name = " ".join(cells["feature"].split())
        if name not in known:
            raise PrintingError(
                say("the coupon has no feature '{feature}'", feature=name[:60]),
                place=(*place, say("column '{column}'", column="feature")),
                remedy=say("Keep the names of the sheet that came with the coupon."),
            )
        feature = known[name]
        if cells["kind"] and cells["kind"] != feature.kind.value:
            raise PrintingError(
                say(
                    "'{feature}' is a '{kind}', not a '{found}'",
                    feature=name,
                    kind=feature.kind.value,
                    found=cells["kind"][:40],
                ),
                place=(*place, say("column '{column}'", column="kind")),
                remedy=say("Keep the kinds of the sheet."),
            )
        nominal = number(cells["nominal_mm"], path, line, "nominal_mm")
        if nominal is not None and abs(nominal - feature.nominal_mm) > 1e-6:
            raise PrintingError(
                say(
                    "the nominal size of '{feature}' is {nominal_mm:g} mm, not {found_mm:g}",
                    feature=name,
                    nominal_mm=feature.nominal_mm,
                    found_mm=nominal,
                ),
                place=(*place, say("column '{column}'", column="nominal_mm")),
                remedy=say("Measured sizes go into measured_mm; leave nominal_mm as it was."),
            )
        value = number(cells["measured_mm"], path, line, "measured_mm")
        if value is None:
            continue
        column = say("column '{column}'", column="measured_mm")
        check_plausible(feature, value, (*place, column))
        readings.append(MeasuredFeature(feature, value, " ".join(cells["lot"].split())))
    if not readings:
        raise PrintingError(
            say("holds no measured size"),
            place=(str(path), say("column '{column}'", column="measured_mm")),
            remedy=say("Print the coupon, measure it, and type the sizes in mm."),
        )
    return readings


def check_plausible(feature: CouponFeature, value: float, place: Text | Place) -> None:
    """PrintingError where a reading (mm) cannot be of this feature: a slip, or inches."""
    off = abs(value - feature.nominal_mm)
    if value > 0 and off <= max(_FAR_MM, _FAR_SHARE * feature.nominal_mm):
        return
    hint = say("Look for a lost decimal point, or two lines swapped.")
    if value > 0 and abs(value * 25.4 - feature.nominal_mm) <= _FAR_MM:
        hint = say(
            "That looks like inches: {inches:g} in are {value_mm:.2f} mm.",
            inches=value,
            value_mm=value * 25.4,
        )
    raise PrintingError(
        say(
            "'{feature}' is nominally {nominal_mm:g} mm, and {value_mm:g} mm was typed",
            feature=feature.feature,
            nominal_mm=feature.nominal_mm,
            value_mm=value,
        ),
        place=place,
        remedy=hint,
    )
