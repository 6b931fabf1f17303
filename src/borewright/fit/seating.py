"""Holes, bearings, pads and seats set where the keywork is, in one step, before or after a fit.

A hole inside its key's window stays where it is; one outside goes to the key. Bearing, cover,
pad, lift and rest are the key's. A seat measured from the axis sets the rim. Then sizes and
places give way, by as little as they can, until pads seal, chimneys pass their rings and walls
are thick enough, and post holes become shallower over a flare. What is left then is the keywork's
affair.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from pydantic import ValidationError

from borewright.fit._hole_ranges import RING_OVER_MM, largest_side
from borewright.fit._seating_posts import with_shallow_posts
from borewright.fit.checks import body_findings
from borewright.fit.freedom import freedoms
from borewright.fit.programme import best_step
from borewright.fit.spacing import spacings
from borewright.model import (
    Cover,
    Drawing,
    FitWishes,
    Instrument,
    KeyworkSurvey,
    Part,
    SurveyItem,
    SurveyRow,
    ToneHole,
    read_values,
    with_values,
)
from borewright.model.files.validation import model_error
from borewright.model.results.seating import Seated, SeatingResult
from borewright.words import Said, say

#: A key bends by so much (mm) without being asked: a seat nearer than this stays.
_BEND_MM = 0.3
#: How far (degrees, mm) a drawing may differ before it is set anew.
_SAME_DEG, _SAME_MM = 0.05, 0.005
_MENDING_ROUNDS = 6
_GIVES_MM = 0.006
#: Holes that would run into each other begin at this share of their size, and no smaller (mm).
_SMALL, _SMALLEST_MM = 0.5, 2.0


def seat(instrument: Instrument, survey: KeyworkSurvey) -> tuple[Instrument, SeatingResult]:
    """Set every hole that has a cup or ring in the survey to it, and mend what then is tight.

    Parameters
    ----------
    instrument
        The drawing, or a fitted body; ``instrument.fit`` holds the limits of the process.
    survey
        Measured keywork.

    Returns
    -------
    tuple
        The seated instrument and what was changed. What was seated counts as drawn from now on.

    Raises
    ------
    ModelError
        Where the survey cannot belong to the instrument, or holes would run into each other
        whatever their size.
    """
    survey.check_against(instrument)
    before = body_findings(instrument, survey)
    changes: list[Seated] = []
    data: dict[str, Any] = instrument.model_dump()
    for part, table in zip(instrument.parts, data["parts"], strict=True):
        for hole, entry in zip(part.holes, table["holes"], strict=True):
            row = survey.for_hole(hole.name)
            if row is not None:
                changes += _seat_hole(instrument, survey, part, hole, entry, row)
    seated, wanted = _validated(instrument, data)
    mended = _mended(seated, survey, wanted)
    changes += _given_way(wanted, mended)
    mended, shallower = with_shallow_posts(mended, survey)
    changes += shallower
    result = SeatingResult(
        instrument=instrument.name,
        changes=changes,
        before=before,
        after=body_findings(mended, survey),
    )
    return mended, result


def _seat_hole(
    instrument: Instrument,
    survey: KeyworkSurvey,
    part: Part,
    hole: ToneHole,
    entry: dict[str, Any],
    row: SurveyRow,
) -> list[Seated]:
    """Write one hole's keywork into its entry, and tell what that changed."""
    key = say("{item} '{name}'", item=row.item, name=row.name)
    found: list[Seated] = []

    def change(what: Said, old: Said, new: Said) -> None:
        found.append(
            Seated(part=part.name, hole=hole.name, what=what, before=old, after=new, because=key)
        )

    if not row.station_mm - row.up_mm <= hole.station_mm <= row.station_mm + row.down_mm:
        entry["station_mm"] = row.station_mm
        change(say("station"), _mm(hole.station_mm), _mm(row.station_mm))
    turn = abs(hole.bearing_deg - row.bearing_deg) % 360
    if min(turn, 360 - turn) > _SAME_DEG:
        entry["bearing_deg"] = row.bearing_deg
        change(
            say("bearing"),
            say("{angle_deg:g}°", angle_deg=hole.bearing_deg),
            say("{angle_deg:g}°", angle_deg=row.bearing_deg),
        )
    is_cup = row.item is SurveyItem.CUP
    cover = Cover.PAD if is_cup else Cover.RING
    if hole.cover is not cover:
        entry["cover"] = cover.value
        change(say("cover"), hole.cover.words, cover.words)
    if is_cup:
        _seat_pad(hole, entry, row, change)
    else:
        entry["pad"] = None
    _seat_rim(instrument, part, hole, entry, row, change)
    drawn = ToneHole.model_validate(
        {**entry, "diameter_mm": min(entry["diameter_mm"], _least_pad(entry))}
    )
    most = largest_side(instrument.fit, survey, part, drawn)
    if entry["diameter_mm"] > most.value + _SAME_MM:
        entry["diameter_mm"] = float(np.floor(most.value * 100 + 1e-6) / 100)
        change(say("diameter"), _mm(hole.diameter_mm), _mm(entry["diameter_mm"]))
    return found


def _least_pad(entry: dict[str, Any]) -> float:
    """A diameter (mm) that the model allows under the pad, whatever the hole's own."""
    pad = entry.get("pad")
    return float(pad["diameter_mm"]) - 0.1 if pad else float(entry["diameter_mm"])


