"""The keys' sheet: how they move, where posts stand, warmth, springs, and what hands meet."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from borewright.model import load
from borewright.model.keys import Finger, Spring, Touch
from borewright.tasks.inputs import needed_keys
from borewright.tasks.naming import title
from borewright.tasks.printing.key_fit_list import figures_table, warmth_section
from borewright.words import ENGLISH, Message, Reader, Text, say

if TYPE_CHECKING:
    from borewright.documents import PlanSection
    from borewright.keywork import Body, Mechanism
    from borewright.keywork.hands import HandMeasure
    from borewright.model.results.key_figures import KeyFigures


def write_keys_sheet(
    file: Path, paper: Path, *, material: str = "plain PLA", words: Reader = ENGLISH
) -> Path:
    """Write the sheet of an instrument's keys as PDF.

    Parameters
    ----------
    file
        The instrument; it must name its keys.
    paper
        The PDF to write.
    material
        What the body is made of, by name or profile, for how it grows.
    words
        Who reads it.

    Raises
    ------
    ModelError
        Where the instrument names no keys, or they cannot belong to it.
    DocumentsError
        Where the typesetter refuses the page.
    """
    from borewright.documents import PlanSection, write_plan
    from borewright.keywork import Body, Mechanism, key_figures
    from borewright.printing import find_material

    instrument = load(file)
    nothing = say("no key survey is named, so there is nothing to tell of keys")
    keys = needed_keys(instrument, file, nothing)
    mechanism, body = Mechanism(keys, instrument), Body(instrument)
    figures = key_figures(mechanism, body)
    sections = [
        PlanSection(say("How the keys move"), tables=[figures_table(figures, words)]),
        _fingers(mechanism, figures, words),
        _hands(mechanism, body, words),
        _posts(mechanism, body, words),
        warmth_section(mechanism, figures, find_material(material), words),
        _springs(mechanism, words),
    ]
    heading = say("The keys: {instrument}", instrument=title(instrument))
    subtitle = say("Worked out from the key survey; check a set of your own before you trust it.")
    return write_plan(paper, heading, subtitle, sections, words=words)


def _fingers(mechanism: Mechanism, figures: list[KeyFigures], words: Reader) -> PlanSection:
    from borewright.documents import PlanSection, PlanTable

    by_key = {one.key: one for one in figures}
    touches = [t for t in mechanism.keys.of(Touch) if t.finger is not None]
    rows: list[list[Text]] = []
    for finger in Finger:
        for touch in touches:
            if touch.finger is finger:
                one = by_key[touch.key]
                rows.append(
                    [
                        words.tell(finger.words),
                        touch.key,
                        _size(one.height_mm, ".1f", words),
                        _size(one.travel_mm, ".1f", words),
                        _size(one.rest_g, ".0f", words),
                        _size(one.end_g, ".0f", words),
                    ]
                )
    table = PlanTable(
        say("Touches at rest: height over the body and travel in mm, weight in grams"),
        (
            say("finger"),
            say("key"),
            say("high"),
            say("travel"),
            say("begins at"),
            say("ends at"),
        ),
        rows,
        (0, 1),
    )
    return PlanSection(say("What each finger meets"), tables=[table])


def _hands(mechanism: Mechanism, body: Body, words: Reader) -> PlanSection:
    from borewright.documents import PlanSection, PlanTable
    from borewright.keywork import hand_measures
    from borewright.keywork.hands import LARGE, MIDDLE, SMALL

    hands = (SMALL, MIDDLE, LARGE)
    told = [hand_measures(mechanism, body, hand) for hand in hands]
    rows: list[list[Text]] = [
        [
            words.tell(each[0].what),
            words.number(each[0].value_mm, ".1f"),
            *(words.tell(_verdict(one)) for one in each),
        ]
        for each in zip(*told, strict=True)
    ]
    headings = [
        say("hand {length_mm:.0f}, tip {tip_mm:.0f}", length_mm=h.length_mm, tip_mm=h.fingertip_mm)
        for h in hands
    ]
    table = PlanTable(
        say("Distances (mm), and how they suit three hands: length and breadth of a fingertip"),
        (say("what"), "mm", *headings),
        rows,
        (0, 2, 3, 4),
    )
    hint = say(
        "The ranges are from memory and only a hint, the hands those of general tables: a small "
        "woman's, a middling one, a large man's. Ask and measure who shall play, children above "
        "all: from the wrist's crease to the middle finger's tip, and across a fingertip."
    )
    return PlanSection(say("For the player's hands"), [hint], tables=[table])


def _verdict(one: HandMeasure) -> Message:
    if one.comfortable:
        return say("suits")
    if one.value_mm < one.low_mm:
        return say("less than {low_mm:.1f}", low_mm=one.low_mm)
    return say("more than {high_mm:.1f}", high_mm=one.high_mm)


def _posts(mechanism: Mechanism, body: Body, words: Reader) -> PlanSection:
    from borewright.documents import PlanSection, PlanTable
    from borewright.keywork import post_places
    from borewright.model.keys import points_of
    from borewright.solids import plan_posts

    drills = {p.name: p for p in plan_posts(body.instrument, points_of(mechanism.keys))}
    rows: list[list[Text]] = [
        [
            place.post,
            place.part,
            words.number(place.station_mm, ".2f"),
            words.number(place.bearing_deg, ".2f"),
            words.number(place.foot_mm, ".2f"),
            words.number(place.height_mm, ".2f"),
            words.number(drills[place.post].hole_mm, ".2f"),
            words.number(place.depth_mm, "g"),
            words.number(place.off_square_deg, ".1f"),
        ]
        for place in post_places(mechanism, body)
    ]
    table = PlanTable(
        say("Posts: stations from the part's top shoulder, foot and head's middle over it (mm)"),
        (
            say("post"),
            say("part"),
            say("station"),
            say("bearing °"),
            say("foot from axis"),
            say("head over foot"),
            say("drill"),
            say("deep"),
            say("off square °"),
        ),
        rows,
        (0, 1),
    )
    return PlanSection(say("Where the posts stand"), tables=[table])


def _springs(mechanism: Mechanism, words: Reader) -> PlanSection:
    from borewright.documents import PlanSection, PlanTable
    from borewright.keywork import touch_forces
    from borewright.keywork.forces import wanted_spring
    from borewright.keywork.gate import LIMITS, wanted_grams

    forces = {one.spring: one for one in touch_forces(mechanism)}
    rows: list[list[Text]] = []
    for spring in mechanism.keys.of(Spring):
        now = forces.get(spring.name)
        if now is None:
            continue
        wanted = sum(wanted_grams(mechanism, spring.key, LIMITS)) / 2
        set_so = wanted_spring(mechanism, spring, wanted)
        assert set_so is not None  # it has a force, so it has a touch
        rows.append(
            [
                spring.key,
                words.number(now.rest_g, ".0f"),
                words.number(spring.deflection_mm, ".2f"),
                words.number(wanted, ".0f"),
                words.number(set_so.deflection_mm, ".2f"),
                words.number(100 * set_so.stress_share, ".0f"),
                words.number(set_so.rise, ".1f"),
            ]
        )
    table = PlanTable(
        say("Springs as surveyed, and bent for the middle of what is usual"),
        (
            say("key"),
            say("now g"),
            say("bent mm"),
            say("wanted g"),
            say("bend mm"),
            say("stress %"),
            say("end over rest"),
        ),
        rows,
    )
    hint = say(
        "Bend, do not guess, and set with a gram gauge. Over 100 % of the working stress a spring "
        "tires: take a longer or thinner one. Springs fly and needles pierce: eye protection."
    )
    return PlanSection(say("The spring that gives the wanted weight"), [hint], tables=[table])


def _size(value: float | None, form: str, words: Reader) -> Text:
    return "–" if value is None else words.number(value, form)
