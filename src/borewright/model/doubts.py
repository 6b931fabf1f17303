"""How sure the owner is of sizes, climate and player: what error bars are made of."""

from __future__ import annotations

from pydantic import Field

from borewright.model.base import Entity, NotNegative
from borewright.model.bounds import SpreadMeasure


class Spread(Entity):
    """Standard deviations of one kind of dimension (mm).

    ``common`` shifts all dimensions of the kind together, as a printer that prints holes small
    does; ``each`` scatters them one by one.
    """

    common: SpreadMeasure = 0.0
    each: SpreadMeasure = 0.0


class Doubts(Entity):
    """Standard deviations of everything a prediction rests on.

    Dimensions by kind (mm): the defaults are a printed and reamed body, measured by callipers
    (from memory; a calibration coupon replaces them). Climate and player: a careful player in
    a heated room (from memory; takes replace them). ``model_cents`` is the error of the model
    level itself; None is what was measured of the level used, against the level above.
    """

    station: Spread = Spread(each=0.05)
    diameter: Spread = Spread(common=0.04, each=0.04)
    chimney: Spread = Spread(common=0.03, each=0.05)
    into_bore: Spread = Spread(each=0.1)
    lift: Spread = Spread(common=0.1, each=0.15)
    undercut_diameter: Spread = Spread(common=0.05, each=0.05)
    undercut_depth: Spread = Spread(each=0.1)
    length: Spread = Spread(each=0.05)
    bore_station: Spread = Spread(each=0.1)
    bore_diameter: Spread = Spread(common=0.03, each=0.02)
    bore_length: Spread = Spread(each=0.2)
    parameters: dict[str, NotNegative] = Field(
        default={
            "room temperature": 1.0,
            "reed-end temperature": 0.7,
            "temperature decay length": 60.0,
            "relative humidity": 0.08,
            "carbon dioxide": 0.006,
            "pressure": 800.0,
            "reed equivalent volume": 150.0,
            "reed resonance": 150.0,
            "reed damping": 0.08,
            "mouthpiece chamber": 80.0,
            "wall loss factor": 0.05,
        }
    )
    model_cents: NotNegative | None = None

    def of(self, measure: str) -> Spread:
        """Spread of a dimension's measure, such as ``diameter`` or ``bore_diameter``."""
        found: Spread = getattr(self, measure)
        return found
