"""The calibration coupon as files, and a measured one read back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from borewright.errors import PrintingError
from borewright.model import Instrument, SolidsReport, write_text
from borewright.tasks.progress import Cancel, Progress, parts_told
from borewright.tasks.staging import staged
from borewright.words import ENGLISH, Reader, say

if TYPE_CHECKING:
    from borewright.printing import Calibration, PrinterProfile
    from borewright.solids import Layout

SHEET = "coupon-sheet.csv"
#: The built-in printer with the least room: what stands on its bed fits the others.
SMALLEST = "small cube"


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
    printer: str = SMALLEST,
    *,
    words: Reader = ENGLISH,
    progress: Progress | None = None,
    cancel: Cancel | None = None,
) -> MadeCoupon:
    """Write the coupon's STEP, STL and 3MF and the sheet to type its measured sizes into.

    A sheet that is there already is left as it is: it may hold measurements. The 3MF files stand
    on the bed of ``printer`` (a profile's name or file) as the coupon is meant to be printed, and
    ``bed-1.3mf`` holds all parts. Raises PrintingError where they do not fit it.
    ``words`` reads its notes; ``progress`` is told between the parts, ``cancel`` asked.
    """
    from borewright.printing import coupon_sheet

    with staged(folder) as place:
        made = _make_coupon_into(place.aside, label, printer, progress=progress, cancel=cancel)
        if not (folder / SHEET).exists():
            write_text(place.aside / SHEET, coupon_sheet(words=words, lot=label))
    return place.moved(made)


def _make_coupon_into(
    folder: Path,
    label: str = "",
    printer: str = SMALLEST,
    *,
    progress: Progress | None = None,
    cancel: Cancel | None = None,
) -> MadeCoupon:
    from borewright.printing import coupon_instrument, coupon_posts, find_printer
    from borewright.solids import export_solids

    instrument = coupon_instrument(label)
    solids = export_solids(
        instrument,
        folder,
        parts_told(progress, cancel),
        posts=coupon_posts(instrument),
        layout=_layout(instrument, find_printer(printer)),
    )
    return MadeCoupon(solids, folder / SHEET)


def _layout(instrument: Instrument, printer: PrinterProfile) -> Layout:
    """The coupon's parts on the ends that its sheet tells, with brims where they are slender."""
    from borewright.printing import COUPON_DOWNS, plan_layout, plan_supports, standings

    chosen = []
    for part in instrument.parts:
        found = standings(instrument, part, printer)
        one = next(each for each in found if each.down is COUPON_DOWNS[part.name])
        if not one.fits:
            raise PrintingError(
                say(
                    "'{part}' is {height_mm:.0f} mm tall and {across_mm:.0f} mm wide, more than "
                    "the printer's room",
                    part=part.name,
                    height_mm=one.height_mm,
                    across_mm=one.across_mm,
                ),
                place=say("printer '{printer}'", printer=printer.name),
                remedy=say("Take a printer with more room: errors of a smaller coupon tell less."),
            )
        chosen.append(one)
    supports = {
        one.part: plan_supports(instrument, instrument.part(one.part), one, printer)
        for one in chosen
    }
    return plan_layout(chosen, printer, {}, supports)


def read_coupon(
    measured: Path | Sequence[Path], printer: str = "", material: str = ""
) -> Calibration:
    """What measured coupons and gauged bodies of one lot say of a printer and a material."""
    from borewright.printing import calibrate, read_sheets

    readings = read_sheets([measured] if isinstance(measured, Path) else measured)
    lot = next((one.lot for one in readings if one.lot), "")
    return calibrate(readings, printer, material, lot)
