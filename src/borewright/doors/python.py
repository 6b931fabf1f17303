"""The Python door: the rooms' functions, with an instrument's own tables where none are given.

A file names its fingering table and keywork survey relative to its own folder. :func:`load`
therefore remembers, for as long as the instrument lives, which file it came from; the
instrument itself stays a plain value, equal to any other with the same dimensions.
"""

from __future__ import annotations

import weakref
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from borewright.model import FingeringTable, FitResult, Instrument, KeyworkSurvey, read_fingerings
from borewright.model import load as read_file
from borewright.tasks.inputs import fingerings_of, survey_of

if TYPE_CHECKING:
    from numpy import ndarray

    from borewright.acoustics import Air
    from borewright.model import (
        CharacterTable,
        Differences,
        Doubts,
        ErrorBars,
        SensitivityMap,
        SolidsReport,
        TuningTable,
    )
    from borewright.model.results.yields import YieldResult

#: Every living instrument that came from a file, with that file.
_LOADED: list[tuple[weakref.ref[Instrument], Path]] = []


def load(path: Path | str) -> Instrument:
    """Read and validate an instrument file (TOML), and remember where it came from.

    Raises ModelError with file, line or key, cause and remedy.
    """
    instrument = read_file(path)
    _remember(instrument, Path(path).absolute())
    return instrument


def file_of(instrument: Instrument) -> Path | None:
    """The file that an instrument was loaded from; None for one made in Python."""
    return next((file for loaded, file in _LOADED if loaded() is instrument), None)


def _remember(instrument: Instrument, file: Path) -> None:
    _LOADED[:] = [entry for entry in _LOADED if entry[0]() is not None]
    _LOADED.insert(0, (weakref.ref(instrument), file))


def tuning(
    instrument: Instrument | Path | str,
    fingerings: FingeringTable | Path | str | None = None,
    air: Air | None = None,
    *,
    side_holes: str | None = None,
    progress: Callable[[int, int], None] | None = None,
) -> TuningTable:
    """Predict the pitch of every fingering, in cents against the pitch standard.

    Parameters
    ----------
    instrument
        An instrument, or the path of its file.
    fingerings
        A table, or the path of one; None reads the table that the instrument's file names.
    air
        Explicit constants instead of the instrument's climate.
    side_holes
        ``"solved in 3-D"``, or ``"closed forms"`` for study; None, the default, takes the level
        that the instrument was fitted at, or solved where it tells none (see the page on solved
        holes).
    progress
        Called as ``progress(done, total)`` while holes are solved.

    Raises
    ------
    ModelError
        Where a file cannot be read, no table is known, or table and instrument disagree.
    AcousticsError
        Where holes are to be solved in 3-D and cannot be.
    """
    from borewright import acoustics

    subject = _instrument(instrument)
    table = _fingerings(subject, fingerings)
    return acoustics.tuning(subject, table, air, side_holes=side_holes, progress=progress)


def sensitivity(
    instrument: Instrument | Path | str,
    fingerings: FingeringTable | Path | str | None = None,
    air: Air | None = None,
    *,
    side_holes: str | None = None,
    progress: Callable[[int, int], None] | None = None,
) -> SensitivityMap:
    """Cents per 0.1 mm of every dimension, for every fingering; arguments as for tuning."""
    from borewright import acoustics

    subject = _instrument(instrument)
    table = _fingerings(subject, fingerings)
    return acoustics.sensitivity(subject, table, air, side_holes=side_holes, progress=progress)


def error_bars(
    instrument: Instrument | Path | str,
    fingerings: FingeringTable | Path | str | None = None,
    doubts: Doubts | None = None,
    *,
    side_holes: str | None = None,
    progress: Callable[[int, int], None] | None = None,
) -> ErrorBars:
    """How sure each note is (standard deviation, cents), split by cause, to first order.

    ``doubts`` are standard deviations of sizes, climate, player and model, each with a default;
    the other arguments are those of tuning.
    """
    from borewright import acoustics

    subject = _instrument(instrument)
    table = _fingerings(subject, fingerings)
    return acoustics.error_bars(subject, table, doubts, side_holes=side_holes, progress=progress)


def virtual_builds(
    instrument: Instrument | Path | str,
    fingerings: FingeringTable | Path | str | None = None,
    doubts: Doubts | None = None,
    *,
    builds: int = 10_000,
    seed: int = 1,
    side_holes: str | None = None,
) -> ndarray:
    """Cents of every fingering in many builds that differ as ``doubts`` say, [builds, F].

    ``seed`` is that of the random numbers; a note that a build has lost is NaN. The other
    arguments are those of error_bars.
    """
    from borewright import acoustics

    subject = _instrument(instrument)
    table = _fingerings(subject, fingerings)
    return acoustics.virtual_builds(
        subject, table, doubts, builds=builds, seed=seed, side_holes=side_holes
    )


