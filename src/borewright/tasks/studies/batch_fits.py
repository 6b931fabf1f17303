"""A fit for a whole batch, from file to file."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from borewright.model import Instrument, SideHoles, read_instrument, save_as
from borewright.model.results.yields import BatchFitResult
from borewright.tasks.fitting import saved_where
from borewright.tasks.inputs import fingerings_of, survey_of
from borewright.tasks.outputs import carrying_tables, tables_of
from borewright.tasks.progress import Cancel, Progress, tell
from borewright.tasks.studies.answers import YieldWishes
from borewright.tasks.studies.yields import making_now
from borewright.words import Message, Said, say


@dataclass(frozen=True)
class BatchFit:
    """The design to build, what was found, and where it was saved."""

    before: Instrument
    after: Instrument
    result: BatchFitResult
    output: Path
    notes: list[Message]

    def as_dict(self) -> dict[str, Any]:
        """For JSON."""
        return {
            **self.result.model_dump(mode="json"),
            "notes": [str(note) for note in self.notes],
            "output": str(self.output),
        }


def fit_batch_file(
    file: Path,
    output: Path | None,
    wishes: YieldWishes | None = None,
    *,
    keywork: Path | None = None,
    fingerings: Path | None = None,
    force: bool = False,
    side_holes: SideHoles | None = None,
    progress: Progress | None = None,
    cancel: Cancel | None = None,
) -> BatchFit:
    """Fit the instrument of a file so that most of a batch will do, and save it.

    Parameters
    ----------
    file, output, keywork, fingerings, force, side_holes
        As for a fit.
    wishes
        What is asked of a batch and how it is made; money plays no part.
    progress, cancel
        Told after every fit; asked there whether to stop: then nothing is saved.

    Raises
    ------
    ModelError, FitError, PrintingError, AcousticsError
        As a fit and a study do.
    """
    wishes = wishes or YieldWishes()
    before, document = read_instrument(file)
    table = fingerings_of(before, file, fingerings)
    survey = survey_of(before, file, keywork)
    tables = tables_of(before, file, keywork=keywork, fingerings=fingerings)
    target = saved_where(file, output, force, tables.values())
    making = making_now(wishes)
    from borewright.studies import Rule, fit_for_batch
    from borewright.studies.batch_fit import ROUNDS

    rule = Rule(
        within_cents=wishes.within_cents,
        beyond_cents=max(wishes.beyond_cents, wishes.within_cents),
        barrel_mm=wishes.barrel_mm,
    )

    def told(number: int, share: float) -> None:
        said = say("fit {number}: {share:.1f} % would do", number=number, share=100 * share)
        tell(progress, cancel, 0.9 * (number + 1) / (ROUNDS + 1), said)

    made, result = fit_for_batch(
        before, table, survey, making.scatter, rule,
        builds=wishes.builds, seed=wishes.seed, side_holes=side_holes, told=told,
    )  # fmt: skip
    after = carrying_tables(made, tables, target)
    save_as(after, target, document)
    return BatchFit(before, after, result, target, making.notes)


def batch_fit_sentences(done: BatchFit) -> list[Said]:
    """What was found, in sentences."""
    result = done.result
    one, other = result.nominal, result.batch
    told: list[Said] = [
        say(
            "Fitted as usual: rms {rms:.1f} cents, worst {worst:+.1f} at {note}; "
            "{percent:.1f} % of {builds} virtual instruments will do as they come (95 % interval "
            "{low:.1f} to {high:.1f} %), every standard note within {within:g} cents.",
            rms=one.rms_cents,
            worst=one.worst_cents,
            note=one.worst_note,
            percent=100 * one.share.value,
            builds=result.builds,
            low=100 * one.share.low,
            high=100 * one.share.high,
            within=result.within_cents,
        )
    ]
    if not result.better:
        told.append(
            say(
                "No design was found whose batch is surely better (best {gained:+.1f} %, "
                "± {sure:.1f}): the usual one is saved.",
                gained=100 * result.gained,
                sure=100 * result.sure,
            )
        )
        return told
    told.append(
        say(
            "Fitted for the batch: rms {rms:.1f} cents, worst {worst:+.1f} at {note}; "
            "{percent:.1f} % will do (95 % interval {low:.1f} to {high:.1f} %), {gained:+.1f} % "
            "(± {sure:.1f}) of the same builds.",
            rms=other.rms_cents,
            worst=other.worst_cents,
            note=other.worst_note,
            percent=100 * other.share.value,
            low=100 * other.share.low,
            high=100 * other.share.high,
            gained=100 * result.gained,
            sure=100 * result.sure,
        )
    )
    heavy = sorted(result.weights.items(), key=lambda pair: -pair[1])[:6]
    told.append(
        say(
            "It weighs most: {notes}. The file keeps these weights (note_weights).",
            notes=", ".join(name for name, _ in heavy),
        )
    )
    return told
