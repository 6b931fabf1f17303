"""The print job as a plan on paper."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from borewright.model import Severity
from borewright.tasks.naming import title
from borewright.words import ENGLISH, Reader, Text, joined, listed, say, say_many

if TYPE_CHECKING:
    from borewright.documents import PlanSection, PlanTable
    from borewright.printing import Estimate, PartEstimate
    from borewright.tasks.printing.job import PrintJob


def write_print_plan(job: PrintJob, path: Path, words: Reader = ENGLISH) -> Path:
    """Write the plan as PDF, for its reader."""
    from borewright.documents import write_plan

    subtitle = say(
        "Printer '{printer}', {material}, layers of {layer_mm:g} mm",
        printer=job.printer.name,
        material=job.material.name,
        layer_mm=job.printer.layer_mm,
    )
    heading = say("Print plan: {instrument}", instrument=title(job.instrument))
    return write_plan(path, heading, subtitle, _sections(job, words), words=words)


def _sections(job: PrintJob, words: Reader) -> list[PlanSection]:
    from borewright.documents import PlanSection, PlanTable

    standing = PlanTable(
        say("How each part stands, in mm"),
        (say("part"), say("on its"), say("tall"), say("wide"), say("why")),
        [
            (
                one.part,
                words.tell(one.down.words),
                words.number(one.height_mm, ".1f"),
                words.number(one.across_mm, ".1f"),
                one.reason,
            )
            for one in job.standings
        ],
        (0, 1, 4),
    )
    advice = [
        say("{part}: {advice}", part=part, advice=joined(each)) for part, each in job.advice.items()
    ]
    advice += [
        say(
            "Together on one bed: {parts} ({file}). A part that works loose spoils its neighbours; "
            "the parts' own files print them one by one.",
            parts=", ".join(one.part for one in bed.places),
            file=f"{bed.name}.3mf",
        )
        for bed in job.beds
    ]
    sections = [PlanSection(say("Standing, brim and support"), points=advice, tables=[standing])]
    if job.splits:
        sections.append(_splits(job, words))
    found = [
        say(
            "{severity}, {place}: {what}. {remedy}",
            severity=words.tell(one.severity.words).capitalize(),
            place=words.place(one.place),
            what=one.what,
            remedy=one.remedy,
        )
        for one in job.findings
    ]
    told = [] if found else [say("None.")]
    faults = sum(one.severity is Severity.FAULT for one in job.findings)
    if faults and job.despite_faults:
        told.append(
            say_many(
                "Printed in spite of {count} fault: somebody said to go on.",
                "Printed in spite of {count} faults: somebody said to go on.",
                faults,
            )
        )
    sections.append(PlanSection(say("Findings"), told, points=found))
    sections.append(_estimate(job, words))
    if job.compensation:
        sections.append(_compensation(job, words))
    if job.reaming:
        heading = say("Reaming and finishing, in this order")
        sections.append(PlanSection(heading, steps=job.reaming))
    return sections


def _splits(job: PrintJob, words: Reader) -> PlanSection:
    from borewright.documents import PlanSection, PlanTable

    cut = PlanTable(
        say("Bonded joints, in mm"),
        (say("part"), say("cut at"), say("tenon long"), say("tenon"), say("socket")),
        [
            (
                one.part,
                words.number(one.station_mm, ".1f"),
                words.number(one.tenon_length_mm, "g"),
                words.number(one.tenon_diameter_mm, ".2f"),
                words.number(one.socket_diameter_mm, ".2f"),
            )
            for one in job.splits
        ],
    )
    how = say(
        "These parts are taller than the printer. Bond the pieces dry-fitted first, a rod of "
        "the bore's size inside to keep them true, and ream over the joint when it has cured."
    )
    told = [how]
    if job.over_joints:
        told.append(
            say(
                "Keys {keys} stand on two pieces: drill their posts when the joint has cured, "
                "through a jig or by a dividing head, never before.",
                keys=listed(job.over_joints),
            )
        )
    return PlanSection(say("Parts printed in pieces"), told, tables=[cut])


def _estimate(job: PrintJob, words: Reader) -> PlanSection:
    from borewright.documents import PlanSection, PlanTable

    total = job.estimate
    volumes = [one.volume_mm3 + one.support_mm3 for one in total.parts]
    volume_mm3 = sum(volumes)
    rows = [
        _estimate_row(words, one.part, volume, one)
        for one, volume in zip(total.parts, volumes, strict=True)
    ]
    rows.append(_estimate_row(words, say("all"), volume_mm3, total))
    heads = (say("part"), "cm³", "g", say("filament m"), say("hours"), say("cost"))
    sources = joined(
        [
            say("{figure} {source}", figure=key, source=source)
            for key, source in job.material.sources.items()
        ],
        "; ",
    )
    return PlanSection(
        say("Mass, filament and time"),
        [total.method, say("Where the material's figures come from: {sources}.", sources=sources)],
        tables=[PlanTable(say("Estimate, with what is taken off"), heads, rows)],
    )


def _estimate_row(
    words: Reader, name: Text, volume_mm3: float, of: PartEstimate | Estimate
) -> list[Text]:
    return [
        name,
        words.number(volume_mm3 / 1000, ".1f"),
        words.number(of.mass_g, ".0f"),
        words.number(of.filament_m, ".1f"),
        words.number(of.hours, ".1f"),
        words.number(of.cost, ".2f"),
    ]


def _compensation(job: PrintJob, words: Reader) -> PlanSection:
    from borewright.documents import PlanSection

    made = job.compensation
    assert made is not None
    told = [
        say(
            "Sizes were drawn larger or smaller so that this printer's mean error brings them "
            "back, as surely as the 95 % interval says; the scatter is one standard deviation of "
            "what remains on each."
        )
    ]
    if made.lot:
        told.append(say("Measured of lot '{lot}': another lot shrinks otherwise.", lot=made.lot))
    told += [
        say("Not compensated: {kind}, {why}.", kind=kind, why=why)
        for kind, why in made.refused.items()
    ]
    if any(one.beyond for one in made.sizes):
        told.append(
            say("Sizes marked with a star lie beyond those on the coupon: their line is stretched.")
        )
    return PlanSection(say("Compensation"), told, tables=[compensation_table(job, words)])


def compensation_table(job: PrintJob, words: Reader = ENGLISH) -> PlanTable:
    """Every redrawn size, for paper."""
    from borewright.documents import PlanTable

    made = job.compensation
    assert made is not None
    rows = [
        (
            one.part,
            words.tell(one.feature) + (" *" if one.beyond else ""),
            words.tell(one.kind),
            words.number(one.designed_mm, ".2f"),
            words.number(one.drawn_mm, ".3f"),
            words.number(one.by_mm, "+.3f"),
            words.number(one.sure_mm, ".3f"),
            words.number(one.scatter_mm, ".3f"),
        )
        for one in made.sizes
    ]
    heads = (
        say("part"),
        say("feature"),
        say("kind"),
        say("designed"),
        say("drawn"),
        say("by"),
        say("± 95 %"),
        say("scatter"),
    )
    return PlanTable(say("Compensated sizes, in mm"), heads, rows, (0, 1, 2))