def _seat_pad(hole: ToneHole, entry: dict[str, Any], row: SurveyRow, change: Any) -> None:
    old = hole.pad
    entry["pad"] = {
        "diameter_mm": row.pad_diameter_mm,
        "lift_mm": row.lift_mm,
        "rest": row.rest,
    }
    for what, before, after in (
        (say("pad"), old.diameter_mm if old else 0.0, row.pad_diameter_mm or 0.0),
        (say("lift"), old.lift_mm if old else 0.0, row.lift_mm or 0.0),
    ):
        if abs(before - after) > _SAME_MM:
            change(what, _mm(before), _mm(after))
    if old and row.rest and old.rest is not row.rest:
        change(say("rest"), old.rest.words, row.rest.words)


def _seat_rim(
    instrument: Instrument,
    part: Part,
    hole: ToneHole,
    entry: dict[str, Any],
    row: SurveyRow,
    change: Any,
) -> None:
    if row.seat_from_axis_mm is None:
        return
    outside = part.outside_diameter_at(entry["station_mm"]) / 2
    wanted = round(row.seat_from_axis_mm - outside, 2)
    wishes = instrument.fit
    wanted = min(max(wanted, wishes.lowest_chimney_mm), wishes.highest_chimney_mm)
    least, most = RING_OVER_MM if row.item is SurveyItem.RING else (-_BEND_MM, _BEND_MM)
    if not least - _SAME_MM <= wanted - hole.chimney_mm <= most + _SAME_MM:
        entry["chimney_mm"] = wanted
        change(say("chimney"), _mm(hole.chimney_mm), _mm(wanted))


def _validated(
    instrument: Instrument, data: dict[str, Any]
) -> tuple[Instrument, dict[tuple[str, str], float]]:
    """The seated instrument, and wanted station and diameter of every hole.

    Where keys stand so near that holes of their drawn sizes would run into each other, it
    begins with small holes, which then grow as far as the walls allow.
    """
    wanted = {
        (hole["name"], measure): float(hole[f"{measure}_mm"])
        for part in data["parts"]
        for hole in part["holes"]
        for measure in ("station", "diameter")
    }
    try:
        return Instrument.model_validate(data), wanted
    except ValidationError:
        for part in data["parts"]:
            for hole in part["holes"]:
                hole["diameter_mm"] = max(_SMALL * hole["diameter_mm"], _SMALLEST_MM)
    try:
        return Instrument.model_validate(data), wanted
    except ValidationError as error:
        raise model_error(error, instrument.name, data) from error


def _mended(
    seated: Instrument, survey: KeyworkSurvey, wanted: dict[tuple[str, str], float]
) -> Instrument:
    """Holes as near to what is wanted as pads, rings and walls allow."""
    wishes = seated.fit.model_copy(update={"free": ["hole.station", "hole.diameter"], "ranges": {}})
    freed = freedoms(_as_wanted(seated, wishes, wanted), survey)
    columns = np.array([each.column for each in freed])
    scale = np.array([each.scale for each in freed])
    home = np.array([wanted[each.dimension.hole, each.measure] for each in freed])
    low = np.minimum([each.low.value for each in freed], home)
    high = np.array([each.high.value for each in freed])
    now = seated
    for _ in range(_MENDING_ROUNDS):
        values = np.array(read_values(now))
        evaluated = [limit.evaluate(values) for limit in spacings(now, survey)]
        gaps = np.array([gap for gap, _ in evaluated])
        here = values[columns]
        rates = np.array([rate for _, rate in evaluated]).reshape(len(gaps), -1)[:, columns]
        movable = np.any(np.abs(rates) > 1e-9, axis=1)
        step = best_step(
            np.diag(1 / scale**2),
            (here - home) / scale**2,
            np.minimum(low, here) - here,
            np.maximum(high, low) - here,
            gaps[movable],
            rates[movable],
        )
        moved = np.round(here + step.move, 2)
        moved = np.where(np.abs(moved - home) < _GIVES_MM, home, moved)
        if np.max(np.abs(moved - here), initial=0.0) < _SAME_MM:
            return now
        values[columns] = moved
        now = with_values(now, values.tolist())
    return now


def _as_wanted(
    seated: Instrument, wishes: FitWishes, wanted: dict[tuple[str, str], float]
) -> Instrument:
    """The instrument with its wishes, sizes counted from what is wanted, never built itself."""
    parts = [
        part.model_copy(
            update={
                "holes": [
                    hole.model_copy(update={"diameter_mm": wanted[hole.name, "diameter"]})
                    for hole in part.holes
                ]
            }
        )
        for part in seated.parts
    ]
    return seated.model_copy(update={"parts": parts, "fit": wishes, "drawing": Drawing()})


def _given_way(wanted: dict[tuple[str, str], float], after: Instrument) -> list[Seated]:
    """What ended elsewhere than its key alone would have it."""
    found = []
    for part in after.parts:
        for hole in part.holes:
            for measure, what, value in (
                ("station", say("station"), hole.station_mm),
                ("diameter", say("diameter"), hole.diameter_mm),
            ):
                old = wanted[hole.name, measure]
                if abs(old - value) > _SAME_MM:
                    found.append(
                        Seated(
                            part=part.name,
                            hole=hole.name,
                            what=what,
                            before=_mm(old),
                            after=_mm(value),
                            because=say("walls and covers"),
                        )
                    )
    return found


def _mm(value: float) -> Said:
    return say("{value_mm:.2f} mm", value_mm=value)