def batch_yield(
    instrument: Instrument | Path | str,
    fingerings: FingeringTable | Path | str | None = None,
    making: Doubts | None = None,
    *,
    within_cents: float = 8.0,
    against_design: bool = False,
    barrel_mm: float = 0.0,
    instruments: int = 12,
    wanted: float | None = None,
    builds: int = 2048,
    seed: int = 1,
    keep: Path | str | None = None,
    side_holes: str | None = None,
    progress: Callable[[int, int], None] | None = None,
) -> YieldResult:
    """How many of a batch will be in tune as made, and what spoils the others.

    Parameters
    ----------
    instrument, fingerings, side_holes
        As for tuning.
    making
        Standard deviations (mm) of dimensions by kind, common to all and of each; those of climate,
        player and model play no part. None takes the defaults of ``Doubts``.
    within_cents, against_design
        No standard fingering may be further from the pitch standard, or from the design.
    barrel_mm
        Each instrument gets the barrel that suits it, up to so much shorter or longer.
    instruments
        How many the batch is.
    wanted
        A yield (0 to 1) that tolerances are allotted for.
    builds, seed
        How many virtual instruments, and the seed of their random numbers.
    keep
        A folder where builds are kept (Parquet) and from which a study goes on.
    progress
        Called as ``progress(done, total)`` after each chunk of builds; it may raise to stop.

    Raises
    ------
    ModelError, AcousticsError
        For input that cannot be read, numbers that make no study, and a folder of another one.
    """
    from tempfile import TemporaryDirectory

    from borewright import studies
    from borewright.model import Doubts

    subject = _instrument(instrument)
    rule = studies.Rule(
        within_cents=within_cents,
        beyond_cents=max(15.0, within_cents),
        against_design=against_design,
        barrel_mm=barrel_mm,
    )
    study = studies.study_of(
        subject,
        _fingerings(subject, fingerings),
        Doubts() if making is None else making,
        builds=builds,
        seed=seed,
        side_holes=side_holes,
    )
    with TemporaryDirectory(prefix="borewright-") as passing:
        folder = studies.run_study(study, Path(keep or passing), told=progress)
        result, _ = studies.yield_of(study, folder, rule, instruments=instruments, wanted=wanted)
    return result


def character(
    instrument: Instrument | Path | str,
    fingerings: FingeringTable | Path | str | None = None,
    air: Air | None = None,
) -> CharacterTable:
    """Peaks, alignment, cut-off, radiated share, venting, evenness; arguments as for tuning."""
    from borewright.acoustics.character import character as character_in_room

    subject = _instrument(instrument)
    return character_in_room(subject, _fingerings(subject, fingerings), air)


def differences(
    first: Instrument | Path | str,
    second: Instrument | Path | str,
    fingerings: FingeringTable | Path | str | None = None,
) -> Differences:
    """Two instruments side by side: pitch, twelfths and character, the second less the first.

    ``fingerings`` go before both instruments' own tables; both are computed at the level of the
    first.
    """
    from borewright.acoustics.character import differences as differences_in_room

    one, other = _instrument(first), _instrument(second)
    # A copy belongs to no file: its table is looked up first.
    table = _fingerings(other, fingerings)
    return differences_in_room(character(one, fingerings), character(other.at_level_of(one), table))


def fit_instrument(
    instrument: Instrument | Path | str,
    fingerings: FingeringTable | Path | str | None = None,
    survey: KeyworkSurvey | Path | str | None = None,
    *,
    side_holes: str | None = None,
    progress: Callable[[int, float, float], None] | None = None,
    hole_progress: Callable[[int, int], None] | None = None,
    most_rounds: int = 60,
) -> tuple[Instrument, FitResult]:
    """Move the free dimensions so that the fingerings are in tune, within every limit.

    Parameters
    ----------
    instrument, fingerings
        As for tuning.
    survey
        A keywork survey, or the path of one; None reads the survey that the instrument's
        file names, if it names one. ``KeyworkSurvey(rows=[])`` fits without any.
    side_holes
        As for tuning; solved holes are solved anew for what the fit finds, until it rests.
    progress
        Called every round with its number, root mean square and worst cents.
    hole_progress
        Called as ``hole_progress(done, total)`` while holes are solved.
    most_rounds
        A ceiling on rounds.

    Returns
    -------
    tuple
        The fitted instrument, which belongs to the same file as the one given, and the result.

    Raises
    ------
    ModelError, FitError, AcousticsError
        For input that cannot be read or does not belong together, and a fit that cannot start.
    """
    from borewright.fit.fitting import fit

    subject = _instrument(instrument)
    fitted, result = fit(
        subject,
        _fingerings(subject, fingerings),
        _survey(subject, survey),
        side_holes=side_holes,
        progress=progress,
        hole_progress=hole_progress,
        most_rounds=most_rounds,
    )
    file = file_of(subject)
    if file is not None:
        _remember(fitted, file)
    return fitted, result


def export_solids(
    instrument: Instrument | Path | str,
    folder: Path | str,
    survey: KeyworkSurvey | Path | str | None = None,
    *,
    progress: Callable[[str, int, int], None] | None = None,
) -> SolidsReport:
    """Write STEP, STL and 3MF of every part, with the seats for the posts of the keywork.

    Parameters
    ----------
    instrument, survey
        As for fit_instrument; ``KeyworkSurvey(rows=[])`` makes bodies without posts.
    folder
        Made if missing; files of the same names are replaced.
    progress
        Called as ``progress(part_name, done, total)``.

    Raises
    ------
    ModelError, SolidsError
        For input that cannot be read, and parts that cannot be made or written.
    """
    from borewright import solids

    subject = _instrument(instrument)
    posts = solids.plan_posts(subject, _survey(subject, survey))
    return solids.export_solids(subject, folder, progress, posts=posts)


def _survey(
    instrument: Instrument, given: KeyworkSurvey | Path | str | None
) -> KeyworkSurvey | None:
    if isinstance(given, KeyworkSurvey):
        given.check_against(instrument)
        return given
    return survey_of(instrument, file_of(instrument), None if given is None else Path(given))


def _instrument(given: Instrument | Path | str) -> Instrument:
    return given if isinstance(given, Instrument) else load(given)


def _fingerings(
    instrument: Instrument, given: FingeringTable | Path | str | None
) -> FingeringTable:
    if isinstance(given, FingeringTable):
        return given
    if given is not None:
        return read_fingerings(given)
    return fingerings_of(instrument, file_of(instrument))
