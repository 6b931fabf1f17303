"""A family heard on its instrument: pitch, registers, twelfths of every member, in one batch."""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np
from pydantic import ValidationError

from borewright.acoustics import kernels, tuning
from borewright.acoustics.cents import CENTS_PER_LOG
from borewright.acoustics.parameters import read_parameters
from borewright.acoustics.request import climate_words, request_of_table
from borewright.acoustics.side_holes import hole_level
from borewright.fit.families.shapes import Family, Piece
from borewright.model import (
    FingeringTable,
    Instrument,
    Part,
    SideHoles,
    Use,
    note_number,
    read_values,
)
from borewright.model.bores.families import FamilyTable, Member, NoteChange
from borewright.model.files.validation import model_error
from borewright.model.profile import diameter_at
from borewright.words import Said, say

_BATCH = 50
#: A trifle (mm of diameter per mm): slices of the kernel are cut as for a taper.
_TAPERED = 0.006


class _Heard(NamedTuple):
    cents: np.ndarray  # [B, F] against the pitch standard
    standard: np.ndarray  # [F] which fingerings count
    pairs: list[tuple[int, int]]  # rows of every twelfth
    order: list[int]  # standard rows from the lowest note up, twelfths behind their low notes
    names: list[str]  # [F]
    level: Said


def with_piece(instrument: Instrument, part: str, piece: Piece) -> Instrument:
    """The instrument with a barrel or bell in place; outside and joints go along.

    Raises ModelError where such a piece could not be made: a wall that is gone, say.
    """
    data: dict[str, Any] = instrument.model_dump()
    for each, old in zip(data["parts"], instrument.parts, strict=True):
        if each["name"] != part:
            continue
        each["length_mm"] = piece.length_mm
        each["bore"] = list(piece.bore)
        each["outside"] = (
            _bell_outside(old, piece)
            if old is instrument.parts[-1]
            else [(s * piece.length_mm / old.length_mm, d) for s, d in old.outside]
        )
    try:
        return Instrument.model_validate(data)
    except ValidationError as error:
        raise model_error(error, f"{instrument.name} with {piece.name}", data) from error


def _bell_outside(old: Part, piece: Piece) -> list[tuple[float, float]]:
    """The outside stretched with the bell, no thinner anywhere than the wall at the rim."""
    stretch = piece.length_mm / old.length_mm
    wall = old.outside_diameter_at(old.length_mm, -1) - old.bore_diameter_at(old.length_mm, -1)
    stations = sorted({s * stretch for s, _ in old.outside} | {s for s, _ in piece.bore})
    made = [
        (s, max(old.outside_diameter_at(s / stretch, -1), diameter_at(list(piece.bore), s) + wall))
        for s in stations
        if s < piece.length_mm - 1e-9
    ]
    return [*made, (piece.length_mm, piece.bottom_mm + wall)]


def map_family(instrument: Instrument, fingerings: FingeringTable, family: Family) -> FamilyTable:
    """What every member of a family does to the instrument.

    Parameters
    ----------
    instrument
        The one in hand, with its own barrel or bell.
    fingerings
        Standard fingerings count; twelfths are those of the table.
    family
        Of :func:`barrel_family` or :func:`bell_family`.

    Returns
    -------
    FamilyTable
        Nothing is chosen yet.

    Raises
    ------
    ModelError
        Where a member could not be made.
    """
    heard = _hear(instrument, fingerings, family)
    registers = [fingering.register_.value for fingering in fingerings.fingerings]
    members = [
        _member(piece, heard, number, registers) for number, piece in enumerate(family.pieces)
    ]
    return FamilyTable(
        instrument=instrument.name,
        part=family.part,
        kind=family.kind,
        in_place=members[0],
        members=members[1:],
        by="",
        low_cents=0.0,
        high_cents=0.0,
        reach_cents=(0.0, 0.0),
        chosen=[],
        notices=[],
        model_level=heard.level,
        climate=climate_words(instrument.climate, None),
    )


