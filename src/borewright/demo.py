"""The whole way on the invented clarinet, from keywork survey to solids and report."""

from __future__ import annotations

import time
from collections.abc import Callable
from pathlib import Path

from borewright.doors.progress import at_work
from borewright.errors import Stopped
from borewright.model import SolidsReport
from borewright.tasks.own_folder import OwnFolder
from borewright.words import ENGLISH, Reader, say

Tell = Callable[[str], None]


def run_demo(folder: Path, tell: Tell, words: Reader = ENGLISH) -> list[Path]:
    """Copy the example, tune, fit, save, check, make solids and the report; list the files.

    Parameters
    ----------
    folder
        New, empty, or holding nothing but files of a former demo, which are replaced.
    tell
        Told a line at a time what was done and how long it took.
    words
        Who reads those lines, and the report.

    Raises
    ------
    ModelError
        Where the folder holds anything else, or cannot be written.
    """
    from borewright.doors.python import load, tuning
    from borewright.doors.showing import check_lines, summary_words
    from borewright.tasks.checking import check_file
    from borewright.tasks.examples import Example, copy_example
    from borewright.tasks.fitting import designs_of, fit_file
    from borewright.tasks.inputs import keys_of, survey_of
    from borewright.tasks.making import make_solids
    from borewright.tasks.naming import title
    from borewright.tasks.reporting import write_report
    from borewright.tasks.running import meanwhile

    own = OwnFolder(folder)
    steps = _Steps(tell, words)

    original = own.add(copy_example(Example.CLARINET, folder))[0]
    instrument = load(original)
    steps.done(words("copied the example: {instrument}", instrument=title(instrument)))

    table = tuning(instrument)
    summary = summary_words(words, table.summary)
    steps.done(
        words("tuned {count} fingerings: {summary}", count=len(table.notes), summary=summary)
    )

    with at_work(words, say("fitting")) as (progress, cancel):
        fit = fit_file(original, folder / "clarinet-fitted.toml", progress=progress, cancel=cancel)
    own.add([fit.output])
    if not fit.result.finished:
        raise Stopped  # the best so far is saved, but this is no way to go on
    steps.done(
        words(
            "fitted in {rounds} rounds: {summary}; {count} notes out of reach",
            rounds=fit.result.rounds,
            summary=summary_words(words, fit.result.after.summary),
            count=len(fit.result.out_of_reach),
        )
    )

    # The kernel of the solids and the report's figures each keep a core busy.
    with meanwhile(make_solids, fit.output, folder / "solids") as made_solids:
        *findings, count = check_lines(words, fit.output.name, check_file(fit.output))
        steps.done(words("checked {count}", count=count), findings)

        def solids() -> SolidsReport:
            report = made_solids()
            own.add(sorted((folder / "solids").iterdir()))
            steps.done(
                words(
                    "made solids of {count} parts, and the drawings meanwhile",
                    count=len(report.parts),
                )
            )
            return report

        with at_work(words, say("designs")) as (progress, cancel):
            family = designs_of(
                fit.after,
                fit.fingerings,
                survey_of(fit.after, fit.output),
                progress=progress,
                cancel=cancel,
            )
        report = write_report(
            folder,
            fit.before,
            fit.after,
            fit.result,
            fit.fingerings,
            solids=solids,
            family=family,
            file=fit.output.name,
            keys=keys_of(fit.after, fit.output),
            words=words,
        )
    own.add(report)
    steps.done(words("wrote the report"))

    tell(words("{seconds:6.1f} s  altogether", seconds=steps.total()))
    tell(words("files:"))
    for path in own.files:
        tell(f"  {path}")
    tell(words("Open the report: {path}", path=report[0]))
    return own.files


class _Steps:
    """Says what was done, and how long it took."""

    def __init__(self, tell: Tell, words: Reader) -> None:
        self._tell, self._words = tell, words
        self._begun = self._last = time.perf_counter()

    def done(self, what: str, more: list[str] | None = None) -> None:
        now = time.perf_counter()
        self._tell(f"{self._words.number(now - self._last, '6.1f')} s  {what}")
        for line in more or []:
            self._tell(f"         {line}")
        self._last = now

    def total(self) -> float:
        return time.perf_counter() - self._begun
