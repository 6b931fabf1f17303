"""A family of designs instead of one answer: cents against closeness to the drawing.

The same problem is searched at several prices of a move, dearest first, each from where the one
before ended. Nothing else changes, so each design is the best for its price: cheaper moves never
make the tuning worse. At the far end stands what cents could be had with limits wide open, a
body that nobody would build, so that the owner sees what holding to a body costs.
"""

from __future__ import annotations

import time

import numpy as np

from borewright.acoustics.side_holes import HoleLevel, hole_level, side_holes_of
from borewright.acoustics.tuning import tuning_at
from borewright.errors import FitError, Stopped
from borewright.fit.fitting import fit
from borewright.fit.levels import with_terms
from borewright.fit.paying import search_to_make
from borewright.fit.problems import problem_of, rounded
from borewright.fit.reach import causes_of
from borewright.fit.search import Outcome, Problem, Progress, measure, search
from borewright.fit.undercuts import begun, without_idle
from borewright.model import (
    FingeringTable,
    FitResult,
    FitWishes,
    HeldBack,
    Instrument,
    KeyworkSurvey,
    SideHoles,
    drawn,
    read_values,
    remembering,
    with_values,
)
from borewright.model.bores.features import roles
from borewright.model.fit_wishes import FREE_OF_HOLES, read_free
from borewright.model.results.choices import Design, DesignFamily
from borewright.words import Said, say

#: Prices of a moderate step (cents²) along the family, as multiples of the wish.
_PRICES = (40.0, 20.0, 10.0, 5.0, 2.5, 1.0, 0.5, 0.2)
_ROUNDS = 30
#: Searches of a family: those, the far end, and the one with all bores held.
DESIGNS = len(_PRICES) + 2
#: Wide-open limits of the far end: mm, and share of a hole's diameter.
_OPEN = {
    "hole_size_window": 0.4,
    "length_window_mm": 3.0,
    "bore_window_mm": 0.3,
    "joint_step_mm": 0.6,
    "flare_window_mm": 2.0,
    "keep_close": 0.05,
    "least_gain": 0.0,
    "reamers": [],
    "taper_reamers": [],
}
_MOVED_STEPS = 0.01


def design_family(
    instrument: Instrument,
    fingerings: FingeringTable,
    survey: KeyworkSurvey | None = None,
    *,
    side_holes: SideHoles | str | None = None,
    progress: Progress | None = None,
) -> DesignFamily:
    """Designs along the trade-off, from the drawing to the far end.

    Parameters
    ----------
    instrument, fingerings, survey, side_holes
        As for :func:`borewright.fit.fit`. Every design is told with its own holes and bell
        solved; it is searched with those of the one before.
    progress
        Called with the design's number, its root mean square and worst cents.

    Raises
    ------
    FitError
        As for a fit.
    """
    started = time.perf_counter()
    drawing = drawn(begun(instrument))
    home = remembering(drawing, drawing).model_copy(update={"fit": instrument.fit})
    way = side_holes_of(side_holes, instrument)
    as_drawn = level = hole_level(home, way)
    problem = problem_of(home, fingerings, survey, level)
    wish = problem.aims.price
    start = measure(problem, problem.start, with_slopes=False)
    designs = [_design(problem, start.cents, problem.start, np.inf, fingerings, None)]
    values, finished = problem.start, True
    held: Design | None = None
    back: list[HeldBack] = []
    try:
        for number, share in enumerate(_PRICES, 1):
            priced = problem._replace(aims=problem.aims._replace(price=wish * share))
            priced, outcome = search_to_make(priced, None, _ROUNDS, values)
            values = outcome.point.values
            level = hole_level(with_values(home, rounded(priced, outcome)), way)
            problem, priced = with_terms(problem, level.terms), with_terms(priced, level.terms)
            designs.append(_finished(priced, outcome, fingerings, designs[-1]))
            _tell(progress, number, designs[-1])
            if not outcome.finished:
                raise Stopped
        designs.append(_far_end(home, fingerings, survey, level, values, designs[-1]))
        _tell(progress, len(designs) - 1, designs[-1])
        held, back = _with_bores_held(home, fingerings, survey, as_drawn, designs[0])
        if held is not None:
            _tell(progress, len(designs), held)
    except (KeyboardInterrupt, Stopped):
        finished = False
    table = tuning_at(instrument, fingerings, level)
    return DesignFamily(
        instrument=instrument.name,
        designs=designs,
        bores_held=held,
        held_back=back,
        model_level=table.model_level,
        climate=table.climate,
        finished=finished,
        seconds=time.perf_counter() - started,
    )


