"""The set-up sheet: pad lifts, levers and touches of one keywork set."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from borewright.errors import LedgerError
from borewright.ledger.kinds.buying import Lever, Rest
from borewright.ledger.store import Ledger
from borewright.model import SensitivityMap
from borewright.model.results.key_figures import KeyFigures
from borewright.words import Message, joined, say

#: A pad should rise by at least this share of its hole's diameter (a published rule of the
#: trade's handbooks; less flattens and dulls the note).
LIFT_SHARE = 1 / 3

#: End play along a hinge in mm, and touch force in grams by rest (from memory).
END_PLAY_MM = (0.02, 0.05)
TOUCH_FORCE_G = {Rest.CLOSED: (45.0, 70.0), Rest.OPEN: (25.0, 40.0)}
#: How far a lift may be off what the mechanism gives (mm), and a force (share; from memory).
LIFT_OFF_MM, FORCE_OFF = 0.2, 0.15


@dataclass(frozen=True)
class KeySetUp:
    """One key: what was measured, what follows from it, and what to put right.

    Travel and force at the touch follow from the lever: the touch moves ``touch_arm/pad_arm``
    times as far as the pad, and the finger needs ``pad_arm/touch_arm`` times the spring's force.
    What the mechanism gives stands beside as ``wanted``, where the set's key survey is kept.
    """

    key: str
    hole: str
    rest: Rest
    hole_diameter_mm: float
    least_lift_mm: float
    lift_mm: float | None
    pitch_effect_cents: float | None
    pitch_effect_note: str
    lever_ratio: float
    touch_travel_mm: float | None
    touch_force_g: float | None
    touch_height_mm: float | None
    touch_limits_mm: tuple[float | None, float | None]
    end_play_mm: float | None
    remarks: tuple[Message, ...] = ()
    wanted_lift_mm: float | None = None
    wanted_travel_mm: float | None = None
    wanted_force_g: float | None = None
    wanted_height_mm: float | None = None
    wanted_play_mm: float | None = None


def set_up_sheet(
    ledger: Ledger,
    sample: str,
    hole_diameters_mm: Mapping[str, float],
    sensitivity: SensitivityMap | None = None,
    figures: Sequence[KeyFigures] = (),
) -> list[KeySetUp]:
    """Every lever of a sample, in the order entered; then keys that only the mechanism knows.

    Parameters
    ----------
    ledger, sample
        Where the levers were recorded, and for which set.
    hole_diameters_mm
        Diameter of every hole of the design, by name.
    sensitivity
        With it, the pitch effect of the lift as it is against the least lift is computed for
        the note that feels it most.
    figures
        What the mechanism says of the sample's keys on the design's body.

    Raises
    ------
    LedgerError
        Where the sample has no levers, or one covers a hole that the design does not have.
    """
    ledger.get("sample", sample)
    rows = ledger.every(Lever, {"sample": sample})
    if not rows and not figures:
        raise LedgerError(
            say("no levers of sample '{sample}' are recorded", sample=sample),
            place=say("set-up sheet"),
            remedy=say("Enter them in the table of levers, or keep the set's key survey with it."),
        )
    wanted = {one.hole: one for one in figures if one.hole is not None}
    found = [_key(row, hole_diameters_mm, sensitivity, wanted.pop(row.hole, None)) for row in rows]
    return found + [_only_wanted(one, hole_diameters_mm) for one in wanted.values()]


def _only_wanted(one: KeyFigures, diameters: Mapping[str, float]) -> KeySetUp:
    """A key that nobody has measured on the bench yet: what it should come to."""
    hole = one.hole or ""
    return KeySetUp(
        key=one.key,
        hole=hole,
        rest=Rest(one.rest.value),
        hole_diameter_mm=diameters[hole],
        least_lift_mm=diameters[hole] * LIFT_SHARE,
        lift_mm=None,
        pitch_effect_cents=None,
        pitch_effect_note="",
        lever_ratio=one.ratio or 1.0,
        touch_travel_mm=None,
        touch_force_g=None,
        touch_height_mm=None,
        touch_limits_mm=(None, None),
        end_play_mm=None,
        wanted_lift_mm=one.lift_mm,
        wanted_travel_mm=one.travel_mm,
        wanted_force_g=one.rest_g,
        wanted_height_mm=one.height_mm,
        wanted_play_mm=one.play_mm,
    )


def _key(
    row: Lever,
    diameters: Mapping[str, float],
    sensitivity: SensitivityMap | None,
    wanted: KeyFigures | None,
) -> KeySetUp:
    hole = row.hole
    if hole not in diameters:
        raise LedgerError(
            say("covers hole '{hole}', which the design does not have", hole=hole),
            place=(say("set-up sheet"), row.key),
            remedy=say("Holes are: {holes}.", holes=joined(diameters, ", ")),
        )
    least = diameters[hole] * LIFT_SHARE
    lift, spring = row.lift_mm, row.spring_at_pad_g
    ratio = row.touch_arm_mm / row.pad_arm_mm
    effect, note = None, ""
    if lift is not None and sensitivity is not None:
        effect, note = _pitch_effect(hole, lift - least, sensitivity)
    key = KeySetUp(
        key=row.key,
        hole=hole,
        rest=row.rest,
        hole_diameter_mm=diameters[hole],
        least_lift_mm=least,
        lift_mm=lift,
        pitch_effect_cents=effect,
        pitch_effect_note=note,
        lever_ratio=ratio,
        touch_travel_mm=None if lift is None else lift * ratio,
        touch_force_g=None if spring is None else spring / ratio,
        touch_height_mm=row.touch_height_mm,
        touch_limits_mm=(row.lowest_touch_mm, row.highest_touch_mm),
        end_play_mm=row.end_play_mm,
        wanted_lift_mm=wanted.lift_mm if wanted else None,
        wanted_travel_mm=wanted.travel_mm if wanted else None,
        wanted_force_g=wanted.rest_g if wanted else None,
        wanted_height_mm=wanted.height_mm if wanted else None,
        wanted_play_mm=wanted.play_mm if wanted else None,
    )
    return replace(key, remarks=tuple(_remarks(key)))


def _pitch_effect(
    hole: str, off_mm: float, sensitivity: SensitivityMap
) -> tuple[float | None, str]:
    column = sensitivity.columns.get(f"{hole} lift")
    if column is None:
        return None, ""
    effects = [row[column] * 10 * off_mm for row in sensitivity.cents_per_tenth_mm]
    most = max(range(len(effects)), key=lambda index: abs(effects[index]))
    return effects[most], sensitivity.fingerings[most]


def _remarks(key: KeySetUp) -> list[Message]:
    said = []
    # A hundredth of a millimetre is below what a feeler gauge tells.
    if key.lift_mm is not None and key.lift_mm < key.least_lift_mm - 0.01:
        by_mm = key.least_lift_mm - key.lift_mm
        said.append(say("raise the lift by {by_mm:.2f} mm", by_mm=by_mm))
    elif key.lift_mm is not None and key.wanted_lift_mm is not None:
        off_mm = key.lift_mm - key.wanted_lift_mm
        if abs(off_mm) > LIFT_OFF_MM:
            said.append(say("set the lift to {mm:.2f} mm, as the keys give", mm=key.wanted_lift_mm))
    if key.touch_force_g is not None and key.wanted_force_g is not None:
        off = key.touch_force_g / key.wanted_force_g - 1
        if abs(off) > FORCE_OFF:
            said.append(
                say("its spring should give {grams:.0f} g at the touch", grams=key.wanted_force_g)
            )
    elif key.touch_force_g is not None:
        low, high = TOUCH_FORCE_G[key.rest]
        span = {"low": low, "high": high}
        if key.touch_force_g < low:
            said.append(say("set the spring heavier, {low:g} to {high:g} g at the touch", **span))
        elif key.touch_force_g > high:
            said.append(say("set the spring lighter, {low:g} to {high:g} g at the touch", **span))
    low_mm, high_mm = key.touch_limits_mm
    if key.touch_height_mm is not None:
        if low_mm is not None and key.touch_height_mm < low_mm:
            said.append(say("touch is below the owner's {limit_mm:g} mm", limit_mm=low_mm))
        if high_mm is not None and key.touch_height_mm > high_mm:
            said.append(say("touch is above the owner's {limit_mm:g} mm", limit_mm=high_mm))
    if key.end_play_mm is not None:
        if key.end_play_mm < END_PLAY_MM[0]:
            said.append(say("free the hinge, it will bind when the body swells"))
        elif key.end_play_mm > END_PLAY_MM[1]:
            said.append(say("take up the end play, it will click"))
    return said
