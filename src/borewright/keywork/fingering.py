"""What fingers really open and close: the fingering table derived from the keys."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from borewright.errors import KeyworkError
from borewright.keywork.body import Body
from borewright.keywork.mechanism import Mechanism
from borewright.keywork.pads import effective_lift_mm
from borewright.model import Cover, FingeringTable
from borewright.model.keys import Cup, Ring
from borewright.words import listed, say

#: A pad counts as shut where so much (mm) is left under it: its skin gives so far (from memory).
PAD_GIVES_MM = 0.1


@dataclass(frozen=True)
class Pressed:
    """What the fingers do to the holes: which are open, and each pad's effective lift (mm)."""

    open_holes: frozenset[str]
    lifts_mm: dict[str, float]


@dataclass(frozen=True)
class FingeringDifference:
    """A fingering whose holes the keys do not open and close as the table says."""

    fingering: str
    row: int
    pressed: tuple[str, ...]
    stays_open: tuple[str, ...]
    stays_shut: tuple[str, ...]


def under_fingers(
    mechanism: Mechanism, body: Body, names: Iterable[str]
) -> tuple[set[str], set[str]]:
    """Which finger holes are covered and which keys pressed.

    ``names`` are finger holes that are covered (a ring there goes down with the finger) and
    keys whose touch is pressed. Raises KeyworkError for a name that is neither.
    """
    covered, pressed = set(), set()
    rings = {ring.hole: ring.key for ring in mechanism.keys.of(Ring)}
    for name in names:
        rim = body.rims.get(name)
        if rim is not None and rim.hole.cover is not Cover.PAD:
            covered.add(name)
            if name in rings:
                pressed.add(rings[name])
        elif name in mechanism.turning:
            pressed.add(name)
        else:
            fingers = [n for n, rim in body.rims.items() if rim.hole.cover is not Cover.PAD]
            raise KeyworkError(
                say("'{name}' is neither a finger hole nor a key", name=name),
                remedy=say(
                    "Finger holes are {holes}; keys are {keys}.",
                    holes=listed(fingers),
                    keys=listed(mechanism.keys.keys),
                ),
            )
    return covered, pressed


def press(mechanism: Mechanism, body: Body, names: Iterable[str]) -> Pressed:
    """Which holes are open when fingers cover holes and press keys, as in :func:`under_fingers`."""
    covered, pressed = under_fingers(mechanism, body, names)
    state = mechanism.pressed(pressed)
    lifts = {
        cup.hole: effective_lift_mm(mechanism, body.rims[cup.hole], cup, state[cup.key])
        for cup in mechanism.keys.of(Cup)
    }
    opened = {hole for hole, lift in lifts.items() if lift > PAD_GIVES_MM}
    opened |= {
        name
        for name, rim in body.rims.items()
        if rim.hole.cover is not Cover.PAD and name not in covered
    }
    return Pressed(frozenset(opened), lifts)


def fingering_differences(
    mechanism: Mechanism, body: Body, table: FingeringTable
) -> list[FingeringDifference]:
    """Every fingering that the keys finger otherwise than the table says.

    A row with nothing pressed is compared with all keys at rest. A table that never says what
    is pressed cannot be compared: no differences.
    """
    if not any(fingering.pressed for fingering in table.fingerings):
        return []
    found = []
    for index, fingering in enumerate(table.fingerings):
        given = set(fingering.open_holes)
        really = press(mechanism, body, fingering.pressed).open_holes
        if really != given:
            order = list(body.rims)
            found.append(
                FingeringDifference(
                    fingering=fingering.name,
                    row=index,
                    pressed=fingering.pressed,
                    stays_open=tuple(n for n in order if n in really - given),
                    stays_shut=tuple(n for n in order if n in given - really),
                )
            )
    return found