def _hear(instrument: Instrument, fingerings: FingeringTable, family: Family) -> _Heard:
    """Cents of every fingering with every member.

    One structure serves all; members of one rim go in one batch, as the wall at the rim is not
    a dimension of the kernel.
    """
    table = tuning(instrument, fingerings)
    usable = np.array([note.cents is not None for note in table.notes])
    target = np.array([instrument.pitch.target_hz(f.written) for f in fingerings.fingerings])
    cents = np.full((len(family.pieces), len(target)), np.nan)
    groups: dict[float, list[int]] = {}
    for number, piece in enumerate(family.pieces):
        rim = piece.bottom_mm if family.kind == "bell" else 0.0
        groups.setdefault(rim, []).append(number)
    structure = None
    for numbers in groups.values():
        base = with_piece(instrument, family.part, _cut_finely(family.pieces[numbers[0]]))
        level = hole_level(base, instrument.level)
        request = request_of_table(base, fingerings, solved=level.terms)
        structure = structure or request.structure
        near = np.asarray(kernels.resonances(structure, *request[1:]).frequency)
        values = np.array(
            [read_values(with_piece(instrument, family.part, family.pieces[n])) for n in numbers]
        )
        parameters = np.asarray(read_parameters(request.numbers))
        for start in range(0, len(numbers), _BATCH):
            # The last batch is filled up, so that one compiled kernel serves all.
            rows = np.arange(start, start + _BATCH) % len(numbers)
            found = kernels.builds(
                structure,
                *request[1:5],
                near,
                values[rows],
                np.tile(parameters, (_BATCH, 1)),
            )
            count = min(_BATCH, len(numbers) - start)
            cents[numbers[start : start + count]] = CENTS_PER_LOG * np.log(
                np.asarray(found)[:count] / target
            )
    standard = np.array([f.use is Use.STANDARD for f in fingerings.fingerings]) & usable
    names = [note.fingering for note in table.notes]
    pairs = [(names.index(each.low), names.index(each.high)) for each in table.twelfths]
    pairs = [(a, b) for a, b in pairs if standard[a] and standard[b]]
    words: Said = table.model_level
    if family.kind == "bell" and instrument.level is not SideHoles.CLOSED_FORMS:
        words = say("{level}, one bell of each rim for all of that rim", level=words)
    order = _order(fingerings, standard, dict(pairs))
    return _Heard(cents, standard, pairs, order, names, words)


def _order(fingerings: FingeringTable, standard: np.ndarray, twelfths: dict[int, int]) -> list[int]:
    """Rows as a maker looks at them: the lowest note, its twelfth, the next."""
    rising = sorted(
        (int(row) for row in np.flatnonzero(standard)),
        key=lambda row: note_number(fingerings.fingerings[row].written),
    )
    found: dict[int, None] = {}
    for row in rising:
        found[row] = None
        if row in twelfths:
            found[twelfths[row]] = None
    return list(found)


def _cut_finely(piece: Piece) -> Piece:
    """The piece with every straight line tapered, so that the kernel cuts it into fine slices."""
    bore = tuple(
        (station, diameter + _TAPERED * station if number % 2 else diameter)
        for number, (station, diameter) in enumerate(piece.bore)
    )
    return Piece(piece.shape, piece.length_mm, piece.top_mm, piece.bottom_mm, bore)


def _member(piece: Piece, heard: _Heard, number: int, registers: list[str]) -> Member:
    own = heard.cents[number]
    change = own - heard.cents[0]
    counted = change[heard.standard]
    twelfths = [change[high] - change[low] for low, high in heard.pairs]
    by_register = {
        register: float(
            np.mean(change[heard.standard & np.array([r == register for r in registers])])
        )
        for register in dict.fromkeys(
            r for r, counts in zip(registers, heard.standard, strict=True) if counts
        )
    }
    return Member(
        name=piece.name,
        shape=piece.shape,
        length_mm=piece.length_mm,
        top_mm=piece.top_mm,
        bottom_mm=piece.bottom_mm,
        bore=list(piece.bore),
        pitch_cents=float(np.mean(counted)),
        by_register=by_register,
        twelfths_cents=float(np.mean(twelfths)) if twelfths else 0.0,
        rms_cents=float(np.std(own[heard.standard])),
        unevenness_cents=float(np.std(counted)),
        notes=[
            NoteChange(
                fingering=heard.names[row], by_cents=float(change[row]), cents=float(own[row])
            )
            for row in heard.order
        ],
    )
