"""One set of keys on several bodies, from file to files."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

from borewright.errors import ModelError
from borewright.model import Instrument, SideHoles, read_instrument, save_as
from borewright.model.results.siblings import SiblingBody, SiblingsResult
from borewright.tasks.inputs import fingerings_of, keys_of, survey_of
from borewright.tasks.outputs import carrying_tables, check_folder, tables_of
from borewright.tasks.progress import Cancel, Progress, tell
from borewright.words import Said, joined, say

if TYPE_CHECKING:
    from borewright.studies import Sibling


@dataclass(frozen=True)
class SiblingsAnswer:
    """What was found of every body, and the instruments' files."""

    instrument: Instrument
    result: SiblingsResult
    files: list[Path] = field(default_factory=list)

    def as_dict(self) -> dict[str, Any]:
        """For JSON."""
        return {
            **self.result.model_dump(mode="json"),
            "files": [str(path) for path in self.files],
        }


def siblings_file(
    file: Path,
    *,
    only: Sequence[str] = (),
    output: Path | None = None,
    keywork: Path | None = None,
    fingerings: Path | None = None,
    side_holes: SideHoles | None = None,
    progress: Progress | None = None,
    cancel: Cancel | None = None,
) -> SiblingsAnswer:
    """Fit bodies of other pitches for the keys of a file's instrument.

    Parameters
    ----------
    file, keywork, fingerings, side_holes
        The instrument that the keys are from, as for a fit.
    only
        Names of pitches; none is all of them.
    output
        A folder for the fitted instruments.
    progress, cancel
        Told before every fit; asked there whether to stop: then nothing is saved.

    Raises
    ------
    ModelError, FitError, StudyError, AcousticsError
        For wrong input, a pitch that there is not, and as a fit does.
    """
    from borewright.studies import siblings_of

    instrument, document = read_instrument(file)
    table = fingerings_of(instrument, file, fingerings)
    survey = survey_of(instrument, file, keywork)
    keys = keys_of(instrument, file)
    wanted = _wanted(only)
    if output is not None:
        check_folder(output)
        _check_new(output, wanted)

    def told(said: Said, done: int, total: int) -> None:
        tell(progress, cancel, done / total, said)

    made, result = siblings_of(
        instrument, table, survey, keys, wanted=wanted, side_holes=side_holes, told=told
    )
    files: list[Path] = []
    if output is not None:
        tables = tables_of(instrument, file, keywork=keywork, fingerings=fingerings)
        for body, one in zip(result.bodies, made, strict=True):
            target = output / _file_name(body.name, body.held)
            # A stretched body needs keys that nobody has surveyed yet.
            kept = ("fingerings", "keywork") if body.held else ("fingerings",)
            own = {key: path for key, path in tables.items() if key in kept}
            save_as(carrying_tables(one, own, target), target, document)
            files.append(target)
    return SiblingsAnswer(instrument, result, files)


def _wanted(only: Sequence[str]) -> list[Sibling]:
    from borewright.studies import SIBLINGS

    known = {each.name: each for each in SIBLINGS}
    for name in only:
        if name not in known:
            raise ModelError(
                say("there is no pitch '{name}'", name=name[:40]),
                place=say("pitches"),
                remedy=say("Pitches are: {names}.", names=", ".join(known)),
            )
    return [each for each in SIBLINGS if not only or each.name in only]


def _file_name(name: str, held: bool) -> str:
    stem = re.sub(r"[^a-z0-9]+", "-", name.lower())
    return f"{stem}-{'held' if held else 'stretched'}.toml"


def _check_new(folder: Path, wanted: Sequence[Sibling]) -> None:
    for each in wanted:
        for held in (True, False):
            path = folder / _file_name(each.name, held)
            if path.exists():
                raise ModelError(
                    say("is there already, and a sibling never replaces a file"),
                    place=str(path),
                    remedy=say("Name another folder, or move that file away."),
                )


def sibling_sentences(answer: SiblingsAnswer) -> list[Said]:
    """What is to be said of each pitch."""
    bodies = answer.result.bodies
    return [
        _sentence(held, stretched)
        for held, stretched in zip(bodies[::2], bodies[1::2], strict=True)
    ]


def _sentence(held: SiblingBody, stretched: SiblingBody) -> Said:
    if not held.outside:
        return say(
            "{name}: this set of keys serves as it is, with a barrel of {barrel:.1f} and a bell "
            "of {bell:.1f} mm.",
            name=held.name,
            barrel=held.barrel_mm,
            bell=held.bell_mm,
        )
    parts: list[Said] = [
        say(
            "{name}: with the keys held {count} notes stay out by more than ten cents.",
            name=held.name,
            count=held.outside,
        )
    ]
    anew = [one for one in stretched.keys if one.anew]
    if stretched.outside:
        parts.append(
            say(
                "Stretched, {count} do: bores and mouthpiece of its own are asked for.",
                count=stretched.outside,
            )
        )
    elif anew:
        parts.append(
            say(
                "On a body of its own all come in; of the keywork these are made anew: {keys}. "
                "All posts are set anew.",
                keys=", ".join(f"{one.hinge} ({' '.join(one.holes)})" for one in anew),
            )
        )
    else:
        parts.append(
            say("On a body of its own all come in with the same keys, their posts set anew.")
        )
    return joined(parts)
