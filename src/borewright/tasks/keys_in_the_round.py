"""Keys on their body as shapes that turn: what a page needs to show them and let them swing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from borewright.model import FingeringTable, Instrument, KeySet
from borewright.model.results.key_figures import KeyFigures
from borewright.words import Message, say

if TYPE_CHECKING:
    import numpy as np

    from borewright.keywork.section import PadSection
    from borewright.keywork.swings import Swings

#: A pad that slides further than this (mm) opens its hole noticeably otherwise than it lifts.
_ASIDE_MM = 2.0


@dataclass(frozen=True)
class ShownKey:
    """A key: triangles (n, 3, 3) by what they are made of, and the line about which it turns (mm).

    Angles in degrees from shut; ``facts`` say how it moves and what a finger feels.
    """

    name: str
    turning: dict[str, np.ndarray]
    fixed: np.ndarray
    origin: np.ndarray
    axis: np.ndarray
    open_deg: float
    rest_deg: float
    facts: list[Message]


@dataclass(frozen=True)
class ShownHole:
    """A hole: triangles of its face and chimney, the key over it, and whether that has a pad."""

    name: str
    face: np.ndarray
    chimney: np.ndarray | None
    key: str
    pad: bool


@dataclass(frozen=True)
class KeysInTheRound:
    """Everything that is shown, in the keys' frame: x down the axis, y to the left, z front."""

    length_mm: float
    bodies: dict[str, np.ndarray]
    holes: list[ShownHole]
    keys: list[ShownKey]
    sections: list[PadSection]
    swings: Swings


def keys_in_the_round(
    instrument: Instrument, keys: KeySet, table: FingeringTable | None
) -> KeysInTheRound:
    """Shapes, swings and sections of all keys; a second or so.

    Raises ModelError or KeyworkError where keys, instrument and table do not belong together.
    """
    import numpy as np

    from borewright.keywork import Body, Mechanism, key_figures
    from borewright.keywork.facets import body_facets, chimney_facets, facets, hole_facets
    from borewright.keywork.pieces import pieces_of
    from borewright.keywork.section import pad_section
    from borewright.keywork.swings import swings
    from borewright.model.keys import Cup

    keys.check_against(instrument)
    mechanism, body = Mechanism(keys, instrument), Body(instrument)
    facts = {key.key: _facts(key) for key in key_figures(mechanism, body)}
    shown = []
    for name, turning in mechanism.turning.items():
        moving: dict[str, list[np.ndarray]] = {}
        fixed = [np.empty((0, 3, 3))]
        for piece in pieces_of(mechanism, name):
            target = moving.setdefault(piece.stuff.value, []) if piece.turns else fixed
            target.append(facets(piece))
        shown.append(
            ShownKey(
                name,
                {stuff: np.concatenate(several) for stuff, several in moving.items()},
                np.concatenate(fixed),
                turning.origin,
                turning.axis,
                turning.open_deg,
                turning.rest_deg,
                facts[name],
            )
        )
    wall = instrument.fit.chimney_wall_mm
    holes = [
        ShownHole(
            name,
            hole_facets(rim),
            chimney_facets(rim, wall) if rim.hole.chimney_mm > 0 else None,
            over.key if (over := keys.over(name)) else "",
            isinstance(over, Cup),
        )
        for name, rim in body.rims.items()
    ]
    return KeysInTheRound(
        instrument.length_mm,
        {part.name: body_facets(body, part.name) for part in instrument.parts},
        holes,
        shown,
        [pad_section(mechanism, body, cup) for cup in keys.of(Cup)],
        swings(mechanism, body, table),
    )


def _facts(key: KeyFigures) -> list[Message]:
    found = []
    if key.hole is not None:
        found.append(
            say(
                "pad {hole}: lift {lift_mm:.2f} mm, at its edges {near_mm:.2f} and {far_mm:.2f}, "
                "as good as an even {effective_mm:.2f}",
                hole=key.hole,
                lift_mm=key.lift_mm,
                near_mm=key.near_mm,
                far_mm=key.far_mm,
                effective_mm=key.effective_mm,
            )
        )
        if key.slid_mm is not None and key.slid_mm > _ASIDE_MM:
            found.append(
                say(
                    "open, the pad stands {slid_mm:.1f} mm aside of its hole, "
                    "which opens it further than it lifts",
                    slid_mm=key.slid_mm,
                )
            )
    if key.lost_mm is not None:
        found.append(
            say(
                "touch: travel {travel_mm:.2f} mm, lost motion {lost_mm:.2f}",
                travel_mm=key.travel_mm,
                lost_mm=key.lost_mm,
            )
        )
    if key.rest_g is not None:
        found.append(
            say(
                "force: {rest_g:.0f} g at rest, {end_g:.0f} g at the end, {friction_g:.0f} g of it "
                "friction",
                rest_g=key.rest_g,
                end_g=key.end_g,
                friction_g=key.friction_g,
            )
        )
    return found
