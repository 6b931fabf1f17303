"""A batch's outlook as files: the two pages, and the charts for a page of one's own."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from borewright.tasks.naming import title
from borewright.tasks.studies.tables import tables
from borewright.tasks.studies.telling import sentences, small_print
from borewright.words import ENGLISH, Reader, say

if TYPE_CHECKING:
    from borewright.tasks.studies.answers import YieldAnswer


def write_yield_papers(found: YieldAnswer, folder: Path, words: Reader = ENGLISH) -> list[Path]:
    """Write ``yield.pdf`` and both charts into a folder, for their reader."""
    from borewright.documents import (
        PlanTable,
        YieldPaper,
        culprits_chart,
        write_yield,
        yield_curve,
    )

    paper = YieldPaper(
        title=say("Outlook of a batch: {instrument}", instrument=title(found.instrument)),
        subtitle=say(
            "{count} instruments, {builds} virtual builds, study {digest}",
            count=found.result.outlook.instruments,
            builds=found.result.good.of,
            digest=found.result.digest[:12],
        ),
        result=found.result,
        sentences=sentences(found),
        # What spoils it stands in a chart.
        tables=[
            PlanTable(each.caption, each.headings, each.rows)
            for each in tables(found, words, kinds=False)
        ],
        small_print=small_print(found),
    )
    return [
        write_yield(paper, folder / "yield.pdf", words=words),
        yield_curve(found.result, folder / "yield-curve.svg", words=words),
        culprits_chart(found.result, folder / "culprits.svg", words=words),
    ]
