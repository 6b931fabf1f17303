"""Proof before the print: blanks to try keys on, drilling jigs, and a list of what to try."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from borewright.errors import ModelError
from borewright.model import Finding, Instrument, Severity, SolidsReport, load
from borewright.model.keys import Spring, SpringShape
from borewright.tasks.inputs import keys_of
from borewright.tasks.naming import title
from borewright.tasks.outputs import check_folder
from borewright.words import ENGLISH, Reader, Text, say

if TYPE_CHECKING:
    from borewright.documents import PlanSection
    from borewright.keywork import Mechanism
    from borewright.model.results.key_figures import KeyFigures
    from borewright.printing import Blank, Estimate, MaterialProfile, PrinterProfile
    from borewright.solids import Bush, Jig

LIST = "what-to-try.pdf"
#: A needle's hole is wider than the needle by this (mm; from memory).
NEEDLE_OVER_MM = 0.05


@dataclass(frozen=True)
class KeyFit:
    """What was made: slices with their keys, jigs with their posts, mass and time, findings."""

    instrument: Instrument
    blanks: Sequence[Blank]
    jigs: Sequence[Jig]
    solids: SolidsReport
    estimate: Estimate
    findings: list[Finding] = field(default_factory=list)
    files: Sequence[Path] = ()

    def as_dict(self) -> dict[str, Any]:
        """For JSON."""
        return {
            "instrument": self.instrument.name,
            "blanks": [
                {
                    "name": one.name,
                    "part": one.part,
                    "keys": list(one.keys),
                    "start_mm": one.start_mm,
                    "end_mm": one.end_mm,
                }
                for one in self.blanks
            ],
            "jigs": [
                {
                    "name": one.name,
                    "part": one.part,
                    "posts": [place.post for place in one.posts],
                    "pin_hole": one.pin_hole,
                    "pin_mm": one.pin_mm,
                }
                for one in self.jigs
            ],
            "solids": self.solids.model_dump(mode="json", by_alias=True),
            "estimate": self.estimate.model_dump(mode="json"),
            "findings": [one.model_dump(mode="json") for one in self.findings],
            "files": [str(path) for path in self.files],
        }


def make_key_fit(
    file: Path,
    folder: Path,
    keys: Sequence[str] = (),
    *,
    printer: str = "tall frame",
    material: str = "plain PLA",
    words: Reader = ENGLISH,
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

    Raises
    ------
    ModelError
        Where the instrument names no keys.
    PrintingError, SolidsError
        For an unknown key, or a shape that the kernel cannot make.
    """
    from borewright.keywork import Body, Mechanism, key_figures
    from borewright.printing import (
        estimate,
        find_material,
        find_printer,
        key_fit_blanks,
        wall_findings,
    )
    from borewright.solids import Bush, Material, export_shapes, export_solids, jig_solid, plan_jigs

    instrument = load(file)
    survey = keys_of(instrument, file)
    if survey is None:
        raise ModelError(
            say("no key survey is named, so there is nothing to try"),
            place=(str(file), say("[instrument] keys")),
            remedy=say('Write keys = "keys.csv" there; docs/keywork.md tells what it holds.'),
        )
    maker, stuff = find_printer(printer), find_material(material)
    check_folder(folder)
    mechanism, body, bush = Mechanism(survey, instrument), Body(instrument), Bush()
    made = key_fit_blanks(instrument, survey, keys)
    tried = [key for blank in made.blanks for key in blank.keys]
    jigs = plan_jigs(mechanism, body, tried, bush)
    shapes = {jig.name: jig_solid(instrument, body, jig, bush) for jig in jigs}
    look = Material(stuff.name, stuff.colour)
    blanks = export_solids(
        made.instrument, folder, posts=made.posts, material=look, note="Key-fit blank, nominal."
    )
    tools = export_shapes(instrument, shapes, folder, material=look, note="Drilling jig.")
    solids = blanks.model_copy(update={"parts": [*blanks.parts, *tools.parts]})
    findings = [
        one
        for part in made.instrument.parts
        for one in wall_findings(made.instrument, part, stuff, made.posts)
    ]
    findings += _too_large(solids, maker)
    result = KeyFit(
        instrument, made.blanks, jigs, solids, estimate(solids.parts, maker, stuff), findings
    )
    paper = folder / LIST
    figures = [one for one in key_figures(mechanism, body) if one.key in tried]
    _write_list(result, mechanism, figures, bush, stuff, paper, words)
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


