"""What the person at the printer chooses, kept in the folder's settings."""

from __future__ import annotations

from dataclasses import asdict, dataclass, fields, replace
from pathlib import Path

from borewright.bench.folder import Kind
from borewright.bench.page import Page
from borewright.bench.workbench import Workbench
from borewright.errors import BorewrightError
from borewright.tasks.printing.printing import PrintWishes


@dataclass(frozen=True)
class Wishes:
    """Printer and material by name or by a profile's file; lengths in mm."""

    printer: str = "tall frame"
    material: str = "plain PLA"
    measured: str = ""
    gauged: str = ""
    ream_bore_mm: float = 0.0
    ream_holes_mm: float = 0.0
    drawings: bool = True
    despite_faults: bool = False

    def of(self, bench: Workbench) -> PrintWishes:
        """The same for the print job; files of the folder as paths."""
        return PrintWishes(
            printer=_place(bench, self.printer),
            material=_place(bench, self.material),
            measured=self.sheets(bench),
            ream_bore_mm=self.ream_bore_mm,
            ream_hole_mm=self.ream_holes_mm,
            drawings=self.drawings,
            despite_faults=self.despite_faults,
        )

    def sheets(self, bench: Workbench) -> list[Path]:
        """The measured sheets that are chosen, as paths."""
        return [bench.folder.path(name) for name in (self.measured, self.gauged) if name]


def _place(bench: Workbench, name: str) -> str:
    return str(bench.folder.path(name)) if name.lower().endswith(".toml") else name


def wishes_of(page: Page) -> Wishes:
    """The wishes kept; what is no longer there goes back to the usual."""
    kept = page.workbench.settings.get("print")
    start = Wishes()
    known = {field.name: type(getattr(start, field.name)) for field in fields(Wishes)}
    good = {
        name: value
        for name, value in (kept if isinstance(kept, dict) else {}).items()
        if name in known and isinstance(value, known[name])
    }
    found = replace(start, **good)
    names = {each.name for each in page.workbench.files()}
    gone = {
        name: getattr(start, name)
        for name in ("printer", "material", "measured", "gauged")
        if (value := getattr(found, name)).endswith((".toml", ".csv")) and value not in names
    }
    return replace(found, **gone)


def keep(page: Page, **changes: object) -> None:
    """Keep a wish for the next time."""
    now = {**asdict(wishes_of(page)), **changes}
    page.save(lambda: page.workbench.set_setting("print", now, page))


def profiles(bench: Workbench) -> tuple[dict[str, str], dict[str, str]]:
    """Printers and materials to choose from: built-in ones, and profiles in the folder."""
    from borewright.printing import find_material, find_printer
    from borewright.printing.profiles import MATERIALS, PRINTERS

    printers, materials = {name: name for name in PRINTERS}, {name: name for name in MATERIALS}
    for file in bench.files(Kind.SETTINGS):
        for found, read in ((printers, find_printer), (materials, find_material)):
            try:
                profile = read(str(bench.folder.path(file.name)))
            except BorewrightError:
                continue  # a profile of the other kind, or no profile at all
            found[file.name] = f"{profile.name} ({file.name})"
            break
    return printers, materials


def sheets_of(bench: Workbench) -> tuple[list[str], list[str]]:
    """Tables of the folder that hold a coupon's measured sizes, and those of a gauged body."""
    from borewright.printing import read_gauged, read_measured

    found: tuple[list[str], list[str]] = ([], [])
    for file in bench.files(Kind.TABLE):
        for names, read in zip(found, (read_measured, read_gauged), strict=True):
            try:
                read(bench.folder.path(file.name))
            except BorewrightError:
                continue  # some other table, or a sheet without measurements
            names.append(file.name)
    return found