def _far_end(
    home: Instrument,
    fingerings: FingeringTable,
    survey: KeyworkSurvey | None,
    level: HoleLevel,
    values: np.ndarray,
    last: Design,
) -> Design:
    wishes = FitWishes.model_validate({**home.fit.model_dump(), **_OPEN, "ranges": {}})
    opened = home.model_copy(update={"fit": wishes})
    problem = problem_of(opened, fingerings, survey, level)
    outcome = search(problem, None, _ROUNDS, values)
    end = hole_level(with_values(home, rounded(problem, outcome)), level.way)
    problem = with_terms(problem, end.terms)
    return _finished(problem, outcome, fingerings, last, within_limits=False)


def _with_bores_held(
    home: Instrument,
    fingerings: FingeringTable,
    survey: KeyworkSurvey | None,
    level: HoleLevel,
    drawing: Design,
) -> tuple[Design | None, list[HeldBack]]:
    """The best with bores and bell as drawn, and what holds it back; nothing if no bore is free."""
    barrels = {home.parts[number].name for number in roles(home).barrels}
    free = [
        text
        for text in home.fit.free
        if (wish := read_free(text)).measure in FREE_OF_HOLES
        or (wish.measure == "length" and barrels & {*wish.owners})
    ]
    if len(free) == len(home.fit.free) or not free:
        return None, []
    wishes = home.fit.model_copy(update={"free": free})
    held = home.model_copy(update={"fit": wishes})
    problem = problem_of(held, fingerings, survey, level)
    problem, outcome = search_to_make(problem, None, _ROUNDS)
    if not outcome.finished:
        raise Stopped
    own = hole_level(with_values(held, rounded(problem, outcome)), level.way)
    problem = with_terms(problem, own.terms)
    design = _finished(problem, outcome, fingerings, drawing)
    return design, causes_of(held, survey, problem, outcome, fingerings).held_back


def _finished(
    problem: Problem,
    outcome: Outcome,
    fingerings: FingeringTable,
    before: Design,
    *,
    within_limits: bool = True,
) -> Design:
    values = np.array(rounded(problem, outcome))
    cents = measure(problem, values, with_slopes=False).cents
    price = problem.aims.price
    return _design(problem, cents, values, price, fingerings, before, within_limits=within_limits)


def _design(
    problem: Problem,
    cents: np.ndarray,
    values: np.ndarray,
    price: float,
    fingerings: FingeringTable,
    before: Design | None,
    *,
    within_limits: bool = True,
) -> Design:
    standard = np.array([f.use.value == "standard" for f in fingerings.fingerings])
    counted = np.flatnonzero(standard & np.isfinite(cents))
    worst = int(counted[np.argmax(np.abs(cents[counted]))])
    rms = float(np.sqrt(np.mean(cents[counted] ** 2)))
    steps = np.abs(problem.features(values) - problem.drawn) / problem.scale
    pairs = [(a, b) for a, b in problem.aims.intervals if standard[a] and standard[b]]
    uneven = [abs(cents[b] - cents[a]) for a, b in pairs if np.isfinite(cents[b] - cents[a])]
    shares = [
        abs(freedom.value(values) / freedom.drawn - 1)
        for freedom in problem.freedoms
        if freedom.measure == "diameter"
    ]
    away = float(np.sum(steps))
    return Design(
        price_cents2=float(price) if np.isfinite(price) else 0.0,
        rms_cents=rms,
        worst_cents=float(cents[worst]),
        worst_note=fingerings.fingerings[worst].name,
        uneven_cents=float(np.mean(uneven)) if uneven else 0.0,
        away_steps=away,
        moved=int(np.sum(steps > _MOVED_STEPS)),
        largest_hole_share=max(shares, default=0.0),
        gains=_gains(before, rms, away, within_limits),
        within_limits=within_limits,
        values=[float(value) for value in values],
    )


