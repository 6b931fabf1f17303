"""What 1 cent allows of every size that a drawing tolerances, from the sensitivities."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING

from borewright.model import Instrument, Use
from borewright.tasks.inputs import fingerings_of

if TYPE_CHECKING:
    from borewright.documents import Tolerances


def pitch_tolerances(instrument: Instrument, file: Path) -> Tolerances:
    """The size change (mm) that moves the worst standard fingering by 1 cent, for each size.

    A whole bore counts as one size: a reamer is off everywhere alike. An instrument that names
    no fingerings has none of them. Raises ModelError where the table cannot be read.
    """
    from borewright.documents import Tolerances

    if not instrument.fingerings:
        return Tolerances()
    from borewright.acoustics import sensitivity

    table = fingerings_of(instrument, file)
    found = sensitivity(instrument, table)
    standard = {one.name for one in table.fingerings if one.use is Use.STANDARD}
    rows = [
        cents
        for name, cents in zip(found.fingerings, found.cents_per_tenth_mm, strict=True)
        if name in standard
    ]
    columns = found.columns

    def allowed(names: Iterable[str]) -> float | None:
        here = [columns[name] for name in names if name in columns]
        worst = max((abs(sum(row[at] for at in here)) for row in rows), default=0.0)
        # A note without a pitch has no figure, which is not greater than anything.
        return 0.1 / worst if worst > 0 else None

    holes, stations, bores, lengths = {}, {}, {}, {}
    for part in instrument.parts:
        for hole in part.holes:
            holes[hole.name] = allowed([f"{hole.name} diameter"])
            stations[hole.name] = allowed([f"{hole.name} station"])
        count = range(1, len(part.bore) + 1)
        bores[part.name] = allowed(f"{part.name} bore diameter {number}" for number in count)
        lengths[part.name] = allowed([f"{part.name} length"])
    return Tolerances(*(_known(each) for each in (holes, stations, bores, lengths)))


def _known(sizes: dict[str, float | None]) -> dict[str, float]:
    return {name: size for name, size in sizes.items() if size is not None}
