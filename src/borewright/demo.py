"""The whole way on the invented clarinet, from keywork survey to solids and report."""

from __future__ import annotations

import time
from collections.abc import Callable
from pathlib import Path

from borewright.doors.progress import at_work
from borewright.errors import Stopped
from borewright.model import SolidsReport
from borewright.tasks.own_folder import OwnFolder

Say = Callable[[str], None]


def run_demo(folder: Path, say: Say) -> list[Path]:
    """Copy the example, tune, fit, save, check, make solids and the report; list the files.

    Parameters
    ----------
    folder
        New, empty, or holding nothing but files of a former demo, which are replaced.
    say
        Told a line at a time what was done and how long it took.

    Raises
    ------
    ModelError
        Where the folder holds anything else, or cannot be written.
    """
    from borewright.doors.python import load, tuning
    from borewright.doors.showing import check_lines, summary_words, title
    from borewright.tasks.checking import check_file
    from borewright.tasks.examples import Example, copy_example
    from borewright.tasks.fitting import fit_file
    from borewright.tasks.making import make_solids
    from borewright.tasks.reporting import write_report
    from borewright.tasks.running import meanwhile

    own = OwnFolder(folder)
    steps = _Steps(say)

    original = own.add(copy_example(Example.CLARINET, folder))[0]
    instrument = load(original)
    steps.done(f"copied the example: {title(instrument)}")

    table = tuning(instrument)
    steps.done(f"tuned {len(table.notes)} fingerings: {summary_words(table.summary)}")

    with at_work("fitting") as (progress, cancel):
        fit = fit_file(original, folder / "clarinet-fitted.toml", progress=progress, cancel=cancel)
    own.add([fit.output])
    if not fit.result.finished:
        raise Stopped  # the best so far is saved, but this is no way to go on
    steps.done(
        f"fitted in {fit.result.rounds} rounds: {summary_words(fit.result.after.summary)}; "
        f"{len(fit.result.out_of_reach)} notes out of reach"
    )

    # The kernel of the solids and the report's figures each keep a core busy.
    with meanwhile(make_solids, fit.output, folder / "solids") as made_solids:
        *findings, count = check_lines(fit.output.name, check_file(fit.output))
        steps.done(f"checked {count}", findings)

        def solids() -> SolidsReport:
            report = made_solids()
            own.add(sorted((folder / "solids").iterdir()))
            steps.done(f"made solids of {len(report.parts)} parts, and the drawings meanwhile")
            return report

        report = write_report(
            folder,
            fit.before,
            fit.after,
            fit.result,
            fit.fingerings,
            solids=solids,
            file=fit.output.name,
        )
    own.add(report)
    steps.done("wrote the report")

    say(f"{steps.total():6.1f} s  altogether")
    say("files:")
    for path in own.files:
        say(f"  {path}")
    say(f"Open the report: {report[0]}")
    return own.files


class _Steps:
    """Says what was done, and how long it took."""

    def __init__(self, say: Say) -> None:
        self._say = say
        self._begun = self._last = time.perf_counter()

    def done(self, words: str, more: list[str] | None = None) -> None:
        now = time.perf_counter()
        self._say(f"{now - self._last:6.1f} s  {words}")
        for line in more or []:
            self._say(f"         {line}")
        self._last = now

    def total(self) -> float:
        return time.perf_counter() - self._begun
