"""One set of keys on several bodies: other pitches by scaling, keys held or stretched with it.

Scaled is the length of the air column, mouthpiece and reed counted as a cylinder of their volume;
diameters stay, as bores of a family hardly differ (common practice for A and B-flat; C and E-flat
are made narrower). Held: every hole stays where its key is, barrel, bell and holes' sizes are
fitted. Stretched: joints, holes and keys go along, and the whole is fitted as usual.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import Any, NamedTuple

import numpy as np

from borewright.acoustics.side_holes import hole_level, side_holes_of
from borewright.acoustics.tuning import tuning_at
from borewright.errors import StudyError
from borewright.fit import fit
from borewright.model import (
    Drawing,
    FingeringTable,
    Instrument,
    KeySet,
    KeyworkSurvey,
    SideHoles,
    TuningTable,
    Use,
)
from borewright.model.keys import Cup, Ring
from borewright.model.results.siblings import KeyChange, SiblingBody, SiblingsResult
from borewright.words import Said, say

#: A key bends by so much (mm); more is another key. A joint's holes farther off than this many
#: cents are out of tune for anybody.
_BENDS_MM, _OUTSIDE_CENTS = 0.5, 10.0


class Sibling(NamedTuple):
    """Another pitch: its name, A4 in Hz, and semitones from written to sounding."""

    name: str
    a4_hz: float
    semitones: int


SIBLINGS = (
    Sibling("B-flat 440", 440.0, -2),
    Sibling("B-flat 442", 442.0, -2),
    Sibling("A", 440.0, -3),
    Sibling("C", 440.0, 0),
    Sibling("E-flat", 440.0, 3),
)
#: Called with what is fitted, how many are done and how many there are.
SiblingProgress = Callable[[Said, int, int], None]


def siblings_of(
    instrument: Instrument,
    table: FingeringTable,
    survey: KeyworkSurvey | None,
    keys: KeySet | None = None,
    *,
    wanted: Sequence[Sibling] = SIBLINGS,
    side_holes: SideHoles | str | None = None,
    told: SiblingProgress | None = None,
) -> tuple[list[Instrument], SiblingsResult]:
    """Fit bodies of other pitches for a set of keys.

    Parameters
    ----------
    instrument, table, survey, side_holes
        The body that the keys are from, as for a fit.
    keys
        The keys themselves: changes are then told by hinge, otherwise by hole.
    wanted
        Pitches.
    told
        Called before each fit; it may raise to stop.

    Returns
    -------
    tuple
        Two instruments a pitch, keys held and stretched, and what is to be said of each.

    Raises
    ------
    StudyError
        Where a pitch is so far away that nothing is left to scale.
    FitError, AcousticsError
        As a fit does.
    """
    way = side_holes_of(side_holes, instrument)
    made: list[Instrument] = []
    bodies: list[SiblingBody] = []
    level: Said = say("none")
    for number, sibling in enumerate(wanted):
        factor = _factor(instrument, sibling)
        for held in (True, False):
            if told is not None:
                words = _held_words(sibling) if held else _stretched_words(sibling)
                told(words, 2 * number + (not held), 2 * len(wanted))
            start = _held(instrument, sibling, factor) if held else _stretched(
                instrument, sibling, factor
            )  # fmt: skip
            there = survey if held or survey is None else _stretched_survey(survey, factor)
            fitted, _ = fit(start, table, there, side_holes=way)
            tuned = tuning_at(fitted, table, hole_level(fitted, way))
            level = tuned.model_level
            made.append(fitted)
            bodies.append(_body(instrument, fitted, tuned, table, sibling, held, factor, keys))
    return made, SiblingsResult(instrument=instrument.name, bodies=bodies, model_level=level)


def _held_words(sibling: Sibling) -> Said:
    return say("{name}, keys held", name=sibling.name)


def _stretched_words(sibling: Sibling) -> Said:
    return say("{name}, keys stretched", name=sibling.name)


def top_length_mm(instrument: Instrument) -> float:
    """Length (mm) of a cylinder with the volume of mouthpiece and reed; 0 for a bare tube."""
    if instrument.mouthpiece is None:
        return 0.0
    area = math.pi / 4 * instrument.mouthpiece.bore_diameter_mm**2
    reed = instrument.reed.equivalent_volume_mm3 if instrument.reed else 0.0
    return instrument.mouthpiece.bore_length_mm + (instrument.mouthpiece.chamber_mm3 + reed) / area


def _factor(instrument: Instrument, sibling: Sibling) -> float:
    """How much longer the bodies are, so that the whole air column goes with the wavelength."""
    pitch = instrument.pitch
    wave = pitch.a4_hz / sibling.a4_hz
    wave *= 2 ** ((pitch.written_to_sounding_semitones - sibling.semitones) / 12)
    top, body = top_length_mm(instrument), instrument.length_mm
    factor = (wave * (top + body) - top) / body
    if factor < 0.4:
        raise StudyError(
            say("{name} is too far away: no body is left below the mouthpiece", name=sibling.name),
            place=instrument.name,
            remedy=say("Choose a pitch nearer by."),
        )
    return factor


def _pitched(data: dict[str, Any], sibling: Sibling) -> Instrument:
    """Another pitch, drawn anew: what was stated for the first body in mm does not hold."""
    data["pitch"] |= {"a4_hz": sibling.a4_hz, "written_to_sounding_semitones": sibling.semitones}
    name = f"{data['name']}, {sibling.name}"[:120]
    data |= {"drawing": Drawing().model_dump(), "keys": "", "name": name}
    data["fit"] |= {"also": [], "tuned_cents": 0.0}
    return Instrument.model_validate(data)


def _held(instrument: Instrument, sibling: Sibling, factor: float) -> Instrument:
    """Joints as they are; barrel and bell take what they can, and holes' sizes the rest."""
    data = instrument.model_dump()
    longer = (factor - 1) * instrument.length_mm
    window = max(instrument.fit.length_window_mm, abs(longer))
    ends = [data["parts"][0]["name"], data["parts"][-1]["name"]]
    data["fit"] |= {
        "free": ["hole.diameter", *(f"{name}.length" for name in ends)],
        "length_window_mm": window,
        "keep_close": min(instrument.fit.keep_close, 0.2),
        "ranges": {},
    }
    return _pitched(data, sibling)


