"""A design's kept file read as an instrument again, and what needs its dimensions."""

from __future__ import annotations

import tempfile
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from borewright.ledger import KeySetUp, Ledger
    from borewright.model import Instrument, SensitivityMap


def instrument_of(book: Ledger, design: str) -> Instrument:
    """The instrument of a design, from exactly the file that was kept."""
    from borewright.model import load

    record = book.get("design", design)
    _, content = book.kept_file(str(record["file"]))
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "design.toml"
        path.write_bytes(content)
        return load(path)


def set_up_rows(
    book: Ledger, sample: str, design: str, sensitivity: SensitivityMap | None
) -> list[KeySetUp]:
    """The set-up sheet of a sample over the holes of a design."""
    from borewright.ledger import set_up_sheet

    instrument = instrument_of(book, design)
    diameters = {hole.name: hole.diameter_mm for _, hole, _ in instrument.placed_holes()}
    return set_up_sheet(book, sample, diameters, sensitivity)
