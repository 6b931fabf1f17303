"""Two instruments blended feature by feature, and the holes fitted again to the new bore."""

from __future__ import annotations

import math

from borewright.acoustics import tuning
from borewright.fit.bores.describing import feature_rows
from borewright.fit.fitting import fit
from borewright.fit.search import Progress
from borewright.model import (
    FingeringTable,
    FitResult,
    Instrument,
    KeyworkSurvey,
)
from borewright.model.bores import (
    BlendResult,
    Fractions,
    HoleMove,
    PayingHole,
    blend_instruments,
)
from borewright.model.fit_wishes import read_free

#: Moderate steps (mm) of what a re-fit moves, as the fit counts them.
from borewright.words import Said, Text, joined, listed, say

_STEP_MM = {"station": 1.0, "diameter": 0.5, "chimney": 0.5, "undercut": 0.5}
#: Moves below this (mm) are rounding.
_LEAST_MM = 0.005


def blend(
    first: Instrument,
    second: Instrument,
    fractions: Fractions,
    fingerings: FingeringTable,
    survey: KeyworkSurvey | None = None,
    *,
    refit: bool = True,
    progress: Progress | None = None,
    most_rounds: int = 60,
) -> tuple[Instrument, BlendResult]:
    """Blend two instruments; fit the tone holes of the blend, its bore untouched.

    Parameters
    ----------
    first, second
        Parents made of the same parts. Wishes, mouthpiece, reed, climate and the level that side
        holes are computed at are the first's.
    fractions
        The second's share of every feature.
    fingerings, survey
        As for :func:`borewright.fit.fit`; they hold for both.
    refit
        Whether the holes are fitted again: those measures of holes that the first's wishes
        free.
    progress, most_rounds
        As for the fit.

    Returns
    -------
    tuple
        The blend and what it does: tuning of both parents, of the blend before and after the
        re-fit, and the holes that pay for it.

    Raises
    ------
    ModelError, FitError
        For parents that cannot be blended, and a fit that cannot start.
    """
    blended = blend_instruments(first, second, fractions)
    tables = [tuning(each, fingerings, side_holes=first.level) for each in (first, second, blended)]
    result: FitResult | None = None
    made = blended
    if refit:
        wishes = blended.fit
        holes = [wish for wish in wishes.free if read_free(wish).measure in _STEP_MM]
        only_holes = wishes.model_copy(update={"free": holes})
        fitted, result = fit(
            blended.model_copy(update={"fit": only_holes}),
            fingerings,
            survey,
            side_holes=first.level,
            progress=progress,
            most_rounds=most_rounds,
        )
        made = fitted.model_copy(update={"fit": wishes})
    return made, BlendResult(
        first=first.name,
        second=second.name,
        fractions=fractions,
        features=feature_rows(first, second, made),
        first_table=tables[0],
        second_table=tables[1],
        blended=tables[2],
        refitted=result.after if result else None,
        paying=_paying(first, second, blended, result) if result else [],
        out_of_reach=result.out_of_reach if result else [],
        findings=result.findings if result else [],
        finished=result.finished if result else True,
        notices=_notices(first, second),
    )


def _paying(
    first: Instrument, second: Instrument, blended: Instrument, result: FitResult
) -> list[PayingHole]:
    groups: dict[tuple[str, str], list[tuple[HoleMove, Text]]] = {}
    for move in result.moved:
        if not move.hole or abs(move.to - move.from_) < _LEAST_MM:
            continue
        measure = move.measure
        sizes = [
            _measure(instrument, move.part, move.hole, measure) for instrument in (first, second)
        ]
        row = HoleMove(
            measure=measure,
            first=move.from_ if sizes[0] is None else sizes[0],
            second=move.from_ if sizes[1] is None else sizes[1],
            blended=move.from_,
            refitted=move.to,
        )
        groups.setdefault((move.part, move.hole), []).append((row, move.limit or ""))
    found = [
        PayingHole(
            part=part,
            hole=hole,
            steps=math.sqrt(sum((row.by_mm / _STEP_MM[row.measure]) ** 2 for row, _ in rows)),
            moves=[row for row, _ in rows],
            limit=joined(dict.fromkeys(limit for _, limit in rows if limit), "; "),
        )
        for (part, hole), rows in groups.items()
    ]
    return sorted(found, key=lambda each: -each.steps)


def _measure(instrument: Instrument, part: str, name: str, measure: str) -> float | None:
    """A hole's measure (mm); None where the instrument has no such hole or measure."""
    for owner in instrument.parts:
        for hole in owner.holes:
            if (owner.name, hole.name) != (part, name):
                continue
            if measure == "undercut":
                return hole.mouth_diameter_mm - hole.diameter_mm
            return float(getattr(hole, f"{measure}_mm"))
    return None


def _notices(first: Instrument, second: Instrument) -> list[Said]:
    """What of the second parent the blend does not take."""
    kept = [
        words
        for field, words in (
            ("mouthpiece", say("mouthpiece")),
            ("reed", say("reed")),
            ("climate", say("climate")),
            ("pitch", say("pitch standard")),
            ("bottom_end", say("bottom end")),
            ("wall_loss_factor", say("wall loss factor")),
            ("outside_interaction", say("outside interaction")),
        )
        if getattr(first, field) != getattr(second, field)
    ]
    if not kept:
        return []
    return [
        say(
            "of '{second}' the blend does not take: {kept}; it keeps that of '{first}'",
            second=second.name,
            kept=listed(kept),
            first=first.name,
        )
    ]
