"""Print jobs and measured coupons as lines of plain text."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from borewright.doors.columns import columns, signed
from borewright.doors.showing import finding_lines
from borewright.tasks.naming import title

if TYPE_CHECKING:
    from borewright.printing import Calibration
    from borewright.tasks.printing.job import PrintJob


def job_lines(job: PrintJob) -> Iterator[str]:
    """The job on a terminal."""
    yield title(job.instrument)
    yield f"printer '{job.printer.name}', {job.material.name}"
    rows = []
    for standing, body, cost in zip(
        job.standings, job.solids.parts, job.estimate.parts, strict=True
    ):
        closed = "closed" if body.watertight and body.valid else "NOT CLOSED: do not print"
        rows.append(
            (
                standing.part,
                standing.down,
                f"{standing.height_mm:.0f}",
                f"{cost.mass_g:.0f}",
                f"{cost.hours:.1f}",
                closed,
                body.three_mf,
            )
        )
    headings = ("part", "on its", "tall mm", "g", "hours", "surface", "file")
    yield from columns(headings, rows, right=(2, 3, 4))
    yield f"together {job.estimate.mass_g:.0f} g, {job.estimate.hours:.1f} h (see the plan)"
    for split in job.splits:
        yield f"'{split.part}' is too tall for the printer: cut at {split.station_mm:g} mm"
    if job.compensation:
        sizes = job.compensation.sizes
        most = max(sizes, key=lambda one: abs(one.by_mm), default=None)
        if most:
            yield (
                f"{len(sizes)} sizes compensated, at most by {signed(most.by_mm, 3)} mm "
                f"({most.part}, {most.feature})"
            )
        for kind, why in job.compensation.refused.items():
            yield f"not compensated: {kind.value}, {why}"
    if job.findings:
        yield "findings"
        yield from finding_lines(job.findings)
    yield f"assembly  {job.solids.assembly}"
    for path in job.files:
        yield f"written   {path}"


def calibration_lines(calibration: Calibration) -> Iterator[str]:
    """A line a kind: offset and slope with their intervals, scatter, and what was refused."""
    rows = []
    for line in calibration.kinds:
        slope = "one size only"
        if line.slope_low is not None and line.slope_high is not None:
            slope = f"{signed(100 * line.slope, 2)} ({signed(100 * line.slope_low, 2)} to "
            slope += f"{signed(100 * line.slope_high, 2)})"
        rows.append(
            (
                line.kind.value,
                str(line.readings),
                f"{line.least_mm:g} to {line.most_mm:g}",
                f"{signed(line.offset_mm, 3)} ({signed(line.offset_low_mm, 3)} to "
                f"{signed(line.offset_high_mm, 3)})",
                slope,
                f"{line.scatter_mm:.3f}",
            )
        )
    yield "errors of this printer, mm: printed less drawn, with 95 % intervals"
    headings = ("kind", "readings", "sizes", "offset in the middle", "slope, %", "scatter")
    yield from columns(headings, rows, right=(1,))
    for kind, why in calibration.refused.items():
        yield f"  {kind.value}: not compensated, {why}"