def _stretched(instrument: Instrument, sibling: Sibling, factor: float) -> Instrument:
    """Every station in proportion; tenons, sockets and diameters stay."""
    data = instrument.model_dump()
    for part in data["parts"]:
        old, new = part["length_mm"], factor * part["length_mm"]
        for profile in ("bore", "outside"):
            part[profile] = [(_moved(at, old, factor), size) for at, size in part[profile]]
        for hole in part["holes"]:
            hole["station_mm"] *= factor
        part["length_mm"] = new
    data["keywork"] = ""
    data["fit"]["ranges"] = {}
    data["fit"]["reamers"] = []
    return _pitched(data, sibling)


def _moved(station: float, length: float, factor: float) -> float:
    if station <= 0:
        return station  # in the upper tenon
    return factor * station if station <= length else factor * length + station - length


def _stretched_survey(survey: KeyworkSurvey, factor: float) -> KeyworkSurvey:
    rows = [row.model_copy(update={"station_mm": factor * row.station_mm}) for row in survey.rows]
    return survey.model_copy(update={"rows": rows})


def _body(
    old: Instrument,
    new: Instrument,
    tuned: TuningTable,
    table: FingeringTable,
    sibling: Sibling,
    held: bool,
    factor: float,
    keys: KeySet | None,
) -> SiblingBody:
    standard = [note.cents for note in tuned.notes if note.use is Use.STANDARD]
    return SiblingBody(
        name=sibling.name,
        a4_hz=sibling.a4_hz,
        semitones=sibling.semitones,
        held=held,
        factor=factor,
        rms_cents=tuned.summary.rms_cents,
        worst_cents=tuned.summary.worst_cents,
        worst_note=tuned.summary.worst_note,
        outside=sum(cents is None or abs(cents) > _OUTSIDE_CENTS for cents in standard),
        body_mm=new.length_mm,
        barrel_mm=new.parts[0].length_mm,
        bell_mm=new.parts[-1].length_mm,
        keys=key_changes(old, new, keys),
    )


def key_changes(old: Instrument, new: Instrument, keys: KeySet | None) -> list[KeyChange]:
    """What each hinge asks for, from where its holes were to where they are (mm, by joint)."""
    before = {hole.name: hole.station_mm for part in old.parts for hole in part.holes}
    after = {hole.name: hole.station_mm for part in new.parts for hole in part.holes}
    covered: dict[str, list[str]] = {}
    if keys is None:
        covered = {name: [name] for name in before}
    else:
        for one in [*keys.of(Cup), *keys.of(Ring)]:
            assert isinstance(one, Cup | Ring)
            if one.hole in before and one.hole not in covered.setdefault(one.hinge, []):
                covered[one.hinge].append(one.hole)
    found = []
    for hinge, holes in covered.items():
        shifts = np.array([after[hole] - before[hole] for hole in holes])
        if not len(shifts):
            continue
        middle = float((shifts.max() + shifts.min()) / 2)
        apart = float(shifts.max() - shifts.min()) / 2
        found.append(
            KeyChange(
                hinge=hinge, holes=holes, along_mm=middle, stretch_mm=apart,
                anew=apart > _BENDS_MM,
            )
        )  # fmt: skip
    return sorted(found, key=lambda one: -one.stretch_mm)
