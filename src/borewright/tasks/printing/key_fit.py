"""Proof before the print: blanks to try keys on, drilling jigs, and a list of what to try."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from borewright.model import Finding, Severity, SolidsReport, load
from borewright.tasks.inputs import needed_keys
from borewright.tasks.outputs import check_folder
from borewright.tasks.printing.key_fit_job import KeyFit
from borewright.tasks.printing.key_fit_list import write_list
from borewright.tasks.progress import Cancel, Progress, parts_told
from borewright.tasks.staging import staged
from borewright.words import ENGLISH, Reader, say

if TYPE_CHECKING:
    from build123d import Solid

    from borewright.printing import PrinterProfile

LIST = "what-to-try.pdf"
#: Slices are printed in layers of so much of the nozzle's width: their seats and flats stand
#: upright, so that coarse layers move nothing but a hole's edge, by half a layer (from memory).
COARSE = 0.6


def make_key_fit(
    file: Path,
    folder: Path,
    keys: Sequence[str] = (),
    *,
    printer: str = "tall frame",
    material: str = "plain PLA",
    words: Reader = ENGLISH,
    progress: Progress | None = None,
    cancel: Cancel | None = None,
) -> KeyFit:
    """Write blanks and jigs for some keys (all unless named), and the list of what to try.

    Parameters
    ----------
    file
        The instrument; it must name its keys.
    folder
        Where STEP, STL, 3MF and the list are written.
    keys
        Keys to try, by name; what they drive comes along.
    printer, material
        By name or profile, for mass, time and what fits.
    words
        Who reads the list.
    progress, cancel
        Told before each piece; asked whether to stop.

    Raises
    ------
    ModelError
        Where the instrument names no keys.
    PrintingError, SolidsError
        For an unknown key, or a shape that the kernel cannot make.
    """
    with staged(folder) as place:
        made = _make_key_fit_into(
            file,
            place.aside,
            keys,
            printer=printer,
            material=material,
            words=words,
            progress=progress,
            cancel=cancel,
        )
    return place.moved(made)


def _make_key_fit_into(
    file: Path,
    folder: Path,
    keys: Sequence[str] = (),
    *,
    printer: str = "tall frame",
    material: str = "plain PLA",
    words: Reader = ENGLISH,
    progress: Progress | None = None,
    cancel: Cancel | None = None,
) -> KeyFit:
    from borewright.keywork import Body, Mechanism, key_figures
    from borewright.printing import (
        blank_solid,
        blanks_that_fit,
        estimate,
        find_material,
        find_printer,
        key_fit_blanks,
        wall_findings,
    )
    from borewright.solids import Bush, Material, export_shapes, jig_solid

    instrument = load(file)
    nothing = say("no key survey is named, so there is nothing to try")
    survey = needed_keys(instrument, file, nothing)
    maker, stuff = find_printer(printer), find_material(material)
    check_folder(folder)
    mechanism, body, bush = Mechanism(survey, instrument), Body(instrument), Bush()
    made = blanks_that_fit(key_fit_blanks(instrument, survey, keys, bush), maker, stuff)
    tried = list(dict.fromkeys(key for blank in made.blanks for key in blank.keys))
    jigs = [jig for blank in made.blanks for jig in blank.jigs]
    told, pieces = parts_told(progress, cancel), len(made.blanks) + len(jigs)
    slices: dict[str, Solid] = {}
    guides: dict[str, Solid] = {}
    for blank in made.blanks:
        told(blank.name, len(slices), pieces)
        slices[blank.name] = blank_solid(made, blank)
    for jig in jigs:
        told(jig.name, len(slices) + len(guides), pieces)
        guides[jig.name] = jig_solid(instrument, body, jig, bush)
    told("", pieces, pieces)
    look = Material(stuff.name, stuff.colour)
    solids = export_shapes(
        instrument, slices | guides, folder, material=look, note="To try keys on, nominal."
    )
    coarse = max(maker.layer_mm, COARSE * maker.nozzle_mm)
    cost = estimate(solids.parts, maker, stuff, dict.fromkeys(slices, coarse))
    findings = [
        one
        for part in made.instrument.parts
        for one in wall_findings(made.instrument, part, stuff, made.posts)
    ]
    findings += _too_large(solids, maker)
    result = KeyFit(instrument, made.blanks, jigs, solids, cost, coarse, findings)
    paper = folder / LIST
    figures = [one for one in key_figures(mechanism, body) if one.key in tried]
    write_list(result, mechanism, figures, bush, stuff, paper, words)
    return replace(result, files=(paper,))


def _too_large(solids: SolidsReport, printer: PrinterProfile) -> list[Finding]:
    room = sorted(side - 2 * printer.margin_mm for side in printer.build_mm)
    return [
        Finding(
            severity=Severity.FAULT,
            place=part.part,
            what=say(
                "{size} mm do not fit printer '{printer}'",
                size=" × ".join(f"{side:.0f}" for side in part.bounding_box_mm),
                printer=printer.name,
            ),
            remedy=say("Choose a larger printer, or try fewer keys at a time."),
        )
        for part in solids.parts
        if any(side > most for side, most in zip(sorted(part.bounding_box_mm), room, strict=True))
    ]