def _gains(before: Design | None, rms: float, away: float, within_limits: bool) -> Said:
    if before is None:
        return say("the drawing as it is")
    won, paid = before.rms_cents - rms, away - before.away_steps
    if not within_limits:
        return say(
            "limits wide open, not a body to build: {won:.1f} cents of rms for {paid:.0f} steps "
            "more",
            won=won,
            paid=paid,
        )
    return say("{won:.1f} cents of rms for {paid:.0f} steps more", won=won, paid=paid)


def _tell(progress: Progress | None, number: int, design: Design) -> None:
    if progress is not None:
        progress(number, design.rms_cents, abs(design.worst_cents))


def taken(instrument: Instrument, design: Design) -> Instrument:
    """The instrument with a design of its family taken as a whole.

    It remembers its drawing, and the level that the family was made at.
    """
    started = begun(instrument)
    made = with_values(started, design.values).model_copy(update={"side_holes": instrument.level})
    return remembering(*without_idle(made, instrument, drawn(started)))


def part_taken(
    instrument: Instrument,
    design: Design,
    owners: list[str],
    fingerings: FingeringTable,
    survey: KeyworkSurvey | None = None,
    *,
    progress: Progress | None = None,
) -> tuple[Instrument, FitResult]:
    """Take some parts and holes of a design, and fit all others again around them.

    Parameters
    ----------
    instrument, design
        The instrument that the family belongs to, and one of its designs.
    owners
        Names of holes and parts to be taken; a part without its holes.
    fingerings, survey, progress
        As for a fit of what is left free.

    Raises
    ------
    FitError
        For a name that is unknown, and where nothing is left free.
    """
    from borewright.model import dimensions

    names = {*instrument.hole_names(), *(part.name for part in instrument.parts)}
    for owner in owners:
        if owner not in names:
            raise FitError(
                say("'{instrument}' has no part or hole '{name}'", instrument=instrument.name,
                    name=owner),
                place=say("what is taken"),
                remedy=say("Name parts and holes of the instrument."),
            )  # fmt: skip
    started = begun(instrument)
    values = [
        new if (dimension.hole or dimension.part) in owners else old
        for dimension, new, old in zip(
            dimensions(started), design.values, read_values(started), strict=True
        )
    ]
    held = remembering(with_values(started, values), drawn(started))
    wishes = held.fit
    left = wishes.model_copy(
        update={"free": _without(instrument, owners), "tuned_cents": 0.0, "alike": {}}
    )
    fitted, result = fit(
        held.model_copy(update={"fit": left}), fingerings, survey, progress=progress
    )
    straight = without_idle(fitted, instrument, drawn(fitted))
    return remembering(*straight).model_copy(update={"fit": wishes}), result


def _without(instrument: Instrument, owners: list[str]) -> list[str]:
    """The wishes with some parts and holes excepted."""
    holes = set(instrument.hole_names())
    found = []
    for text in instrument.fit.free:
        wish = read_free(text)
        kind = holes if wish.measure in FREE_OF_HOLES else {p.name for p in instrument.parts}
        left = [name for name in wish.owners if name not in owners]
        if not left:
            continue
        excepted = [*wish.excepted, *(o for o in owners if o in kind and o not in wish.excepted)]
        every = wish.owner in ("*", "hole")
        suffix = f" except {', '.join(excepted)}" if excepted and every else ""
        found.append(f"{', '.join(left)}.{wish.measure}{suffix}")
    return found