def _write_list(
    made: KeyFit,
    mechanism: Mechanism,
    figures: Sequence[KeyFigures],
    bush: Bush,
    material: MaterialProfile,
    path: Path,
    words: Reader,
) -> None:
    from borewright.documents import write_plan

    heading = say("Trying the keys: {instrument}", instrument=title(made.instrument))
    subtitle = say(
        "{mass_g:.0f} g of {material}, {hours:.1f} h on printer '{printer}'",
        mass_g=made.estimate.mass_g,
        material=material.name,
        hours=made.estimate.hours,
        printer=made.estimate.printer,
    )
    sections = [
        *_pieces(made, bush, words),
        _pins(mechanism, figures, words),
        _tries(figures, words),
        _warmth(mechanism, figures, material, words),
    ]
    springs = _needles(mechanism, figures, words)
    write_plan(path, heading, subtitle, [*sections, *springs], words=words)


def _pieces(made: KeyFit, bush: Bush, words: Reader) -> list[PlanSection]:
    from borewright.documents import PlanSection, PlanTable

    hours = {one.part: one for one in made.estimate.parts}
    rows: list[list[Text]] = [
        [
            blank.name,
            blank.part,
            words.number(blank.start_mm, ".1f"),
            words.number(blank.end_mm, ".1f"),
            words.number(hours[blank.name].mass_g, ".0f"),
            words.number(hours[blank.name].hours, ".1f"),
            " ".join(blank.keys),
        ]
        for blank in made.blanks
    ]
    blanks = PlanTable(
        say("Slices, from station to station (mm)"),
        (say("piece"), say("part"), say("from"), say("to"), "g", say("hours"), say("keys")),
        rows,
        (0, 1, 6),
    )
    guides: list[list[Text]] = [
        [
            jig.name,
            jig.part,
            say("pin {size_mm:.2f} in {hole}", size_mm=jig.pin_mm, hole=jig.pin_hole),
            words.number(hours[jig.name].hours, ".1f"),
            " ".join(place.post for place in jig.posts),
        ]
        for jig in made.jigs
    ]
    saddles = PlanTable(
        say("Jigs"),
        (say("piece"), say("part"), say("located by"), say("hours"), say("posts")),
        guides,
        (0, 1, 2, 4),
    )
    steps = [
        say("Print slices and jigs on the joint's printer, standing as the joint will stand."),
        say(
            "Press bushes {inside_mm:g} × {outside_mm:g} × {length_mm:g} into the jigs; ream their "
            "seats if they do not go in by hand and vice.",
            inside_mm=bush.inside_mm,
            outside_mm=bush.outside_mm,
            length_mm=bush.length_mm,
        ),
        say(
            "Lay a jig on the slice, put the pin through its tone hole, hold it down with a strap, "
            "and drill every post's hole through its bush. Later the same jig drills the joint."
        ),
    ]
    return [PlanSection(say("Make and drill"), steps=steps, tables=[blanks, saddles])]


def _pins(mechanism: Mechanism, figures: Sequence[KeyFigures], words: Reader) -> PlanSection:
    import numpy as np

    from borewright.documents import PlanSection, PlanTable

    rows: list[list[Text]] = []
    for name in dict.fromkeys(one.hinge for one in figures):
        posts = mechanism.keys.posts_of(name)
        heads = [mechanism.points[post.name][1] for post in posts]
        for (one, a), (other, b) in itertools.pairwise(zip(posts, heads, strict=True)):
            apart = float(np.linalg.norm(b - a))
            tall = [np.linalg.norm(np.subtract(*mechanism.points[p.name])) for p in (one, other)]
            rows.append(
                [
                    name,
                    f"{one.name} {other.name}",
                    words.number(apart, ".2f"),
                    words.number(float(tall[0]), ".2f"),
                    words.number(float(tall[1]), ".2f"),
                ]
            )
    table = PlanTable(
        say("Middles of the heads apart, and each over its foot (mm)"),
        (say("hinge"), say("posts"), say("apart"), say("first tall"), say("second tall")),
        rows,
        (0, 1),
    )
    return PlanSection(
        say("Before any key goes on"),
        points=[
            say(
                "Put straight pins as thick as the shanks into the holes and measure over them at "
                "the heads' height: pin to pin within 0.1 mm of the table plus one pin."
            )
        ],
        tables=[table],
    )


