"""What to try and feel on key-fit slices, as a list on paper."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from borewright.tasks.naming import title
from borewright.tasks.printing.key_fit_springs import spring_holes
from borewright.words import Reader, Text, say

if TYPE_CHECKING:
    from borewright.documents import PlanSection, PlanTable
    from borewright.keywork import Mechanism
    from borewright.model.results.key_figures import KeyFigures
    from borewright.printing import Blank, MaterialProfile
    from borewright.solids import Bush
    from borewright.tasks.printing.key_fit_job import KeyFit


def write_list(
    made: KeyFit,
    mechanism: Mechanism,
    figures: Sequence[KeyFigures],
    bush: Bush,
    material: MaterialProfile,
    path: Path,
    words: Reader,
) -> None:
    """Write the list as PDF, for its reader."""
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
        warmth_section(mechanism, figures, material, words),
    ]
    springs = spring_holes(mechanism, made.instrument, figures, words)
    write_plan(path, heading, subtitle, [*sections, springs], words=words)


def _pieces(made: KeyFit, bush: Bush, words: Reader) -> list[PlanSection]:
    from borewright.documents import PlanSection, PlanTable

    hours = {one.part: one for one in made.estimate.parts}
    rows: list[list[Text]] = [
        [
            blank.name,
            blank.part,
            words.number(blank.start_mm, ".1f"),
            words.number(blank.end_mm, ".1f"),
            _round(blank, words),
            words.number(hours[blank.name].mass_g, ".0f"),
            words.number(hours[blank.name].hours, ".1f"),
            " ".join(blank.keys),
        ]
        for blank in made.blanks
    ]
    blanks = PlanTable(
        say("Slices, from station to station (mm) and from bearing to bearing"),
        (
            say("piece"),
            say("part"),
            say("from"),
            say("to"),
            say("bearings"),
            "g",
            say("hours"),
            say("keys"),
        ),
        rows,
        (0, 1, 4, 7),
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
        say(
            "Print slices and jigs on the joint's printer, standing as the joint will stand: "
            "slices in layers of {layer_mm:g} mm, which move a hole's edge by half a layer and "
            "nothing else, jigs in the joint's own.",
            layer_mm=made.layer_mm,
        ),
        say("A slice in pieces A, B and so on: bond them first, straight on a rod or in a groove."),
        say(
            "Begin with the shortest slice. Hold an open one by its two long edges between soft "
            "jaws, a closed one on a mandrel; none is a body, so do not squeeze it."
        ),
        say(
            "Press bushes {inside_mm:g} × {outside_mm:g} × {length_mm:g} into the jigs; ream their "
            "seats if they do not go in by hand and vice.",
            inside_mm=bush.inside_mm,
            outside_mm=bush.outside_mm,
            length_mm=bush.length_mm,
        ),
        say(
            "Lay a jig on the slice, put the pin through its tone hole, hold it down with a strap, "
            "and drill every post's hole through its bush. Eye protection; let no drill grab a "
            "thin slice: feed gently, and back it with wood. Later the same jig drills the joint."
        ),
    ]
    return [PlanSection(say("Make and drill"), steps=steps, tables=[blanks, saddles])]


def _round(blank: Blank, words: Reader) -> Text:
    if blank.arc_deg == 360.0:
        return words.tell(say("all round"))
    first, last = (
        (blank.middle_deg + side * blank.arc_deg / 2 + 180) % 360 - 180 for side in (-1, 1)
    )
    return say("{first_deg:.0f}° to {last_deg:.0f}°", first_deg=first, last_deg=last)


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


def figures_table(figures: Sequence[KeyFigures], words: Reader, mark: str = "") -> PlanTable:
    """What each key should show; ``mark`` stands before every name."""
    from borewright.documents import PlanTable

    def size(value: float | None, form: str = ".2f") -> Text:
        return "–" if value is None else words.number(value, form)

    rows: list[list[Text]] = [
        [
            mark + one.key,
            one.hole or "–",
            words.tell(one.rest.words),
            size(one.lift_mm),
            size(one.travel_mm),
            size(one.rest_g, ".0f"),
            size(one.play_mm, ".3f"),
        ]
        for one in figures
    ]
    return PlanTable(
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


def _tries(figures: Sequence[KeyFigures], words: Reader) -> PlanSection:
    from borewright.documents import PlanSection

    table = figures_table(figures, words, "☐ ")
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


def warmth_section(
    mechanism: Mechanism, figures: Sequence[KeyFigures], material: MaterialProfile, words: Reader
) -> PlanSection:
    """How the end play of every hinge changes from cold to warm, and from dry to damp."""
    from borewright.documents import PlanSection, PlanTable
    from borewright.keywork import play_ranges
    from borewright.keywork.growth import play_change_mm

    hinges = {one.hinge for one in figures}
    water = material.water_growth

    def wet(play_mm: float, length_mm: float, sense: float) -> Text:
        if water is None:
            return "–"
        change_mm = play_change_mm(length_mm, 0.0, swelling=sense * water)
        return words.number(play_mm + change_mm, ".3f")

    rows: list[list[Text]] = [
        [
            one.hinge,
            words.number(one.length_mm, ".1f"),
            words.number(one.fitted_mm, ".3f"),
            words.number(one.cold_mm, ".3f"),
            words.number(one.warm_mm, ".3f"),
            "–" if one.binds_below_c is None else words.number(one.binds_below_c, ".0f"),
            wet(one.cold_mm, one.length_mm, -1.0),
            wet(one.warm_mm, one.length_mm, 1.0),
        ]
        for one in play_ranges(mechanism, body_per_k=material.expansion_per_k)
        if one.hinge in hinges
    ]
    table = PlanTable(
        say("End play in mm as fitted at 21 °C, at 0 and at 30 °C; below nothing it binds"),
        (
            say("hinge"),
            say("long"),
            "21 °C",
            "0 °C",
            "30 °C",
            say("binds below °C"),
            say("0 °C, dried out"),
            say("30 °C, damp"),
        ),
        rows,
        (0,),
    )
    points: list[Text] = [
        say(
            "A printed body grows more than its rods: a long hinge binds in the cold and rattles "
            "in the warmth. Fit at the coldest temperature of use, or leave one end of it free."
        ),
        say(
            "{material} grows {warm:.0f} millionths a kelvin (source: {source}).",
            material=material.name,
            warm=1e6 * material.expansion_per_k,
            source=material.sources.get("expansion_per_k", say("not given")),
        ),
        _water_point(material),
    ]
    return PlanSection(say("Warmth and cold, dry and damp"), points=points, tables=[table])


def _water_point(material: MaterialProfile) -> Text:
    if material.water_growth is None:
        return say(
            "How much {material} grows with water is not known: write water_growth in its "
            "profile once you have measured it.",
            material=material.name,
        )
    return say(
        "Water: unsealed, {material} grows {share:.2f} % from 20 to 80 % humidity (source: "
        "{source}). Dried out: fitted damp, then 20 %; damp: fitted dry, then 80 %. Seal bore and "
        "outside, and keep the body a week in the room's air before you fit.",
        material=material.name,
        share=100 * material.water_growth,
        source=material.sources.get("water_growth", say("not given")),
    )
