"""What widening the bore by a little at each station does to every note: the classic curves.

Each part's bore gets stations at a regular distance. A station's diameter, moved alone, gives
a bump that falls off linearly to its neighbours, so the bumps of all stations add up to a bore
widened all along. The engine's exact derivative in each of these diameters, times the
widening, is the curve. Side holes take part: where the bore is wider, a hole's tube is
shorter.

For a lossless tube, closed above and open below, Rayleigh's principle ("The Theory of Sound",
section 265; Fletcher and Rossing, "The Physics of Musical Instruments", chapter 8; both from
memory) gives a mode with wavenumber k the shift d ln f = -(1/L) ∫ (dS/S) cos 2kx dx, x from the
closed end: wider where the pressure swings most lowers a note, wider where the flow does
raises it. The tests hold the curves to that.
"""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np

from borewright.acoustics import kernels
from borewright.acoustics.cents import CENTS_PER_LOG
from borewright.acoustics.character.bumps import logarithmic_slopes
from borewright.acoustics.options import Air
from borewright.acoustics.request import climate_words, request_of_table
from borewright.acoustics.side_holes import hole_level
from borewright.acoustics.status import statuses
from borewright.errors import AcousticsError
from borewright.model import (
    BorePerturbation,
    BoreStation,
    FingeringTable,
    Instrument,
    Part,
    dimensions,
)
from borewright.model.profile import diameter_at
from borewright.words import say


def bore_perturbation(
    instrument: Instrument,
    fingerings: FingeringTable,
    *,
    step_mm: float = 5.0,
    widening_mm: float = 0.05,
    air: Air | None = None,
) -> BorePerturbation:
    """Cents that a wider bore at each station brings to every fingering.

    Parameters
    ----------
    instrument, fingerings, air
        As for :func:`borewright.acoustics.tuning`.
    step_mm
        Greatest distance between stations; the bore's own stations are kept.
    widening_mm
        Growth of the diameter at the station; negative narrows.

    Returns
    -------
    BorePerturbation
        First order: exact derivatives times the widening. The mouthpiece's bore, which is
        bought in, has no stations.

    Raises
    ------
    AcousticsError
        For a step or widening out of range, or a note without a resonance.
    """
    if not 1.0 <= step_mm <= 100.0:
        raise AcousticsError(
            say("step_mm is {step_mm:g}", step_mm=step_mm),
            place="step_mm",
            remedy=say("Give 1 to 100 mm."),
        )
    if not 0 < abs(widening_mm) <= 1.0:
        raise AcousticsError(
            say("widening_mm is {widening_mm:g}", widening_mm=widening_mm),
            place="widening_mm",
            remedy=say("Give up to 1 mm, usually 0.05; negative to narrow."),
        )
    level = hole_level(instrument)
    solved = kernels.resonances(*request_of_table(instrument, fingerings, air, level.terms))
    silent = [
        fingering.name
        for fingering, status in zip(fingerings.fingerings, statuses(solved), strict=True)
        if not status.usable
    ]
    if silent:
        raise AcousticsError(
            say("no resonance was found for {silent}", silent=", ".join(silent)),
            place=say("'{instrument}'", instrument=instrument.name),
            remedy=say("Leave these fingerings out of the table."),
        )
    finer = with_stations(instrument, step_mm)
    request = request_of_table(finer, fingerings, air, level.terms)
    stations, columns = heard_stations(finer)
    slopes = logarithmic_slopes(request, np.asarray(solved.frequency), columns)
    cents = slopes * (CENTS_PER_LOG * widening_mm)
    return BorePerturbation(
        instrument=instrument.name,
        fingerings=[fingering.name for fingering in fingerings.fingerings],
        registers=[fingering.register_.value for fingering in fingerings.fingerings],
        stations=stations,
        widening_mm=widening_mm,
        step_mm=step_mm,
        cents=cents.tolist(),
        model_level=level.words,
        climate=climate_words(instrument.climate, air),
    )


def with_stations(instrument: Instrument, step_mm: float) -> Instrument:
    """The same bore with stations no further apart than ``step_mm``, tenons included."""
    parts = [part.model_copy(update={"bore": _finer(part, step_mm)}) for part in instrument.parts]
    return instrument.model_copy(update={"parts": parts})


def _finer(part: Part, step_mm: float) -> list[tuple[float, float]]:
    low, high = reach_mm(part)
    bore = list(part.bore)
    # A tenon whose bore is not listed goes on with the last diameter: list it.
    if low < bore[0][0]:
        bore.insert(0, (low, bore[0][1]))
    if high > bore[-1][0]:
        bore.append((high, bore[-1][1]))
    # Where a socket's floor ends the bore that is heard, a station ends the last bump with it.
    for edge in (low, high):
        if all(abs(edge - station) > 1e-9 for station, _ in bore):
            bore.append((edge, part.bore_diameter_at(edge)))
            bore.sort(key=lambda point: point[0])
    points = [bore[0]]
    for (s0, d0), (s1, d1) in pairwise(bore):
        pieces = max(1, math.ceil((s1 - s0) / step_mm - 1e-9))
        points += [
            (s0 + (s1 - s0) * i / pieces, d0 + (d1 - d0) * i / pieces) for i in range(1, pieces)
        ]
        points.append((s1, d1))
    return points


def reach_mm(part: Part) -> tuple[float, float]:
    """First and last station (mm) of the part's own bore that the sound meets.

    In a joint it meets the tenon's bore.
    """
    low, high = 0.0, part.length_mm
    if part.tenon_top:
        low = -part.tenon_top.length_mm
    if part.socket_top:
        low = part.socket_top.depth_mm
    if part.tenon_bottom:
        high += part.tenon_bottom.length_mm
    if part.socket_bottom:
        high -= part.socket_bottom.depth_mm
    return low, high


def heard_stations(instrument: Instrument) -> tuple[list[BoreStation], list[list[int]]]:
    """Stations that the sound meets, from the top down, and the dimensions that move each.

    The two diameters of a step are moved together.
    """
    index = {
        (d.part, d.index): column
        for column, d in enumerate(dimensions(instrument))
        if d.measure == "bore_diameter"
    }
    found: list[tuple[BoreStation, list[int]]] = []
    for number, part in enumerate(instrument.parts):
        low, high = reach_mm(part)
        if number == 0:
            low = 0.0  # nothing is joined above: a mouthpiece's own bore reaches the shoulder
        if number == len(instrument.parts) - 1:
            high = part.length_mm
        groups: dict[float, list[int]] = {}
        for point, (station, _) in enumerate(part.bore):
            if low - 1e-9 <= station <= high + 1e-9:
                groups.setdefault(station, []).append(index[part.name, point])
        stations = list(groups)
        for above, station, below in zip(
            stations[:1] + stations, stations, [*stations[1:], *stations[-1:]], strict=False
        ):
            place = BoreStation(
                part=part.name,
                station_mm=station,
                position_mm=instrument.offset_mm(part.name) + station,
                diameter_mm=diameter_at(part.bore, station, 1),
                width_mm=(below - above) / 2,
            )
            found.append((place, groups[station]))
    found.sort(key=lambda row: row[0].position_mm)
    return [place for place, _ in found], [group for _, group in found]
