"""Which bore and bell would be better: designs tried within ranges, holes fitted anew to each.

A third of the tries is spread evenly (Sobol's sequence, by SciPy), the others go where an emulator
of what was found so far promises most for one mixture of aims after the other. Each try is a
fit of the holes and the engine's own figures: the emulator only chooses.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import numpy as np

from borewright.acoustics import kernels
from borewright.acoustics.cents import CENTS_PER_LOG
from borewright.acoustics.request import request_of_table
from borewright.acoustics.side_holes import HoleLevel, hole_level, side_holes_of
from borewright.acoustics.tuning import tuning_at
from borewright.errors import ModelError
from borewright.fit import body_findings, fit
from borewright.fit.further import CUTOFF_HZ, NOTICED_CENTS, STRENGTH_DB, Seen
from borewright.fit.further_wishes import further_aims
from borewright.model import (
    Drawing,
    FingeringTable,
    Instrument,
    KeyworkSurvey,
    Severity,
    SideHoles,
)
from borewright.model.fit_wishes import FirstAim
from borewright.model.results.bore_search import BoreFeature, BoreSearchResult, TriedBore
from borewright.studies.emulator import Emulator
from borewright.words import say

MEASURES = ("bore", "top", "bottom", "length")
LEAST_TRIES, MOST_TRIES, MOST_FEATURES = 8, 400, 8
_CANDIDATES = 512
#: What moves of holes while a bore is tried.
_OF_HOLES = ("station", "diameter", "chimney")
#: Called with the number of designs tried and of all, and the best rms so far.
SearchProgress = Callable[[int, int, float], None]


def changed_bore(
    instrument: Instrument, features: Sequence[BoreFeature], changes_mm: Sequence[float]
) -> Instrument:
    """The instrument with its bore changed (mm by feature), drawn anew.

    Raises ModelError where there is no such part or measure, or no sound body is left.
    """
    data: dict[str, Any] = instrument.model_dump()
    parts = {part["name"]: part for part in data["parts"]}
    for feature, change in zip(features, changes_mm, strict=True):
        if feature.part not in parts or feature.measure not in MEASURES:
            raise ModelError(
                say("there is no feature '{name}'", name=feature.name[:60]),
                place=instrument.name,
                remedy=say(
                    "Write a part ({parts}), a dot, and one of {measures}.",
                    parts=", ".join(parts),
                    measures=", ".join(MEASURES),
                ),
            )
        part = parts[feature.part]
        length = part["length_mm"]
        if feature.measure == "length":
            for profile in ("bore", "outside"):
                part[profile] = [
                    (at if at < length else at + change, size) for at, size in part[profile]
                ]
            part["length_mm"] = length + change
            continue
        part["bore"] = [
            (at, size + change * _share(feature.measure, at / length)) for at, size in part["bore"]
        ]
    data["drawing"] = Drawing().model_dump()
    from pydantic import ValidationError

    from borewright.model.files.validation import model_error

    try:
        return Instrument.model_validate(data)
    except ValidationError as error:
        raise model_error(error, instrument.name, data) from error


def _share(measure: str, down: float) -> float:
    """Which share of a change a diameter takes, ``down`` the part from 0 to 1."""
    inside = min(max(down, 0.0), 1.0)
    return {"bore": 1.0, "top": 1.0 - inside, "bottom": inside}[measure]


def search_bores(
    instrument: Instrument,
    table: FingeringTable,
    survey: KeyworkSurvey | None,
    features: Sequence[BoreFeature],
    *,
    tries: int = 40,
    seed: int = 1,
    side_holes: SideHoles | str | None = None,
    told: SearchProgress | None = None,
) -> tuple[list[Instrument], BoreSearchResult]:
    """Try bores and bells within ranges, the holes fitted anew to each.

    Parameters
    ----------
    instrument, table, survey, side_holes
        As for a fit; its wishes say how holes may move. Bores move by ``features`` alone.
    features
        What is varied, each from ``from_mm`` to ``to_mm`` off the drawing.
    tries, seed
        How many designs besides the drawing, and the seed of what is drawn by chance.
    told
        Called after each; it may raise to stop.

    Returns
    -------
    tuple
        The fitted instrument of every design, in their order, and the result.

    Raises
    ------
    ModelError
        For features and numbers that make no search.
    FitError, AcousticsError
        As a fit does for the drawing itself. A design that cannot be fitted is left out.
    """
    _check(instrument, features, tries)
    way = side_holes_of(side_holes, instrument)
    free = [wish for wish in instrument.fit.free if wish.split(" ")[0].split(".")[-1] in _OF_HOLES]
    wishes = instrument.fit.model_copy(
        update={"free": free or ["hole.diameter"], "tuned_cents": 0.0}
    )
    base = instrument.model_copy(update={"fit": wishes})
    low, high = (np.array([getattr(one, end) for one in features]) for end in ("from_mm", "to_mm"))
    generator = np.random.default_rng(seed)
    made: list[Instrument] = []
    designs: list[TriedBore] = []
    places: list[np.ndarray] = []

    def tried(place: np.ndarray, changes: np.ndarray) -> None:
        start = changed_bore(base, features, changes.tolist())
        fitted, _ = fit(start, table, survey, side_holes=way)
        level = hole_level(fitted, way)
        designs.append(
            _figures(fitted, table, survey, level, len(designs), [float(c) for c in changes])
        )
        made.append(fitted.model_copy(update={"fit": instrument.fit}))
        places.append(place)
        if told is not None:
            told(len(designs) - 1, tries, min(one.rms_cents for one in designs))

    tried((0.0 - low) / (high - low), np.zeros(len(features)))
    even = max(2 * len(features) + 2, tries // 3)
    spread = _sobol(len(features), even, seed)
    for number in range(tries):
        place = (
            spread[number]
            if number < even
            else _promising(places, designs, generator, number, tries)
        )
        try:
            tried(place, low + place * (high - low))
        except ModelError:
            continue  # a body that cannot be, a wall that is gone: its range was too wide
    designs = _with_best(designs)
    errors = [Emulator(np.array(places), np.array(aim)).error for aim in _aims(designs).T]
    level = tuning_at(made[0], table, hole_level(made[0], way)).model_level
    result = BoreSearchResult(
        instrument=instrument.name,
        features=list(features),
        designs=designs,
        emulator_errors=(errors[0], errors[1], errors[2]),
        model_level=level,
    )
    return made, result


def _check(instrument: Instrument, features: Sequence[BoreFeature], tries: int) -> None:
    cause = None
    if not 1 <= len(features) <= MOST_FEATURES:
        cause = say("{count} features make no search", count=len(features))
    elif len({one.name for one in features}) < len(features):
        cause = say("a feature is named twice")
    elif not LEAST_TRIES <= tries <= MOST_TRIES:
        cause = say("{tries} designs make no search", tries=tries)
    for one in features:
        if not one.from_mm < one.to_mm:
            cause = say("the range of {name} does not rise", name=one.name)
    if cause is not None:
        raise ModelError(
            cause,
            place=say("bores"),
            remedy=say(
                "Name 1 to {features} features, each once, from a smaller to a larger change in "
                "mm, and {least} to {most} designs.",
                features=MOST_FEATURES,
                least=LEAST_TRIES,
                most=MOST_TRIES,
            ),
        )
    for ends in ("from_mm", "to_mm"):
        changed_bore(instrument, features, [getattr(one, ends) for one in features])


def _figures(
    fitted: Instrument,
    table: FingeringTable,
    survey: KeyworkSurvey | None,
    level: HoleLevel,
    number: int,
    changes: list[float],
) -> TriedBore:
    request = request_of_table(fitted, table, solved=level.terms)
    solved = kernels.resonances(*request)
    count = np.asarray(request.numbers.values).shape[0]
    slopes = np.asarray(kernels.full_jacobian(*request[:5], solved))[:, :count]
    tuned = tuning_at(fitted, table, level)
    cents = np.array([np.nan if one.cents is None else one.cents for one in tuned.notes])
    seen = Seen(request, solved, slopes, cents, CENTS_PER_LOG * slopes)
    # The fit's own measures of evenness, weighed by one.
    even = fitted.fit.model_copy(
        update={"cutoff_evenness": 1.0, "strength_evenness": 1.0, "alignment": 0.0, "venting": 0.0,
                "first": FirstAim.TUNE}
    )  # fmt: skip
    cutoff, strength = further_aims(fitted.model_copy(update={"fit": even}), table)
    findings = body_findings(fitted, survey)
    return TriedBore(
        number=number,
        changes_mm=changes,
        rms_cents=tuned.summary.rms_cents,
        worst_cents=tuned.summary.worst_cents,
        worst_note=tuned.summary.worst_note,
        strength_step_db=_step(strength.off(seen).by) * STRENGTH_DB / NOTICED_CENTS,
        cutoff_step_hz=_step(cutoff.off(seen).by) * CUTOFF_HZ / NOTICED_CENTS,
        faults=sum(one.severity is Severity.FAULT for one in findings),
    )


def _step(by: np.ndarray) -> float:
    """Mean size of the steps between notes that have the figure; 0 where there are none."""
    known = np.abs(by[by != 0])
    return float(known.mean()) if len(known) else 0.0


def _aims(designs: Sequence[TriedBore]) -> np.ndarray:
    return np.array([one.aims for one in designs])


def _sobol(features: int, count: int, seed: int) -> np.ndarray:
    from scipy.stats import qmc

    power = int(np.ceil(np.log2(max(count, 2))))
    return np.asarray(qmc.Sobol(features, seed=seed).random_base2(power)[:count])


def _promising(
    places: Sequence[np.ndarray],
    designs: Sequence[TriedBore],
    generator: np.random.Generator,
    number: int,
    tries: int,
) -> np.ndarray:
    """Where the emulators promise most: lowest mixture of aims, less its own doubt.

    Bold at first, towards the end closer to what is best and less swayed by doubt.
    """
    at, aims = np.array(places), _aims(designs)
    # Half of the tries go for the tuning alone; an instrument is tuned first.
    mixture = np.array([1.0, 0.0, 0.0]) if number % 2 else generator.dirichlet(np.ones(3))
    candidates = generator.random((_CANDIDATES, at.shape[1]))
    bold = 1.0 - number / tries
    near = at[np.argmin(_scaled(aims) @ mixture)]
    close = np.clip(near + (0.02 + 0.1 * bold) * generator.standard_normal(candidates.shape), 0, 1)
    candidates = np.concatenate([candidates, close])
    promise = np.zeros(len(candidates))
    for aim, share in zip(aims.T, mixture, strict=True):
        if share and aim.std():
            mean, sure = Emulator(at, aim)(candidates)
            promise += share * (mean - bold * sure - aim.min()) / aim.std()
    best: np.ndarray = candidates[int(np.argmin(promise))]
    return best


def _scaled(aims: np.ndarray) -> np.ndarray:
    spread = aims.std(axis=0)
    scaled: np.ndarray = (aims - aims.min(axis=0)) / np.where(spread > 0, spread, 1.0)
    return scaled


def _with_best(designs: list[TriedBore]) -> list[TriedBore]:
    """Marked where no other without faults is as good in all aims and better in one."""
    sound = [one for one in designs if not one.faults]

    def beaten(one: TriedBore) -> bool:
        return any(
            all(b <= a for a, b in zip(one.aims, other.aims, strict=True))
            and other.aims != one.aims
            for other in sound
        )

    return [one.model_copy(update={"best": not one.faults and not beaten(one)}) for one in designs]
