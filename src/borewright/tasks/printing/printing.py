"""From an instrument's file to everything the bench with the printer needs."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from borewright.model import Finding, Instrument, KeySet, Severity, SolidsReport, load
from borewright.model.bounds import check_asked
from borewright.tasks.gate import design_findings, refuse_faults
from borewright.tasks.inputs import fingerings_of, keys_of, survey_of
from borewright.tasks.outputs import check_folder
from borewright.tasks.printing.drawing import draw_all, title_block
from borewright.tasks.printing.gauging import Drawn
from borewright.tasks.printing.job import PrintJob
from borewright.tasks.printing.tolerances import pitch_tolerances
from borewright.tasks.progress import Cancel, Progress, parts_told
from borewright.tasks.staging import staged
from borewright.words import ENGLISH, Reader, Said, joined, say

if TYPE_CHECKING:
    from borewright.keywork import Mechanism
    from borewright.keywork.gate import KeyFinding
    from borewright.printing import (
        Calibration,
        MaterialProfile,
        PrinterProfile,
        ReamingAllowance,
    )
    from borewright.solids import Layout


@dataclass(frozen=True)
class PrintWishes:
    """What the person at the printer chose; names of profiles, or files of them."""

    printer: str = "tall frame"
    material: str = "plain PLA"
    measured: Sequence[Path] = ()
    lot: str = ""
    ream_bore_mm: float = 0.0
    ream_hole_mm: float = 0.0
    drawings: bool = True
    keywork: Path | None = None
    despite_faults: bool = False


def print_file(
    file: Path,
    folder: Path,
    wishes: PrintWishes | None = None,
    *,
    words: Reader = ENGLISH,
    progress: Progress | None = None,
    cancel: Cancel | None = None,
) -> PrintJob:
    """Split, check, ream and compensate as wished, and write solids, drawings, picture, plan.

    Where a fault is found nothing is made, unless ``despite_faults`` says to go on; the job then
    says so. Raises FaultsFoundError, ModelError, PrintingError, SolidsError or DocumentsError.
    """
    with staged(folder) as place:
        made = _print_file_into(
            file, place.aside, wishes, words=words, progress=progress, cancel=cancel
        )
    return place.moved(made)


def _print_file_into(
    file: Path,
    folder: Path,
    wishes: PrintWishes | None = None,
    *,
    words: Reader = ENGLISH,
    progress: Progress | None = None,
    cancel: Cancel | None = None,
) -> PrintJob:
    from borewright.keywork import Mechanism
    from borewright.printing import (
        FeatureKind,
        ReamingAllowance,
        assembly_findings,
        compensated,
        estimate,
        find_material,
        find_printer,
        hinges_over_joints,
        hole_overhangs,
        joint_findings,
        length_findings,
        plan_layout,
        plan_supports,
        reaming_sequence,
        seam_advice,
        split_keys,
        split_to_fit,
        standings,
        support_advice,
        undersized,
        wall_findings,
    )
    from borewright.solids import feature_findings, plan_posts

    wishes = wishes or PrintWishes()
    check_asked("under_size_mm", wishes.ream_bore_mm, "--ream-bore")
    check_asked("under_size_mm", wishes.ream_hole_mm, "--ream-holes")
    whole = load(file)
    survey, keys = survey_of(whole, file, wishes.keywork), keys_of(whole, file)
    printer, material = find_printer(wishes.printer), find_material(wishes.material)
    calibration = _calibration(wishes, printer, material)
    check_folder(folder)
    parted = split_to_fit(whole, printer, material, survey)
    design = parted.instrument
    posts = plan_posts(design, parted.survey)
    if parted.survey:
        findings = assembly_findings(design, parted.survey, material)
    else:
        findings = [one for part in design.parts for one in wall_findings(design, part, material)]
    findings += joint_findings(design)
    upright = calibration.of(FeatureKind.HOLE_UPRIGHT) if calibration else None
    crowned = upright.most_mm if upright else 0.0
    findings += [one for part in design.parts for one in hole_overhangs(part, printer, crowned)]
    findings += feature_findings(design, posts)
    findings += length_findings(whole, survey, calibration, wishes.lot)
    table = fingerings_of(whole, file) if whole.fingerings else None
    findings += design_findings(whole, survey, keys, table)
    pieces = split_keys(keys, design, parted.splits) if keys is not None else None
    if pieces is not None and parted.splits:
        findings += _in_pieces(design, pieces, findings)
    findings.sort(key=lambda finding: finding.severity is not Severity.FAULT)
    refuse_faults(findings, wishes.despite_faults)
    # What does not fit this printer keeps nothing back of the rest.
    findings = [*parted.too_large, *findings]
    on_the_bed = [part for part in design.parts if part.name not in parted.left_out]
    best = [standings(design, part, printer)[0] for part in on_the_bed]
    allowance = ReamingAllowance(bore_mm=wishes.ream_bore_mm, hole_mm=wishes.ream_hole_mm)
    reamed = bool(allowance.bore_mm or allowance.hole_mm)
    made, drawn_posts = (undersized(design, allowance) if reamed else design), posts
    compensation, lifts = None, dict[str, float]()
    downs = {one.part: one.down for one in best}
    if calibration:
        redrawn = compensated(made, calibration, posts, downs)
        made, drawn_posts, compensation = redrawn.instrument, redrawn.posts, redrawn.report
        lifts = redrawn.lifts_mm
    # As drawn: what carries a part fits it as it is printed.
    supports = {one.part: plan_supports(made, made.part(one.part), one, printer) for one in best}
    advice = {
        part.name: [
            *support_advice(part, standing, printer, supports[part.name]),
            *seam_advice(part),
        ]
        for part, standing in zip(on_the_bed, best, strict=True)
    }
    settings = _settings(printer, material)
    notes = {name: str(joined([f"{name}:", *said, settings])) for name, said in advice.items()}
    layout = plan_layout(best, printer, notes, supports)
    solids = _export(
        made,
        drawn_posts,
        folder,
        material,
        _note(calibration, allowance, reamed),
        parts_told(progress, cancel),
        Mechanism(pieces, design) if pieces is not None else None,
        parted.left_out,
        layout,
        lifts,
    )
    job = PrintJob(
        instrument=design,
        printer=printer,
        material=material,
        solids=solids,
        standings=best,
        advice=advice,
        splits=parted.splits,
        findings=findings,
        estimate=estimate(solids.parts, printer, material, supports=supports),
        calibration=calibration,
        compensation=compensation,
        reaming=reaming_sequence(design, allowance) if reamed else [],
        despite_faults=wishes.despite_faults,
        beds=layout.beds,
        over_joints=hinges_over_joints(pieces) if pieces is not None else [],
    )
    drawn = Drawn(
        made,
        downs,
        lifts,
        lot=wishes.lot or (calibration.lot if calibration else ""),
        bores_reamed=bool(allowance.bore_mm),
        holes_reamed=bool(allowance.hole_mm),
    )
    _write_papers(job, posts, file, folder, words, drawn if wishes.drawings else None)
    return job


def _in_pieces(design: Instrument, keys: KeySet, known: Sequence[Finding]) -> list[KeyFinding]:
    """What the gate says of posts only because their part is made in pieces."""
    from borewright.keywork import Body, Mechanism
    from borewright.keywork.gate import LIMITS, KeyFinding, post_findings

    told = {(one.check, one.elements) for one in known if isinstance(one, KeyFinding)}
    found = post_findings(Mechanism(keys, design), Body(design), LIMITS)
    return [one for one in found if (one.check, one.elements) not in told]


def _calibration(
    wishes: PrintWishes, printer: PrinterProfile, material: MaterialProfile
) -> Calibration | None:
    if not wishes.measured:
        return None
    from borewright.tasks.printing.coupon import read_coupon

    return read_coupon(wishes.measured, printer.name, material.name)


def _note(calibration: Calibration | None, allowance: ReamingAllowance, reamed: bool) -> str:
    """What a file of the solids says of its sizes: in English, as all that programs read."""
    told: list[Said] = []
    if reamed:
        told.append(
            say(
                "Under size for reaming: bores {bore_mm:g} mm, holes {hole_mm:g} mm.",
                bore_mm=allowance.bore_mm,
                hole_mm=allowance.hole_mm,
            )
        )
    if calibration:
        told.append(
            say(
                "Compensated for '{printer}', {material}: {kinds}.",
                printer=calibration.printer,
                material=calibration.material,
                kinds=joined([line.kind.words for line in calibration.kinds], ", "),
            )
        )
    return str(joined(told)) or "Nominal dimensions, no print compensation."


def _settings(printer: PrinterProfile, material: MaterialProfile) -> Said:
    """Settings that a file advises."""
    return say(
        "{material}, nozzle {nozzle_mm:g} mm, layers of {layer_mm:g} mm, full.",
        material=material.name,
        nozzle_mm=printer.nozzle_mm,
        layer_mm=printer.layer_mm,
    )


def _export(
    instrument: Instrument,
    posts: Any,
    folder: Path,
    material: MaterialProfile,
    note: str,
    progress: Callable[[str, int, int], None],
    keys: Mechanism | None,
    left_out: Sequence[str],
    layout: Layout,
    lifts: dict[str, float],
) -> SolidsReport:
    from borewright.solids import Material, export_solids

    return export_solids(
        instrument,
        folder,
        progress,
        posts=posts,
        material=Material(material.name, material.colour),
        note=note,
        keys=keys,
        left_out=left_out,
        layout=layout,
        lifts_mm=lifts,
    )


def _write_papers(
    job: PrintJob, posts: Any, file: Path, folder: Path, words: Reader, drawn: Drawn | None
) -> None:
    from borewright.tasks.printing.picture import assembly_picture
    from borewright.tasks.printing.plan import write_print_plan

    picture = assembly_picture(job.instrument, posts, job.solids, folder / "assembly.png")
    job.files.append(picture)
    if drawn:
        # The tolerances are the whole instrument's; pieces of a part keep its holes' names.
        job.files += draw_all(
            job.instrument,
            posts,
            folder / "drawings",
            words=words,
            tolerances=pitch_tolerances(load(file), file),
            block=title_block(file, job.material.name),
            drawn=drawn,
        )
    job.files.append(write_print_plan(job, folder / "print-plan.pdf", words))
