"""What moves when a key is pressed, laid out so that whoever shows it need only look it up."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from borewright.keywork.body import Body
from borewright.keywork.fingering import PAD_GIVES_MM, under_fingers
from borewright.keywork.mechanism import Mechanism
from borewright.keywork.pads import effective_lift_mm
from borewright.model import FingeringTable
from borewright.model.keys import Cup

#: Shares of a key's way from rest to pressed, and of a pad's from shut to open.
SHARES = tuple(float(share) for share in np.linspace(0.0, 1.0, 13))


@dataclass(frozen=True)
class Swings:
    """How all keys stand when some are pressed.

    ``ways[pressed][key]`` is the angle of a key (degrees from rest, at ``SHARES`` of the pressed
    key's way); of several that are pressed, each key follows the one that moves it furthest.
    ``lifts[hole]`` is the effective lift (mm) at ``SHARES`` of the pad's opening, ``opens`` that
    from which a hole counts as open. ``fingerings`` names pressed keys and covered holes.
    """

    ways: dict[str, dict[str, list[float]]]
    lifts: dict[str, list[float]]
    opens: float
    fingerings: dict[str, tuple[list[str], list[str]]]


def swings(mechanism: Mechanism, body: Body, table: FingeringTable | None = None) -> Swings:
    """Every key's way with all that it drives, every pad's lift, every fingering's keys."""
    rest = mechanism.rest
    ways: dict[str, dict[str, list[float]]] = {}
    for name in mechanism.turning:
        states = [mechanism.pressed([name], share) for share in SHARES]
        moved = [key for key in rest if any(abs(s[key] - rest[key]) > 1e-9 for s in states)]
        ways[name] = {key: [state[key] - rest[key] for state in states] for key in moved}
    lifts = {
        cup.hole: [
            effective_lift_mm(
                mechanism, body.rims[cup.hole], cup, share * mechanism.turning[cup.key].open_deg
            )
            for share in SHARES
        ]
        for cup in mechanism.keys.of(Cup)
    }
    fingerings = {}
    for fingering in table.fingerings if table is not None else ():
        covered, pressed = under_fingers(mechanism, body, fingering.pressed)
        fingerings[fingering.name] = (sorted(pressed), sorted(covered))
    return Swings(ways, lifts, PAD_GIVES_MM, fingerings)
