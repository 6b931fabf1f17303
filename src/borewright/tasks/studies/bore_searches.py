"""Bores and bells searched from file to files."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from borewright.errors import ModelError
from borewright.model import Instrument, SideHoles, read_instrument, save_as
from borewright.model.files.tables import number, read_table
from borewright.model.results.bore_search import BoreFeature, BoreSearchResult, TriedBore
from borewright.tasks.inputs import fingerings_of, survey_of
from borewright.tasks.outputs import carrying_tables, check_folder, tables_of
from borewright.tasks.progress import Cancel, Progress, tell
from borewright.words import ENGLISH, Reader, Said, joined, say, say_many

_COLUMNS = ("feature", "from_mm", "to_mm")


@dataclass(frozen=True)
class BoreSearchAnswer:
    """What was tried, and the files of the best designs and their charts."""

    instrument: Instrument
    result: BoreSearchResult
    files: list[Path] = field(default_factory=list)

    @property
    def best(self) -> list[TriedBore]:
        """The designs that none beats in every aim, the best in tune first."""
        return sorted(
            (one for one in self.result.designs if one.best), key=lambda one: one.rms_cents
        )

    def as_dict(self) -> dict[str, Any]:
        """For JSON."""
        return {
            **self.result.model_dump(mode="json"),
            "files": [str(path) for path in self.files],
        }


def read_features(path: Path) -> list[BoreFeature]:
    """Features of a table: ``feature`` (as ``bell.length``), ``from_mm``, ``to_mm``."""
    found = []
    for line, cells in read_table(path, _COLUMNS, ()):
        part, dot, measure = cells["feature"].strip().rpartition(".")
        place = (str(path), say("line {line}", line=line))
        if not dot:
            raise ModelError(
                say("'{name}' is no feature", name=cells["feature"][:60]),
                place=(*place, "feature"),
                remedy=say("Write a part, a dot, and bore, top, bottom or length."),
            )
        ends = {key: number(cells[key].strip(), path, line, key) for key in _COLUMNS[1:]}
        for key, value in ends.items():
            if value is None:
                raise ModelError(
                    say("the range is not whole"),
                    place=(*place, key),
                    remedy=say("Write both ends in mm off the drawing, such as -0.2 and 0.2."),
                )
        found.append(
            BoreFeature(
                part=part, measure=measure,
                from_mm=ends["from_mm"] or 0.0, to_mm=ends["to_mm"] or 0.0,
            )
        )  # fmt: skip
    return found


def search_file(
    file: Path,
    features: Path,
    *,
    tries: int = 40,
    seed: int = 1,
    output: Path | None = None,
    keywork: Path | None = None,
    fingerings: Path | None = None,
    side_holes: SideHoles | None = None,
    words: Reader = ENGLISH,
    progress: Progress | None = None,
    cancel: Cancel | None = None,
) -> BoreSearchAnswer:
    """Try bores and bells of a file's instrument within the ranges of a table.

    Parameters
    ----------
    file, keywork, fingerings, side_holes
        The instrument, as for a fit.
    features
        The table of what is varied.
    tries, seed
        How many designs, and the seed of what is drawn by chance.
    output
        A folder, new or empty, for the best designs and two charts.
    words
        Who reads the charts.
    progress, cancel
        Told after every design; asked there whether to stop: then nothing is saved.

    Raises
    ------
    ModelError, FitError, AcousticsError
        For wrong input, and as a fit does.
    """
    instrument, document = read_instrument(file)
    table = fingerings_of(instrument, file, fingerings)
    survey = survey_of(instrument, file, keywork)
    wanted = read_features(features)
    if output is not None:
        check_folder(output)
        if output.is_dir() and any(output.iterdir()):
            raise ModelError(
                say("is not empty, and a search replaces no file"),
                place=str(output),
                remedy=say("Name a new folder."),
            )
    from borewright.studies import search_bores

    def told(done: int, total: int, best: float) -> None:
        said = say(
            "design {done} of {total}, best {best:.1f} cents", done=done, total=total, best=best
        )
        tell(progress, cancel, done / total, said)

    made, result = search_bores(
        instrument, table, survey, wanted,
        tries=tries, seed=seed, side_holes=side_holes, told=told,
    )  # fmt: skip
    answer = BoreSearchAnswer(instrument, result)
    if output is None:
        return answer
    from borewright.documents import corner_chart, pareto_chart

    tables = tables_of(instrument, file, keywork=keywork, fingerings=fingerings)
    files = []
    for one in answer.best:
        target = output / f"design-{one.number}.toml"
        save_as(carrying_tables(made[one.number], tables, target), target, document)
        files.append(target)
    files.append(pareto_chart(result, output / "pareto.svg", words=words))
    files.append(corner_chart(result, output / "corner.svg", words=words))
    return BoreSearchAnswer(instrument, result, files)


def search_sentences(answer: BoreSearchAnswer) -> list[Said]:
    """What was found, in sentences."""
    result = answer.result
    drawn = result.designs[0]
    told: list[Said] = [
        say_many(
            "{count} design was tried, its holes fitted; {best} of them none other beats in every "
            "aim.",
            "{count} designs were tried, their holes fitted anew to each; {best} of them none "
            "other beats in every aim.",
            len(result.designs),
            best=len(answer.best),
        ),
        say(
            "The drawing's own bore, its holes fitted: rms {rms:.1f} cents, strength in steps of "
            "{db:.2f} dB, cut-off in steps of {hz:.0f} Hz.",
            rms=drawn.rms_cents,
            db=drawn.strength_step_db,
            hz=drawn.cutoff_step_hz,
        ),
    ]
    for head, key in (
        (say("Best in tune"), 0),
        (say("Evenest in strength"), 1),
        (say("Evenest in cut-off"), 2),
    ):
        if answer.best:
            one = min(answer.best, key=lambda each, at=key: each.aims[at])  # type: ignore[misc]
            told.append(
                say(
                    "{head}: design {number}, {changes}: rms {rms:.1f}, worst {worst:+.1f} at "
                    "{note}, {db:.2f} dB, {hz:.0f} Hz.",
                    head=head,
                    number=one.number,
                    changes=_changes(result, one),
                    rms=one.rms_cents,
                    worst=one.worst_cents,
                    note=one.worst_note,
                    db=one.strength_step_db,
                    hz=one.cutoff_step_hz,
                )
            )
    cents, db, hz = result.emulator_errors
    told.append(
        say(
            "All figures are the engine's own; what chose the designs was off by {cents:.1f} "
            "cents, {db:.2f} dB and {hz:.0f} Hz (each left out, root mean square).",
            cents=cents,
            db=db,
            hz=hz,
        )
    )
    return told


def _changes(result: BoreSearchResult, one: TriedBore) -> Said:
    return joined(
        (
            say("{name} {change:+.2f} mm", name=feature.name, change=change)
            for feature, change in zip(result.features, one.changes_mm, strict=True)
        ),
        ", ",
    )
