"""The yield of a batch from a study that lies solved."""

from __future__ import annotations

import math
from pathlib import Path

from borewright.model.results.yields import NoteYield, YieldResult
from borewright.studies.allotting import allotment_of
from borewright.studies.counting import Counted, counted
from borewright.studies.culprits import culprits_of
from borewright.studies.judging import Judge, Rule
from borewright.studies.outlook import outlook_of
from borewright.studies.plan import Study
from borewright.studies.precision import largest_difference
from borewright.studies.sample import Sample, sample_of
from borewright.studies.shares import share_of
from borewright.studies.telling import telling_notes

#: Builds of every study that are solved anew by the counting sweep.
CHECKED = 12


def yield_of(
    study: Study,
    folder: Path,
    rule: Rule | None = None,
    *,
    instruments: int = 12,
    wanted: float | None = None,
    checked: int = CHECKED,
) -> tuple[YieldResult, Sample]:
    """What share of a batch will do, what spoils the others, and the builds at hand.

    Parameters
    ----------
    study, folder
        A study, and where :func:`run_study` has kept it.
    rule
        What is asked of a build.
    instruments
        How many the batch is.
    wanted
        A yield (0 to 1) that scatters are allotted for; None allots none.
    checked
        How many builds are solved anew to state the precision.
    """
    judge = Judge(study, rule or Rule())
    found = counted(study, judge, folder)
    sample = sample_of(study, judge, found.first)
    kinds, singles = culprits_of(sample)
    telling, told_share = telling_notes(sample)
    good = share_of(found.good, found.builds)
    notes = _notes(judge, found)
    result = YieldResult(
        instrument=study.instrument.name,
        digest=study.digest,
        within_cents=judge.rule.within_cents,
        against_design=judge.rule.against_design,
        barrel_mm=judge.rule.barrel_mm,
        seed=study.seed,
        good=good,
        beyond=share_of(found.beyond, found.builds),
        beyond_cents=judge.rule.beyond_cents,
        lost=found.lost,
        notes_off=_notes_off(found),
        notes=notes,
        design_off=[n.fingering for n in notes if abs(n.design_cents) > judge.rule.within_cents],
        kinds=kinds,
        singles=singles,
        telling=telling,
        telling_share=told_share,
        outlook=outlook_of(study, judge, instruments, good.value),
        allotment=None if wanted is None else allotment_of(sample, kinds, wanted),
        first_order=share_of(found.linear, found.builds),
        first_order_rms_cents=math.sqrt(found.squares / (found.builds * len(judge.counted))),
        precision_cents=largest_difference(study, found.first, judge.counted, checked),
        checked=min(checked, len(found.first)),
        by_sweep=found.by_sweep,
        curve=found.curve,
        model_level=study.level,
        climate=study.climate,
    )
    return result, sample


def _notes_off(found: Counted) -> float:
    """Mean notes off of an instrument that hands can put right; 0 where there is none."""
    tunable = found.builds - found.good - found.beyond
    return found.tunable_off / tunable if tunable else 0.0


def _notes(judge: Judge, found: Counted) -> list[NoteYield]:
    design = judge.deviations(judge.nominal_cents[None, :])[0]
    return [
        NoteYield(
            fingering=name,
            design_cents=float(design[n]),
            scatter_cents=float(found.scatter[n]),
            off=float(found.notes_off[n] / found.builds),
        )
        for n, name in enumerate(judge.names)
    ]
