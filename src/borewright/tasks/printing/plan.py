"""The print job as a plan on paper."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from borewright.tasks.naming import title
from borewright.words import ENGLISH

if TYPE_CHECKING:
    from borewright.documents import PlanSection, PlanTable
    from borewright.tasks.printing.job import PrintJob


def write_print_plan(job: PrintJob, path: Path) -> Path:
    """Write the plan as PDF."""
    from borewright.documents import write_plan

    subtitle = (
        f"Printer '{job.printer.name}', {job.material.name}, layers of {job.printer.layer_mm:g} mm"
    )
    return write_plan(path, f"Print plan: {title(job.instrument)}", subtitle, _sections(job))


def _sections(job: PrintJob) -> list[PlanSection]:
    from borewright.documents import PlanSection, PlanTable

    parts = [
        (one.part, one.down, f"{one.height_mm:.1f}", f"{one.across_mm:.1f}", one.reason)
        for one in job.standings
    ]
    table = PlanTable(
        "How each part stands, in mm",
        ("part", "on its", "tall", "wide", "why"),
        parts,
        (0, 1, 4),
    )
    advice = [f"{part}: {' '.join(map(str, words))}" for part, words in job.advice.items()]
    sections = [PlanSection("Standing, brim and support", points=advice, tables=[table])]
    if job.splits:
        rows = [
            (
                one.part,
                f"{one.station_mm:.1f}",
                f"{one.tenon_length_mm:g}",
                f"{one.tenon_diameter_mm:.2f}",
                f"{one.socket_diameter_mm:.2f}",
            )
            for one in job.splits
        ]
        cut = PlanTable(
            "Bonded joints, in mm",
            ("part", "cut at", "tenon long", "tenon", "socket"),
            rows,
        )
        words = (
            "These parts are taller than the printer. Bond the pieces dry-fitted first, a rod of "
            "the bore's size inside to keep them true, and ream over the joint when it has cured."
        )
        sections.append(PlanSection("Parts printed in two", [words], tables=[cut]))
    found = [
        f"{one.severity.capitalize()}, {ENGLISH.place(one.place)}: {one.what}. {one.remedy}"
        for one in job.findings
    ]
    sections.append(PlanSection("Findings", [] if found else ["None."], points=found))
    sections.append(_estimate(job))
    if job.compensation:
        sections.append(_compensation(job))
    if job.reaming:
        sections.append(PlanSection("Reaming and finishing, in this order", steps=job.reaming))
    return sections


def _estimate(job: PrintJob) -> PlanSection:
    from borewright.documents import PlanSection, PlanTable

    rows = [
        (
            one.part,
            f"{one.volume_mm3 / 1000:.1f}",
            f"{one.mass_g:.0f}",
            f"{one.filament_m:.1f}",
            f"{one.hours:.1f}",
            f"{one.cost:.2f}",
        )
        for one in job.estimate.parts
    ]
    total = job.estimate
    rows.append(
        (
            "all",
            f"{sum(one.volume_mm3 for one in total.parts) / 1000:.1f}",
            f"{total.mass_g:.0f}",
            f"{total.filament_m:.1f}",
            f"{total.hours:.1f}",
            f"{total.cost:.2f}",
        )
    )
    heads = ("part", "cm³", "g", "filament m", "hours", "cost")
    sources = "; ".join(f"{key} {words}" for key, words in job.material.sources.items())
    return PlanSection(
        "Mass, filament and time",
        [total.method, f"Where the material's figures come from: {sources}."],
        tables=[PlanTable("Estimate, supports not counted", heads, rows)],
    )


def _compensation(job: PrintJob) -> PlanSection:
    from borewright.documents import PlanSection

    made = job.compensation
    assert made is not None
    words = [
        "Sizes were drawn larger or smaller so that this printer's mean error brings them back; "
        "the scatter is one standard deviation of what remains on each."
    ]
    words += [f"Not compensated: {kind.value}, {why}." for kind, why in made.refused.items()]
    if any(one.beyond for one in made.sizes):
        words.append(
            "Sizes marked with a star lie beyond those on the coupon: their line is stretched."
        )
    return PlanSection("Compensation", words, tables=[compensation_table(job)])


def compensation_table(job: PrintJob) -> PlanTable:
    """Every redrawn size, for paper."""
    from borewright.documents import PlanTable

    made = job.compensation
    assert made is not None
    rows = [
        (
            one.part,
            f"{one.feature}{' *' if one.beyond else ''}",
            str(one.kind),
            f"{one.designed_mm:.2f}",
            f"{one.drawn_mm:.3f}",
            f"{one.by_mm:+.3f}",
            f"{one.scatter_mm:.3f}",
        )
        for one in made.sizes
    ]
    heads = ("part", "feature", "kind", "designed", "drawn", "by", "scatter")
    return PlanTable("Compensated sizes, in mm", heads, rows, (0, 1, 2))
