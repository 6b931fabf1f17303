"""Whether a build will do: every counted note within so many cents, its barrel chosen."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from borewright.errors import ModelError
from borewright.model import Use, dimensions
from borewright.studies.plan import Study
from borewright.words import say


@dataclass(frozen=True)
class Rule:
    """What is asked of a build.

    ``within_cents``: no standard fingering may be further off. ``against_design`` counts from
    the design's own pitches, otherwise from the pitch standard. ``barrel_mm``: every instrument
    gets the barrel, up to so much shorter or longer, that suits it best (least squares, first
    order); 0 leaves it as it comes. Beyond ``beyond_cents`` nobody tunes a note by hand.
    """

    within_cents: float = 8.0
    against_design: bool = False
    barrel_mm: float = 0.0
    beyond_cents: float = 15.0

    def __post_init__(self) -> None:
        if not 0 < self.within_cents <= self.beyond_cents:
            raise ModelError(
                say(
                    "{within:g} cents within and {beyond:g} cents beyond do not go together",
                    within=self.within_cents,
                    beyond=self.beyond_cents,
                ),
                place=say("tolerance"),
                remedy=say("The first is above 0 and not above the second."),
            )
        if not 0 <= self.barrel_mm <= 20:
            raise ModelError(
                say("{barrel:g} mm is no choice of barrels", barrel=self.barrel_mm),
                place=say("barrel"),
                remedy=say("Write 0 to 20 mm."),
            )


class Judge:
    """A rule made ready for one study."""

    def __init__(self, study: Study, rule: Rule) -> None:
        self.rule = rule
        table = study.table.fingerings
        self.counted = np.array([n for n, f in enumerate(table) if f.use is Use.STANDARD])
        if not len(self.counted):
            raise ModelError(
                say("has no standard fingering to be judged by"),
                place=study.table.source or say("fingering table"),
                remedy=say("Mark the fingerings in daily use as standard in the table."),
            )
        self.names = [table[n].name for n in self.counted]
        nominal = study.nominal_cents[self.counted]
        if np.isnan(nominal).any():
            lost = [n for n, cents in zip(self.names, nominal, strict=True) if np.isnan(cents)]
            raise ModelError(
                say("the design itself lacks {notes}", notes=" ".join(lost)),
                place=study.instrument.name,
                remedy=say("Look at it with `borewright tune` first."),
            )
        self._reference = nominal if rule.against_design else np.zeros(len(nominal))
        self.nominal_cents = nominal
        self.nominal = nominal - self._reference
        self.slopes = study.slopes[self.counted]
        self._barrel = self._barrel_slope(study)

    def _barrel_slope(self, study: Study) -> np.ndarray:
        names = [part.name for part in study.instrument.parts]
        barrel = "barrel" if "barrel" in names else names[0]
        found = dimensions(study.instrument)
        column = next(
            n for n, one in enumerate(found) if one.measure == "length" and one.part == barrel
        )
        return np.asarray(study.slopes[self.counted, column])

    def deviations(self, cents: np.ndarray) -> np.ndarray:
        """Cents off [B, N] of the counted notes, barrels chosen, from cents [B, N] of them."""
        off = cents - self._reference
        if not self.rule.barrel_mm:
            return off
        slope = self._barrel
        best = -np.nan_to_num(off) @ slope / (slope @ slope)
        most = self.rule.barrel_mm
        chosen: np.ndarray = off + np.clip(best, -most, most)[:, None] * slope
        return chosen

    def off(self, deviations: np.ndarray) -> np.ndarray:
        """Which notes are outside the tolerance, [B, N]; a lost one is."""
        return self._further(deviations, self.rule.within_cents)

    def good(self, cents: np.ndarray) -> np.ndarray:
        """Which builds will do as they are, [B], from cents [B, N] of the counted notes."""
        outside = self.off(self.deviations(cents)).any(axis=1)
        return np.asarray(~outside)

    def beyond(self, deviations: np.ndarray) -> np.ndarray:
        """Which builds nobody can tune by hand, [B]."""
        return np.asarray(self._further(deviations, self.rule.beyond_cents).any(axis=1))

    @staticmethod
    def _further(deviations: np.ndarray, cents: float) -> np.ndarray:
        # A lost note, NaN, is not within anything.
        return np.asarray(~(np.abs(deviations) <= cents))
