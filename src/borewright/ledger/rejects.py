"""How many pieces fail, learned from the print jobs recorded, with how sure that is."""

from __future__ import annotations

import math
from dataclasses import dataclass
from decimal import Decimal

from borewright.errors import LedgerError
from borewright.words import Message, say


@dataclass(frozen=True)
class RejectRate:
    """Rejected among finished jobs, with a 95 % interval (E. B. Wilson, 1927, score interval)."""

    rejected: int
    finished: int
    lowest: float
    highest: float

    @property
    def rate(self) -> Decimal:
        """The share that failed; zero where nothing was finished yet."""
        return Decimal(self.rejected) / self.finished if self.finished else Decimal(0)

    @property
    def words(self) -> Message:
        """The rate in a line."""
        if not self.finished:
            return say("no finished print jobs yet, so no rejects are allowed for")
        return say(
            "{rejected} of {finished} jobs rejected, {percent:.1f} % "
            "(95 % interval {lowest:.1f} to {highest:.1f} %)",
            rejected=self.rejected,
            finished=self.finished,
            percent=self.rate * 100,
            lowest=self.lowest * 100,
            highest=self.highest * 100,
        )


def reject_rate(rejected: int, finished: int) -> RejectRate:
    """Rate and interval from counts; LedgerError where all failed or the counts are not sound."""
    if not 0 <= rejected <= finished:
        raise LedgerError(
            say("{rejected} of {finished} cannot be", rejected=rejected, finished=finished),
            place=say("reject rate"),
            remedy=say("Look at the outcomes of the print jobs."),
        )
    if finished and rejected == finished:
        raise LedgerError(
            say(
                "all {finished} finished jobs were rejected, so no cost of a good one is known",
                finished=finished,
            ),
            place=say("reject rate"),
            remedy=say("Record a good print job first."),
        )
    if not finished:
        return RejectRate(0, 0, 0.0, 1.0)
    z = 1.959963984540054  # the normal distribution's 97.5 % point
    share = rejected / finished
    middle = (share + z**2 / (2 * finished)) / (1 + z**2 / finished)
    half = z / (1 + z**2 / finished)
    half *= math.sqrt(share * (1 - share) / finished + z**2 / (4 * finished**2))
    return RejectRate(rejected, finished, max(0.0, middle - half), min(1.0, middle + half))
