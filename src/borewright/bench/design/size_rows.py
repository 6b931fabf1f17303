"""The rows of the table of dimensions."""

from __future__ import annotations

from typing import Any

from borewright.bench.design.limits import Range
from borewright.bench.widgets import Units
from borewright.bench.words import _
from borewright.model import Dimension, Instrument, dimensions, read_values


def size_groups(
    instrument: Instrument, limits: dict[int, Range], units: Units
) -> list[dict[str, Any]]:
    """Groups of rows, part by part: its length, its holes, its bore."""
    columns = {dimension: column for column, dimension in enumerate(dimensions(instrument))}
    values = read_values(instrument)

    def cell(dimension: Dimension) -> dict[str, Any]:
        column = columns[dimension]
        range_ = limits.get(column)
        words = ""
        if range_ is not None:
            words = _(
                "{low} ({low_words}) to {high} ({high_words})",
                low=units.shown(range_.low),
                low_words=_.tell(range_.low_words),
                high=units.shown(range_.high),
                high_words=_.tell(range_.high_words),
            )
        return {
            "column": column,
            "shown": units.shown(values[column]),
            "help": words,
            "beyond": bool(range_ and range_.beyond(values[column])),
        }

    groups = []
    for part in instrument.parts:
        rows: list[dict[str, Any]] = [
            {
                "name": part.name,
                "title": _("length"),
                "cells": [cell(Dimension(part.name, "length")), None, None],
            }
        ]
        for hole in part.holes:
            cells = [
                cell(Dimension(part.name, measure, hole=hole.name))
                for measure in ("station", "diameter", "chimney")
            ]
            rows.append({"name": hole.name, "title": hole.name, "cells": cells})
        for index in range(len(part.bore)):
            bore = [
                cell(Dimension(part.name, measure, index=index))
                for measure in ("bore_station", "bore_diameter")
            ]
            title = _("bore {number}", number=index + 1)
            rows.append(
                {"name": f"{part.name} {index + 1}", "title": title, "cells": [*bore, None]}
            )
        groups.append({"name": part.name, "rows": rows})
    return groups
