"""A printed body's inspection sheet, read back as what the printer did to every size drawn."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from borewright.errors import PrintingError
from borewright.model.files.tables import columns_of, number, read_table, read_text
from borewright.printing.coupon_features import CouponFeature, FeatureKind
from borewright.printing.measuring import MeasuredFeature, check_plausible, read_measured
from borewright.words import say

#: What the sheet of a body has in place of the coupon's features.
_REQUIRED = ("item", "part", "value", "kind", "drawn_mm")
_OPTIONAL = (
    "hole", "station_mm", "nominal_mm", "lower_mm", "upper_mm", "tool", "comment", "bed", "lot",
)  # fmt: skip


def read_gauged(path: Path | str) -> list[MeasuredFeature]:
    """Readings of a printed body against what was drawn; rows without kind or value are passed.

    A row without a kind is a size that the print alone does not decide: it is reamed. Raises
    ModelError or PrintingError with line and column.
    """
    path, found = Path(path), []
    for line, cells in read_table(path, _REQUIRED, _OPTIONAL):
        place = (str(path), say("line {line}", line=line))
        drawn = number(cells["drawn_mm"], path, line, "drawn_mm")
        value = number(cells["value"], path, line, "value")
        if not cells["kind"] or drawn is None or value is None:
            continue
        if cells["kind"] not in set(FeatureKind):
            raise PrintingError(
                say("'{kind}' is no kind of size", kind=cells["kind"][:40]),
                place=(*place, say("column '{column}'", column="kind")),
                remedy=say("Keep the kinds of the sheet."),
            )
        words = say("{part}, {item} {hole}", part=cells["part"], item=cells["item"],
                    hole=cells["hole"] or cells["station_mm"])  # fmt: skip
        feature = CouponFeature(
            feature=str(words).strip(),
            kind=FeatureKind(cells["kind"]),
            what=words,
            where=words,
            nominal_mm=drawn,
            from_bed=bool(cells["bed"]),
        )
        check_plausible(feature, value, (*place, say("column '{column}'", column="value")))
        found.append(MeasuredFeature(feature, value, " ".join(cells["lot"].split())))
    if not found:
        raise PrintingError(
            say("holds no measured size of a printed body"),
            place=(str(path), say("column '{column}'", column="value")),
            remedy=say(
                "Give the inspection.csv that came with the print, and write what was measured "
                "before reaming into 'value'."
            ),
        )
    return found


def read_sheets(paths: Sequence[Path | str]) -> list[MeasuredFeature]:
    """Readings of measured coupons and printed bodies together, of one lot of material.

    Raises ModelError or PrintingError; sheets of two lots are refused, for each lot shrinks in
    its own way.
    """
    found: list[MeasuredFeature] = []
    for path in paths:
        content = read_text(Path(path)).encode()
        gauged = "item" in columns_of(content)
        own = read_gauged(path) if gauged else read_measured(path)
        lots = {one.lot for one in [*found, *own] if one.lot}
        if len(lots) > 1:
            raise PrintingError(
                say("sheets of two lots are given: '{lots}'", lots="', '".join(sorted(lots))),
                place=(str(path), say("column '{column}'", column="lot")),
                remedy=say("Each lot shrinks in its own way: give the sheets of one of them."),
            )
        found += own
    return found
