"""The calibration coupon as files, and a measured one read back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from borewright.model import SolidsReport, write_text
from borewright.tasks.outputs import check_folder
from borewright.tasks.progress import Cancel, Progress, parts_told
from borewright.words import ENGLISH, Reader

if TYPE_CHECKING:
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


def make_coupon(
    folder: Path,
    label: str = "",
    *,
    words: Reader = ENGLISH,
    progress: Progress | None = None,
    cancel: Cancel | None = None,
) -> MadeCoupon:
    """Write the coupon's STEP, STL and 3MF and the sheet to type its measured sizes into.

    A sheet that is there already is left as it is: it may hold measurements.
    ``words`` reads its notes; ``progress`` is told between the parts, ``cancel`` asked.
    """
    check_folder(folder)
    from borewright.printing import coupon_instrument, coupon_posts, coupon_sheet
    from borewright.solids import export_solids

    instrument = coupon_instrument(label)
    solids = export_solids(
        instrument, folder, parts_told(progress, cancel), posts=coupon_posts(instrument)
    )
    sheet = folder / SHEET
    if not sheet.exists():
        write_text(sheet, coupon_sheet(words=words, lot=label))
    return MadeCoupon(solids, sheet)


def read_coupon(
    measured: Path | Sequence[Path], printer: str = "", material: str = ""
) -> Calibration:
    """What measured coupons and gauged bodies of one lot say of a printer and a material."""
    from borewright.printing import calibrate, read_sheets

    readings = read_sheets([measured] if isinstance(measured, Path) else measured)
    lot = next((one.lot for one in readings if one.lot), "")
    return calibrate(readings, printer, material, lot)