def _tries(figures: Sequence[KeyFigures], words: Reader) -> PlanSection:
    from borewright.documents import PlanSection, PlanTable

    def size(value: float | None, form: str = ".2f") -> Text:
        return "–" if value is None else words.number(value, form)

    rows: list[list[Text]] = [
        [
            "☐ " + one.key,
            one.hole or "–",
            words.tell(one.rest.words),
            size(one.lift_mm),
            size(one.travel_mm),
            size(one.rest_g, ".0f"),
            size(one.play_mm, ".3f"),
        ]
        for one in figures
    ]
    table = PlanTable(
        say("What each key should show (mm, grams at the touch)"),
        (
            say("key"),
            say("hole"),
            say("rests"),
            say("lift"),
            say("travel"),
            say("force"),
            say("end play"),
        ),
        rows,
        (0, 1, 2),
    )
    points: list[Text] = [
        say("Turn the key slowly by its touch: no rubbing, no metal on metal, no tight place."),
        say("Push the tube along its rod: it moves by its end play and no more."),
        say("Hold a 0.02 mm tissue under the pad at eight places, the key shut by its own spring."),
        say("Linked pads: one tissue under each; both must hold at the same press."),
        say("Rings: down, the top lies level with the chimney's rim to 0.3 mm over it."),
        say("Press twenty times, a second apart, an ear close by: no click."),
        say("Write down what is off, bend or move it in the survey, and make the slice again."),
    ]
    return PlanSection(say("Try and feel"), points=points, tables=[table])


def _warmth(
    mechanism: Mechanism, figures: Sequence[KeyFigures], material: MaterialProfile, words: Reader
) -> PlanSection:
    from borewright.documents import PlanSection, PlanTable
    from borewright.keywork import play_ranges

    hinges = {one.hinge for one in figures}
    rows: list[list[Text]] = [
        [
            one.hinge,
            words.number(one.length_mm, ".1f"),
            words.number(one.fitted_mm, ".3f"),
            words.number(one.cold_mm, ".3f"),
            words.number(one.warm_mm, ".3f"),
            "–" if one.binds_below_c is None else words.number(one.binds_below_c, ".0f"),
        ]
        for one in play_ranges(mechanism, body_per_k=material.expansion_per_k)
        if one.hinge in hinges
    ]
    table = PlanTable(
        say("End play in mm as fitted at 21 °C, at 0 and at 30 °C"),
        (say("hinge"), say("long"), "21 °C", "0 °C", "30 °C", say("binds below °C")),
        rows,
        (0,),
    )
    points: list[Text] = [
        say(
            "A printed body grows more than its rods: a long hinge binds in the cold and rattles "
            "in the warmth. Fit at the coldest temperature of use, or leave one end of it free."
        )
    ]
    return PlanSection(say("Warmth and cold"), points=points, tables=[table])


def _needles(
    mechanism: Mechanism, figures: Sequence[KeyFigures], words: Reader
) -> list[PlanSection]:
    import numpy as np

    from borewright.documents import PlanSection, PlanTable

    keys = {one.key for one in figures}
    rows: list[list[Text]] = []
    for spring in mechanism.keys.of(Spring):
        if spring.key not in keys or spring.shape is not SpringShape.NEEDLE:
            continue
        start, end = mechanism.points[spring.name]
        axis = mechanism.turning[spring.key].axis
        way = (end - start) / np.linalg.norm(end - start)
        angle = float(np.degrees(np.arccos(min(abs(float(way @ axis)), 1.0))))
        holder = next((p for p in mechanism.keys.elements if p.name == spring.held_by), None)
        over: Text = "–"
        if holder is not None:
            foot = mechanism.points[holder.name][0]
            up = mechanism.points[holder.name][1] - foot
            over = words.number(float((start - foot) @ up / np.linalg.norm(up)), ".2f")
        rows.append(
            [
                spring.key,
                spring.held_by or "–",
                words.number(spring.thickness_mm + NEEDLE_OVER_MM, ".2f"),
                over,
                words.number(angle, ".1f"),
                words.number(spring.free_length_mm, ".1f"),
            ]
        )
    if not rows:
        return []
    table = PlanTable(
        say("Needles: hole in the post's head (mm, degrees to the hinge's line)"),
        (say("key"), say("post"), say("drill"), say("over its foot"), say("angle"), say("free")),
        rows,
        (0, 1),
    )
    return [PlanSection(say("Spring holes"), tables=[table])]
