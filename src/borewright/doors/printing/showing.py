"""Print jobs and measured coupons as lines of plain text."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from borewright.doors.columns import columns, figure, signed, told
from borewright.doors.showing import closed_words, finding_lines
from borewright.model import Finding
from borewright.tasks.naming import title
from borewright.words import Reader

if TYPE_CHECKING:
    from borewright.printing import Calibration
    from borewright.tasks.printing.job import PrintJob
    from borewright.tasks.printing.key_fit_job import KeyFit


def key_fit_lines(words: Reader, made: KeyFit) -> Iterator[str]:
    """Slices and jigs on a terminal."""
    what = {one.name: " ".join(one.keys) for one in made.blanks}
    what |= {one.name: " ".join(place.post for place in one.posts) for one in made.jigs}
    rows = [
        (one.part, figure(words, one.mass_g, 0), figure(words, one.hours), what[one.part])
        for one in made.estimate.parts
    ]
    yield from columns(
        (words("piece"), "g", words("hours"), words("keys or posts")), rows, right=(1, 2)
    )
    yield from finding_lines(words, made.findings)
    yield from written_lines(words, [part.three_mf for part in made.solids.parts])
    yield from written_lines(words, made.files)


def job_lines(words: Reader, job: PrintJob) -> Iterator[str]:
    """The job on a terminal."""
    yield words.tell(title(job.instrument))
    yield words(
        "printer '{printer}', {material}", printer=job.printer.name, material=job.material.name
    )
    rows = [
        (
            standing.part,
            told(words, standing.down),
            figure(words, standing.height_mm, 0),
            figure(words, cost.mass_g, 0),
            figure(words, cost.hours),
            closed_words(words, body.watertight and body.valid),
            body.three_mf,
        )
        for standing, body, cost in zip(
            job.standings, job.solids.parts, job.estimate.parts, strict=True
        )
    ]
    headings = (
        words("part"),
        words("on its"),
        words("tall mm"),
        "g",
        words("hours"),
        words("surface"),
        words("file"),
    )
    yield from columns(headings, rows, right=(2, 3, 4))
    yield words(
        "together {mass_g:.0f} g, {hours:.1f} h (see the plan)",
        mass_g=job.estimate.mass_g,
        hours=job.estimate.hours,
    )
    for split in job.splits:
        yield words(
            "'{part}' is too tall for the printer: cut at {station_mm:g} mm",
            part=split.part,
            station_mm=split.station_mm,
        )
    if job.compensation:
        sizes = job.compensation.sizes
        most = max(sizes, key=lambda one: abs(one.by_mm), default=None)
        if most:
            yield words(
                "{count} sizes compensated, at most by {by_mm} mm ({part}, {feature})",
                count=len(sizes),
                by_mm=signed(words, most.by_mm, 3),
                part=most.part,
                feature=most.feature,
            )
        for kind, why in job.compensation.refused.items():
            yield words("not compensated: {kind}, {why}", kind=kind, why=why)
    if job.findings:
        yield words("findings")
        yield from finding_lines(words, job.findings)
    yield from written_lines(words, job.solids.beds)
    yield words("assembly  {file}", file=job.solids.assembly)
    yield from written_lines(words, job.files)


def written_lines(words: Reader, paths: Sequence[Path | str]) -> Iterator[str]:
    """A line a file."""
    yield from (words("written   {path}", path=path) for path in paths)


def calibration_lines(words: Reader, calibration: Calibration) -> Iterator[str]:
    """A line a kind: offset and slope with their intervals, scatter, and what was refused."""
    rows = []
    for line in calibration.kinds:
        slope = words("one size only")
        if line.slope_low is not None and line.slope_high is not None:
            percent = [100 * each for each in (line.slope, line.slope_low, line.slope_high)]
            slope = _within(words, percent, 2)
        rows.append(
            (
                told(words, line.kind),
                str(line.readings),
                words("{least:g} to {most:g}", least=line.least_mm, most=line.most_mm),
                _within(words, [line.offset_mm, line.offset_low_mm, line.offset_high_mm], 3),
                slope,
                figure(words, line.scatter_mm, 3),
            )
        )
    yield words("errors of this printer, mm: printed less drawn, with 95 % intervals")
    headings = (
        words("kind"),
        words("readings"),
        words("sizes"),
        words("offset in the middle"),
        words("slope, %"),
        words("scatter"),
    )
    yield from columns(headings, rows, right=(1,))
    for kind, why in calibration.refused.items():
        yield words("  {kind}: not compensated, {why}", kind=kind, why=why)
    if any(line.kind == "length" for line in calibration.kinds):
        yield words("of lengths the offset is what the bed takes off those that begin on it")
    if oval := calibration.ovality:
        yield words(
            "outsides are oval by {percent:.2f} % of the diameter, give or take {sure:.2f}, widest "
            "at {turn_deg:.0f}°: not compensated",
            percent=100 * oval.share,
            sure=100 * oval.sure,
            turn_deg=oval.widest_deg,
        )


def _within(words: Reader, figures: list[float], digits: int) -> str:
    value, low, high = (signed(words, each, digits) for each in figures)
    return words("{value} ({low} to {high})", value=value, low=low, high=high)


def refusal_lines(words: Reader, findings: list[Finding]) -> Iterator[str]:
    """Why nothing was printed, on a terminal."""
    yield words("nothing was made: faults were found")
    yield from finding_lines(words, findings)
    yield words("Mend them, or go on with --despite-faults; the plan will say so.")
