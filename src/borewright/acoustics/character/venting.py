"""What the register vent does: the first resonance displaced and weakened, the second kept.

The note of the upper register speaks when the second peak leads the first with the vent open,
and when the first, pushed out of line, can no longer help itself to the second (Benade,
"Fundamentals of Musical Acoustics", chapter 21, from memory; how a vent disturbs the twelfth:
Debut, Kergomard and Laloë, arXiv physics/0309051). Measured on peaks of |Z| as the reed sees
them, for every pair of fingerings that differ by the vent alone.
"""

from __future__ import annotations

import math

from borewright.model import Fingering, FingeringTable, ImpedancePeak, Twelfth, Venting
from borewright.words import Message, say

#: A first resonance so far from a third of the second no longer helps itself to it.
_OUT_OF_LINE_CENTS = 100.0


def vents_of(fingerings: FingeringTable, twelfths: list[Twelfth]) -> set[str]:
    """Holes that alone make twelfths of low notes."""
    by_name = {fingering.name: fingering for fingering in fingerings.fingerings}
    return {vent_between(by_name[each.low], by_name[each.high]) for each in twelfths}


def vent_between(low: Fingering, high: Fingering) -> str:
    """The one hole that ``high`` opens and ``low`` does not."""
    (vent,) = set(high.open_holes) - set(low.open_holes)
    return vent


def venting(
    low: Fingering,
    high: Fingering,
    shut: list[ImpedancePeak],
    vented: list[ImpedancePeak],
) -> Venting | None:
    """How well the vent serves, from the peaks of both fingerings; None with fewer than two."""
    if len(shut) < 2 or len(vented) < 2:
        return None
    first, second = vented[0], vented[1]
    advantage = second.height_db - first.height_db
    misalignment = 1200 * math.log2(3 * first.frequency_hz / second.frequency_hz)
    return Venting(
        vent=vent_between(low, high),
        low=low.name,
        high=high.name,
        first_shift_cents=_cents(first, shut[0]),
        first_loss_db=shut[0].height_db - first.height_db,
        second_shift_cents=_cents(second, shut[1]),
        second_loss_db=shut[1].height_db - second.height_db,
        advantage_db=advantage,
        misalignment_cents=misalignment,
        words=_words(advantage, misalignment),
    )


def _cents(peak: ImpedancePeak, other: ImpedancePeak) -> float:
    return 1200 * math.log2(peak.frequency_hz / other.frequency_hz)


def _words(advantage_db: float, misalignment_cents: float) -> Message:
    """Common practice: no study of players stands behind these limits."""
    if advantage_db >= 0:
        return say("the twelfth speaks readily")
    if abs(misalignment_cents) >= _OUT_OF_LINE_CENTS:
        return say("the twelfth speaks, the first resonance is out of line")
    return say("may fall back to the low note")
