"""What is asked of a batch's study, and what it answers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING, Any

from borewright.model import Instrument
from borewright.model.results.yields import WayYield, YieldResult
from borewright.tasks.studies.money import Prices, WayCost
from borewright.tasks.studies.offers import Offer
from borewright.words import Message

if TYPE_CHECKING:
    from borewright.printing import Making


@dataclass(frozen=True)
class YieldWishes:
    """What is asked of a batch and how it is made (mm, cents, minutes).

    ``wanted_percent`` None allots no tolerances. ``nozzle_mm`` is another nozzle to judge, with
    what it costs once and, where they were measured, its own coupons. ``offers`` is a table of
    other ways. ``note_minutes``: what it takes by hand to put one note right.
    """

    within_cents: float = 8.0
    beyond_cents: float = 15.0
    against_design: bool = False
    barrel_mm: float = 0.0
    instruments: int = 12
    wanted_percent: float | None = 90.0
    builds: int = 2048
    seed: int = 1
    printer: str = "tall frame"
    measured: Sequence[Path] = ()
    reamed_bore_mm: float | None = None
    reamed_holes_mm: float | None = None
    nozzle_mm: float | None = None
    nozzle_price: Decimal = Decimal(0)
    nozzle_measured: Sequence[Path] = ()
    offers: Path | None = None
    note_minutes: Decimal = Decimal(15)


@dataclass(frozen=True)
class WayAnswer:
    """A way of making, its yield and its money; ``offers`` are what it takes together."""

    made: WayYield
    offers: list[Offer]
    cost: WayCost | None = None

    def as_dict(self) -> dict[str, Any]:
        """For JSON."""
        return {
            **self.made.model_dump(mode="json"),
            "cost": None if self.cost is None else self.cost.as_dict(),
        }


@dataclass(frozen=True)
class YieldAnswer:
    """A batch's yield, the ways judged beside it, and which to take.

    ``cheapest`` reaches the wanted yield at least cost, ``best`` costs the batch least in all;
    None where there are no offers, or none reaches it.
    """

    instrument: Instrument
    wishes: YieldWishes
    result: YieldResult
    now: WayAnswer
    ways: list[WayAnswer]
    cheapest: WayAnswer | None
    best: WayAnswer | None
    prices: Prices | None
    making: Making
    notes: list[Message] = field(default_factory=list)
    kept: Path | None = None
    files: list[Path] = field(default_factory=list)

    def as_dict(self) -> dict[str, Any]:
        """For JSON."""
        return {
            **self.result.model_dump(mode="json"),
            "good_percent": round(100 * self.result.good.value, 3),
            "making": self.making.scatter.model_dump(mode="json", exclude={"parameters"}),
            "now": self.now.as_dict(),
            "ways": [way.as_dict() for way in self.ways],
            "cheapest": self.cheapest and self.cheapest.as_dict(),
            "best": self.best and self.best.as_dict(),
            "currency": self.prices and self.prices.hour.currency,
            "notes": [str(note) for note in self.notes],
            "kept": self.kept and str(self.kept),
            "files": [str(path) for path in self.files],
        }
