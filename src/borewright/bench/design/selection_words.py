"""What stands beside the drawing about the note or hole that is chosen."""

from __future__ import annotations

from borewright.bench.design.limits import Range
from borewright.bench.page import Page
from borewright.bench.widgets.units import decimal
from borewright.bench.words import _
from borewright.model import (
    Fingering,
    Instrument,
    SensitivityMap,
    TuningTable,
    dimensions,
    read_values,
)
from borewright.model.bores.dimension_words import dimension_words
from borewright.model.dimensions import MEASURES

_MOST = 4


def note_words(
    fingering: Fingering,
    instrument: Instrument,
    table: TuningTable | None,
    sensitivity: SensitivityMap | None,
) -> str:
    """Pitch of a note against its target, and what moves it most."""
    told = []
    found = next((n for n in table.notes if n.fingering == fingering.name), None) if table else None
    if found is not None and found.cents is not None and found.sounding_hz is not None:
        told.append(
            _(
                "{cents} cents: {sounding} Hz, should be {target} Hz.",
                cents=_.number(found.cents, "+.1f"),
                sounding=decimal(found.sounding_hz, 2),
                target=decimal(found.target_hz, 2),
            )
        )
    if found is not None and found.status != "ok":
        told.append(f"({_.tell(found.status)})")
    if sensitivity is not None and fingering.name in sensitivity.fingerings:
        row = sensitivity.cents_per_tenth_mm[sensitivity.fingerings.index(fingering.name)]
        pairs = sorted(
            zip(dimension_words(instrument), row, strict=True), key=lambda pair: -abs(pair[1])
        )
        words = "; ".join(f"{_.tell(of)} {_.number(cents, '+.2f')}" for of, cents in pairs[:_MOST])
        told.append(_("0.1 mm moves it most at: {words} cents.", words=words))
    return " ".join(told)


def hole_words(
    name: str,
    instrument: Instrument,
    limits: dict[int, Range],
    sensitivity: SensitivityMap | None,
    page: Page,
) -> str:
    """Sizes and limits of a hole or bore point, and the notes it moves most."""
    values = read_values(instrument)
    told = []
    columns = [
        (column, dimension)
        for column, dimension in enumerate(dimensions(instrument))
        if name in (dimension.hole, f"{dimension.part} {dimension.index + 1}")
    ]
    for column, dimension in columns:
        range_ = limits.get(column)
        if range_ is not None:
            told.append(
                _(
                    "{what} {value}, from {low} ({low_words}) to {high} ({high_words}).",
                    what=_.tell(MEASURES[dimension.measure]),
                    value=page.units.shown(values[column]),
                    low=page.units.shown(range_.low),
                    low_words=_.tell(range_.low_words),
                    high=page.units.shown(range_.high),
                    high_words=_.tell(range_.high_words),
                )
            )
    wide = [column for column, dimension in columns if "diameter" in dimension.measure]
    if sensitivity is not None and wide:
        pairs = sorted(
            (
                (note, row[wide[0]])
                for note, row in zip(
                    sensitivity.fingerings, sensitivity.cents_per_tenth_mm, strict=True
                )
            ),
            key=lambda pair: -abs(pair[1]),
        )
        words = "; ".join(f"{note} {_.number(cents, '+.2f')}" for note, cents in pairs[:_MOST])
        told.append(_("0.1 mm of its diameter moves most: {words} cents.", words=words))
    return " ".join(told)
