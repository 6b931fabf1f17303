"""The calibration coupon as files, and a measured one read back."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from borewright.doors.columns import columns, signed
from borewright.doors.outputs import check_folder
from borewright.model import SolidsReport, write_text

if TYPE_CHECKING:
    from collections.abc import Iterator

    from borewright.printing import Calibration

SHEET = "coupon-sheet.csv"


@dataclass(frozen=True)
class MadeCoupon:
    """The coupon's solids, and the sheet for its measured sizes."""

    solids: SolidsReport
    sheet: Path

    def as_dict(self) -> dict[str, Any]:
        """For JSON."""
        return {
            **self.solids.model_dump(mode="json", by_alias=True),
            "sheet": str(self.sheet),
        }


def make_coupon(folder: Path, label: str = "") -> MadeCoupon:
    """Write the coupon's STEP, STL and 3MF and the sheet to type its measured sizes into.

    A sheet that is there already is left as it is: it may hold measurements.
    """
    check_folder(folder)
    from borewright.printing import coupon_instrument, coupon_posts, coupon_sheet
    from borewright.solids import export_solids

    instrument = coupon_instrument(label)
    solids = export_solids(instrument, folder, posts=coupon_posts(instrument))
    sheet = folder / SHEET
    if not sheet.exists():
        write_text(sheet, coupon_sheet())
    return MadeCoupon(solids, sheet)


def read_coupon(measured: Path, printer: str = "", material: str = "") -> Calibration:
    """What a measured coupon says of a printer and a material."""
    from borewright.printing import calibrate, read_measured

    return calibrate(read_measured(measured), printer, material)


def calibration_lines(calibration: Calibration) -> Iterator[str]:
    """A line a kind: offset and slope with their intervals, scatter, and what was refused."""
    rows = []
    for line in calibration.kinds:
        slope = "one size only"
        if line.slope_low is not None and line.slope_high is not None:
            slope = f"{signed(100 * line.slope, 2)} ({signed(100 * line.slope_low, 2)} to "
            slope += f"{signed(100 * line.slope_high, 2)})"
        rows.append(
            (
                line.kind.value,
                str(line.readings),
                f"{line.least_mm:g} to {line.most_mm:g}",
                f"{signed(line.offset_mm, 3)} ({signed(line.offset_low_mm, 3)} to "
                f"{signed(line.offset_high_mm, 3)})",
                slope,
                f"{line.scatter_mm:.3f}",
            )
        )
    yield "errors of this printer, mm: printed less drawn, with 95 % intervals"
    headings = ("kind", "readings", "sizes", "offset in the middle", "slope, %", "scatter")
    yield from columns(headings, rows, right=(1,))
    for kind, why in calibration.refused.items():
        yield f"  {kind.value}: not compensated, {why}"
