"""Other ways of making with their prices, from a table that the maker writes."""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING

from borewright.errors import ModelError
from borewright.model import Spread
from borewright.model.dimensions import MEASURES
from borewright.model.files.tables import number, read_table
from borewright.words import say

if TYPE_CHECKING:
    from borewright.studies import Way

_REQUIRED = ("name", "measure", "each_mm")
_OPTIONAL = ("common_mm", "price_once", "price_each", "hours_each")
#: Two diameters are told apart in the table.
_WORDS = {str(words): measure for measure, words in MEASURES.items()}
_WORDS |= {measure.replace("_", " "): measure for measure in MEASURES}
_WORDS |= {"hole diameter": "diameter"}


@dataclass
class Offer:
    """A way of making and its price: once, for each instrument, and hours for each."""

    name: str
    scatter: dict[str, Spread] = field(default_factory=dict)
    once: Decimal = Decimal(0)
    each: Decimal = Decimal(0)
    hours: Decimal = Decimal(0)
    #: How many times as long the machine prints.
    print_time: Decimal = Decimal(1)

    @property
    def way(self) -> Way:
        """What it does to the scatter."""
        from borewright.studies import Way

        return Way(self.name, self.scatter)


def read_offers(path: Path) -> list[Offer]:
    """Offers of a CSV file: one row for every kind of dimension that an offer makes otherwise.

    Columns are ``name``, ``measure`` (as ``bore diameter``), ``each_mm``, and, where wanted,
    ``common_mm``, ``price_once``, ``price_each``, ``hours_each``; prices stand in any one row of
    an offer. Raises ModelError with the line of what cannot be.
    """
    found: dict[str, Offer] = {}
    for line, cells in read_table(path, _REQUIRED, _OPTIONAL):
        place = (str(path), say("line {line}", line=line))
        name, measure = cells["name"].strip(), cells["measure"].strip().lower()
        if not name:
            raise ModelError(
                say("the offer has no name"), place=(*place, "name"), remedy=say("Give it one.")
            )
        if measure not in _WORDS:
            raise ModelError(
                say("there is no measure '{measure}'", measure=measure[:40]),
                place=(*place, "measure"),
                remedy=say("Measures are: {measures}.", measures=", ".join(sorted(_WORDS))),
            )
        values = {
            key: number(cells[key].strip(), path, line, key) or 0.0
            for key in (*_REQUIRED[2:], *_OPTIONAL)
        }
        for key, value in values.items():
            if value < 0:
                raise ModelError(
                    say("{value:g} is below nothing", value=value),
                    place=(*place, key),
                    remedy=say("Write 0 or more."),
                )
        offer = found.setdefault(name, Offer(name))
        offer.scatter[_WORDS[measure]] = Spread(common=values["common_mm"], each=values["each_mm"])
        offer.once += Decimal(str(values["price_once"]))
        offer.each += Decimal(str(values["price_each"]))
        offer.hours += Decimal(str(values["hours_each"]))
    return list(found.values())
