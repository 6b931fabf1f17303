"""Corrections from files: design, readings and notes in, ranked steps out."""

from __future__ import annotations

import math
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from borewright.errors import PlayingError
from borewright.model import load
from borewright.model.bounds import check_asked
from borewright.model.results.advice import CorrectionPlan, CorrectionStep
from borewright.tasks.inputs import fingerings_of
from borewright.tasks.playing.measured import measured_takes
from borewright.tasks.progress import Cancel, Progress, tell
from borewright.words import ENGLISH, Reader, say

if TYPE_CHECKING:
    from borewright.playing import Aim, AsBuilt
    from borewright.playing.carrying import EarlierTakes


def correct_file(
    file: Path,
    notes: Path,
    *,
    readings: Path | None,
    name: str,
    next_print: bool,
    build_up: bool,
    steps: int,
    player_cents: float,
    fingerings: Path | None,
    pulled: Sequence[str] = (),
    earlier: Sequence[str] = (),
    progress: Progress | None = None,
    cancel: Cancel | None = None,
) -> CorrectionPlan:
    """Advise what to change; the takes' temperature is carried to the instrument's climate.

    ``pulled`` names joints that were drawn apart in takes that tell nothing of it, each as
    ``PART=MM``; ``earlier`` names takes from before steps that were done, each as ``FILE=NOTES``.
    ``progress`` is told of each step looked for; ``cancel`` is asked whether to stop.
    """
    from borewright.playing import (
        Aim,
        as_built,
        at_design_climate,
        corrections,
        read_readings,
    )
    from borewright.playing.carrying import with_earlier

    design = load(file)
    table = fingerings_of(design, file, fingerings)
    gauged = read_readings(readings) if readings else []
    played = measured_takes(notes, name, design, table, pulled)
    built = as_built(played.design, table, gauged)
    tell(progress, cancel, 0.0, say("the takes at the design's climate"))
    measured = at_design_climate(built.instrument, built.fingerings, played.notes, played.room_c)
    check_asked("own_cents", player_cents, "--player-cents")
    if not 0 < steps <= 50:
        raise PlayingError(
            say("steps or cents are out of range"),
            place=("--steps", "--player-cents"),
            remedy=say("Give 1 to 50 steps, and cents from 0."),
        )

    def told(done: int, most: int) -> None:
        said = say("step {number}, of {most} at most", number=done + 1, most=most)
        tell(progress, cancel, (done + 1) / (most + 1), said)

    shared = played.shared_cents
    if earlier:
        found = [_earlier(each, name, fingerings) for each in earlier]
        measured, shared = with_earlier(built.instrument, built.fingerings, measured, shared, found)
    return corrections(
        built.instrument,
        built.fingerings,
        measured,
        leaks=built.leaks,
        aim=Aim.NEXT_PRINT if next_print else Aim.REWORK,
        common_error_cents=math.hypot(shared, player_cents),
        readings=gauged,
        allow_building_up=build_up,
        most_steps=steps,
        progress=told,
    )


def _earlier(words: str, name: str, fingerings: Path | None) -> EarlierTakes:
    """Takes from before some steps, named as ``FILE=NOTES``, at the climate of that file."""
    from borewright.playing import at_design_climate
    from borewright.playing.carrying import EarlierTakes

    file, sign, notes = words.partition("=")
    if not (sign and file and notes):
        raise PlayingError(
            say("'{words}' names no earlier takes", words=words),
            place="--earlier",
            remedy=say(
                "Write the instrument's file of that time and its notes: no-3.toml=notes.csv."
            ),
        )
    then = load(Path(file))
    table = fingerings_of(then, Path(file), fingerings)
    played = measured_takes(Path(notes), name, then, table)
    measured = at_design_climate(played.design, table, played.notes, played.room_c)
    return EarlierTakes(played.design, measured, played.shared_cents)


def file_with_steps(
    file: Path, readings: Path | None, aim: Aim, steps: Sequence[CorrectionStep]
) -> AsBuilt:
    """The instrument of a file after steps of a plan were done, with its fingerings.

    A rework starts from the instrument as built, with the leaks that stay; the next print from
    the design.
    """
    from borewright.playing import Aim, as_built, read_readings
    from borewright.playing.applying import with_steps

    design = load(file)
    table = fingerings_of(design, file)
    found = []
    if aim is Aim.REWORK:
        found = read_readings(readings) if readings else []
    else:
        steps = [step for step in steps if step.kind != "seal"]  # a design has no leaks
    built = as_built(design, table, found)
    built.instrument = with_steps(built.instrument, steps, aim, built.leaks)
    sealed = {step.hole for step in steps if step.kind == "seal"}
    built.leaks = [leak for leak in built.leaks if leak.hole not in sealed]
    built.fingerings = built.fingerings.model_copy(
        update={
            "fingerings": [
                each.model_copy(
                    update={"open_holes": tuple(h for h in each.open_holes if h not in sealed)}
                )
                for each in built.fingerings.fingerings
            ]
        }
    )
    return built


def draw_plan(file: Path, plan: CorrectionPlan, picture: Path, *, words: Reader = ENGLISH) -> Path:
    """Draw a plan's chart with the tolerance of its instrument's file, for who reads it."""
    from borewright.documents import corrections_chart

    return corrections_chart(plan, picture, load(file).fit.tolerance_cents, words=words)
