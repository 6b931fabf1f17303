"""Warmth and water: how the play between posts changes while the rod between them does not.

Coefficients of thermal expansion are from memory; measure the print's own.
"""

from __future__ import annotations

from dataclasses import dataclass

from borewright.keywork.hinges import end_play_mm
from borewright.keywork.mechanism import Mechanism
from borewright.model.keys import Hinge

#: End play (mm) from which a key is heard and its pad wanders (from memory).
RATTLES_MM = 0.10
#: Linear expansion per kelvin (from memory): printed PLA, nickel silver of tubes and rods.
BODY_PER_K = 68e-6
ROD_PER_K = 17e-6


def play_change_mm(
    length_mm: float,
    kelvin: float,
    *,
    body_per_k: float = BODY_PER_K,
    rod_per_k: float = ROD_PER_K,
    swelling: float = 0.0,
) -> float:
    """Change (mm) of the play between two posts ``length_mm`` apart.

    (α_body − α_rod) L ΔT, and the body's swelling by water as a share of its length. A body
    that grows more than its rods rattles when warm and binds when cold.
    """
    return (body_per_k - rod_per_k) * length_mm * kelvin + swelling * length_mm


def cooling_that_binds_k(
    play_mm: float,
    length_mm: float,
    *,
    body_per_k: float = BODY_PER_K,
    rod_per_k: float = ROD_PER_K,
) -> float:
    """Cooling (K) after which the play is gone; infinite where the body grows no more than it."""
    shrinking = (body_per_k - rod_per_k) * length_mm
    return play_mm / shrinking if shrinking > 0 else float("inf")


@dataclass(frozen=True)
class PlayRange:
    """A hinge's end play (mm) as it is fitted, and at the coldest and warmest of use.

    ``length_mm`` is what lies along the body; a hinge across hardly changes. ``binds_below_c`` is
    the temperature at which no play is left, ``rattles_above_c`` that at which ``RATTLES_MM`` is
    passed; None where that never happens between the two.
    """

    hinge: str
    length_mm: float
    fitted_mm: float
    cold_mm: float
    warm_mm: float
    binds_below_c: float | None
    rattles_above_c: float | None


def play_ranges(
    mechanism: Mechanism,
    *,
    fitted_c: float = 21.0,
    cold_c: float = 0.0,
    warm_c: float = 30.0,
    swelling: float = 0.0,
    body_per_k: float = BODY_PER_K,
    rod_per_k: float = ROD_PER_K,
) -> list[PlayRange]:
    """How the end play of every hinge changes from the coldest to the warmest of use.

    ``swelling`` is what water adds to the body, as a share of its length, at any temperature.
    """
    found = []
    for name in dict.fromkeys(hinge.hinge for hinge in mechanism.keys.of(Hinge)):
        tubes = [hinge for hinge in mechanism.keys.of(Hinge) if hinge.hinge == name]
        posts = mechanism.keys.posts_of(name)
        ends = [mechanism.points[post.name][1] for post in posts]
        length = abs(float(ends[-1][0] - ends[0][0]))
        play = end_play_mm(mechanism, tubes, posts)

        def at(kelvin: float, length: float = length, play: float = play) -> float:
            return play + play_change_mm(
                length, kelvin, body_per_k=body_per_k, rod_per_k=rod_per_k, swelling=swelling
            )

        per_k = (body_per_k - rod_per_k) * length
        binds = fitted_c - at(0.0) / per_k if per_k > 0 else None
        rattles = fitted_c + (RATTLES_MM - at(0.0)) / per_k if per_k > 0 else None
        found.append(
            PlayRange(
                hinge=name,
                length_mm=length,
                fitted_mm=play,
                cold_mm=at(cold_c - fitted_c),
                warm_mm=at(warm_c - fitted_c),
                binds_below_c=binds if binds is not None and binds > cold_c else None,
                rattles_above_c=rattles if rattles is not None and rattles < warm_c else None,
            )
        )
    return found
