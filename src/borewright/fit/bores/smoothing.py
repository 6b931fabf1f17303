"""A measured bore, smoothed: the simplest shape that the readings allow, with intervals."""

from __future__ import annotations

import math

import numpy as np

from borewright.errors import FitError
from borewright.fit.bores._choosing import Candidate, Chooser
from borewright.fit.bores._intervals import Linear, break_interval, flare_break, spread_of
from borewright.fit.bores._shapes import Readings
from borewright.model.bores import (
    BoreBreak,
    BoreSegment,
    BreakKind,
    Fitted,
    MeasuredPart,
    ReachedFrom,
    SegmentKind,
    SmoothedBore,
    Tried,
)
from borewright.model.results.campaign import Interval
from borewright.words import Said, say

#: A profile's straight lines keep within this (mm) of the smoothed flare.
_LINE_MM = 0.005
_FINEST_MM = 0.5
#: From this ratio on the owner is told that readings scatter more than their gauge.
_ROUGH = 1.5
_LEAST_UNCERTAINTY_MM = 1e-4
#: So many readings may be left out as slips, and so many must stay.
_MOST_SLIPS, _LEAST_KEPT = 3, 8
#: How many times the median from its neighbours' line a reading lies that may be a slip.
_FAR = 5.0


def smooth_bore(part: MeasuredPart) -> SmoothedBore:
    """Smooth the readings of one part.

    Cylinders, cones, steps and a flare of free form are fitted by weighted least squares; an
    information criterion chooses how many. Where readings have uncertainties of their gauge,
    those are the weights; otherwise all weigh the same and their scatter is estimated. The
    uncertainty of a station counts as that of a diameter by way of the local taper (effective
    variance).

    Parameters
    ----------
    part
        Readings (mm), six at least.

    Returns
    -------
    SmoothedBore
        Lengths of bore, breaks, diameters, all with 95 % intervals, and the profile.

    Raises
    ------
    FitError
        Where only some of the readings have an uncertainty.
    """
    given = [reading.uncertainty_mm for reading in part.readings]
    if any(given) and not all(given):
        bare = sum(value is None for value in given)
        raise FitError(
            say("{bare} of {all} readings have no uncertainty", bare=bare, all=len(given)),
            place=(say("'{part}'", part=part.name), "uncertainty_mm"),
            remedy=say("Give one for every reading, or for none."),
        )
    known = all(given)
    stations, diameters = np.array(part.stations_mm), np.array(part.diameters_mm)
    own = np.array([value or 1.0 for value in given])
    places = np.array([reading.station_uncertainty_mm for reading in part.readings])
    deviation = own.copy()
    chooser, best, slips = _choose(stations, diameters, deviation, known)
    if np.any(places > 0):
        for _ in range(2):
            tapers = _tapers(chooser, best, stations)
            if not known:
                # Of a gauge that is not known only the scatter is: it bears both causes.
                scatter = math.sqrt(best.misfit / max(chooser.count - best.parameters, 1))
                own = np.full(len(own), max(scatter, _LEAST_UNCERTAINTY_MM))
            deviation = np.sqrt(own**2 + (tapers * places) ** 2)
            if not known:
                deviation /= np.median(deviation)
            chooser, best, slips = _choose(stations, diameters, deviation, known)
    return _told(part, chooser, best, deviation, slips, known)


def _choose(
    stations: np.ndarray, diameters: np.ndarray, deviation: np.ndarray, known: bool
) -> tuple[Chooser, Candidate, list[int]]:
    """The shape, and the readings left out of it as slips.

    A single reading far off can be met by breaks on either side of it. Leaving it out is
    taken to cost as much as one break.
    """
    kept = np.arange(len(stations))
    chooser = Chooser(Readings(stations, diameters, 1 / deviation), known=known)
    best = chooser.run()
    slips: list[int] = []
    while len(slips) < _MOST_SLIPS and len(kept) > _LEAST_KEPT:
        place = _furthest(chooser.readings)
        if place is None:
            break
        fewer = np.delete(kept, place)
        left = Readings(stations[fewer], diameters[fewer], 1 / deviation[fewer])
        other = Chooser(left, known=known, taken=len(stations))
        simpler = other.run()
        inflation = min(chooser.inflation, other.inflation)
        gained = chooser.criterion(best, inflation) - other.criterion(simpler, inflation)
        if gained < 3 * math.log(len(stations)):
            break
        slips.append(int(kept[place]))
        kept, chooser, best = fewer, other, simpler
    return chooser, best, slips


def _furthest(readings: Readings) -> int | None:
    """The reading that lies furthest from the line between its neighbours, if that is far."""
    s, d = readings.stations, readings.diameters
    span = s[2:] - s[:-2]
    share = np.where(span > 0, (s[1:-1] - s[:-2]) / np.where(span > 0, span, 1.0), 0.5)
    off = d[1:-1] - (d[:-2] + share * (d[2:] - d[:-2]))
    # Against the taper's own change, which shows as a run of the same sign.
    near = np.convolve(np.abs(off), [0.25, 0.0, 0.25], mode="same")
    apart = (np.abs(off) - near) * readings.weights[1:-1]
    place = int(np.argmax(apart))
    return 1 + place if apart[place] > _FAR * float(np.median(np.abs(apart))) else None


def _tapers(chooser: Chooser, best: Candidate, stations: np.ndarray) -> np.ndarray:
    linear = Linear(best, chooser.readings, spread_of(chooser, best))
    (above, _), (below, _) = (linear.diameters(stations + way) for way in (-0.5, 0.5))
    tapers: np.ndarray = below - above
    return tapers


def _told(
    part: MeasuredPart,
    chooser: Chooser,
    best: Candidate,
    own: np.ndarray,
    slips: list[int],
    known: bool,
) -> SmoothedBore:
    spread = spread_of(chooser, best)
    linear = Linear(best, chooser.readings, spread)
    smoothed, _ = linear.diameters(np.array(part.stations_mm))
    scatter = math.sqrt(spread.variance)
    deviation = own * (1.0 if known else scatter)
    readings = [
        Fitted(
            station_mm=station,
            diameter_mm=diameter,
            smoothed_mm=float(fitted),
            uncertainty_mm=max(float(own), _LEAST_UNCERTAINTY_MM),
            reached_from=reading.reached_from.value,
        )
        for station, diameter, fitted, own, reading in zip(
            part.stations_mm, part.diameters_mm, smoothed, deviation, part.readings, strict=True
        )
    ]
    left = np.delete(np.array(part.diameters_mm) - smoothed, slips)
    ranked = sorted(chooser.tried.values(), key=chooser.criterion)
    return SmoothedBore(
        name=part.name,
        length_mm=part.length_mm,
        segments=_segments(linear),
        breaks=_breaks(chooser, best, linear),
        profile=_profile(linear),
        readings=readings,
        scatter_mm=float(np.sqrt(np.sum(left**2) / max(len(left) - best.parameters, 1))),
        inflation=scatter if known else 1.0,
        uncertainty_given=known,
        tried=[
            Tried(shape=each.shape.words, criterion=chooser.criterion(each)) for each in ranked[:6]
        ],
        notices=_notices(readings, scatter if known else 1.0, slips),
    )


def _segments(linear: Linear) -> list[BoreSegment]:
    ends = [linear.readings.low, *linear.breaks[0].tolist(), linear.readings.high]
    span = linear.readings.high - linear.readings.low
    found = []
    cones = 1
    for number, kind in enumerate(linear.shape.kinds):
        top, bottom = ends[number], ends[number + 1]
        # A hair inside, so that a step at the end belongs to the neighbour.
        inside = np.array([top + 1e-6, bottom - 1e-6])
        rows = linear.rows(inside)
        values, _ = linear.diameters(inside)
        taper: Interval | None = None
        if kind is SegmentKind.CONE:
            row = np.zeros(rows.shape[1])
            row[cones] = 1 / span
            taper = linear.interval(row, float(linear.factors[0, cones]) / span)
            cones += 1
        found.append(
            BoreSegment(
                kind=kind,
                from_mm=top,
                to_mm=bottom,
                top_diameter_mm=linear.interval(rows[0], float(values[0])),
                bottom_diameter_mm=linear.interval(rows[1], float(values[1])),
                taper=taper,
            )
        )
    return found


def _breaks(chooser: Chooser, best: Candidate, linear: Linear) -> list[BoreBreak]:
    found = []
    first_step = 1 + sum(kind is SegmentKind.CONE for kind in best.shape.kinds)
    first_step += 2 + best.shape.order if best.shape.has_flare else 0
    flare = flare_break(linear)
    for number, step in enumerate(best.shape.steps):
        height = None
        kind = BreakKind.BEND
        if step:
            kind = BreakKind.STEP
            column = first_step + sum(best.shape.steps[:number])
            row = np.zeros(linear.covariance.shape[0])
            row[column] = 1.0
            height = linear.interval(row, float(linear.factors[0, column]))
        elif number == flare:
            kind = BreakKind.FLARE_START
        found.append(
            BoreBreak(
                kind=kind,
                station_mm=break_interval(chooser, best, number),
                step_mm=height,
            )
        )
    return found


def _profile(linear: Linear) -> list[tuple[float, float, float, float]]:
    """Stations where straight lines will do: ends and breaks, and a flare cut finely enough."""
    low, high = linear.readings.low, linear.readings.high
    breaks = linear.breaks[0].tolist()
    stations: list[float] = [low]
    for number, place in enumerate(breaks):
        stations += [place - 1e-9, place + 1e-9] if linear.shape.steps[number] else [place]
    if linear.shape.has_flare:
        start = breaks[-1] if breaks else low
        stations += _flare_stations(linear, start, high)
    stations.append(high)
    at = np.array(stations)
    values, half = linear.diameters(at)
    return [
        (float(round(s, 6)), float(d), float(d - h), float(d + h))
        for s, d, h in zip(at, values, half, strict=True)
    ]


def _flare_stations(linear: Linear, start: float, end: float) -> list[float]:
    """Inner stations such that straight lines between them keep within ``_LINE_MM``."""

    def between(low: float, high: float) -> list[float]:
        middle = (low + high) / 2
        at, _ = linear.diameters(np.array([low, middle, high]))
        if high - low < 2 * _FINEST_MM or abs(at[1] - (at[0] + at[2]) / 2) < _LINE_MM:
            return []
        return [*between(low, middle), middle, *between(middle, high)]

    thirds = np.linspace(start, end, 4)
    found: list[float] = []
    for low, high in zip(thirds[:-1].tolist(), thirds[1:].tolist(), strict=True):
        found += [*between(low, high), high]
    return found[:-1]


def _notices(readings: list[Fitted], inflation: float, slips: list[int]) -> list[Said]:
    found: list[Said] = []
    if inflation > _ROUGH:
        found.append(
            say(
                "The readings scatter {times:.1f} times as much as their gauge should: the bore "
                "is rough or out of round, or the gauge is worse than stated. Intervals are "
                "widened by as much.",
                times=inflation,
            )
        )
    ends = {end.value: [r for r in readings if r.reached_from == end.value] for end in ReachedFrom}
    both = [ends[end.value] for end in ReachedFrom]
    if all(len(rows) >= 3 for rows in both):
        means = [float(np.mean([r.diameter_mm - r.smoothed_mm for r in rows])) for rows in both]
        errors = [
            math.sqrt(sum(r.uncertainty_mm**2 for r in rows)) / len(rows) * inflation
            for rows in both
        ]
        apart = means[1] - means[0]
        if abs(apart) > 3 * math.hypot(*errors):
            found.append(
                say(
                    "Readings from the bottom lie {by_mm:+.3f} mm off those from the top: check "
                    "the gauge's setting and the length that joins the two.",
                    by_mm=apart,
                )
            )
    for number in slips:
        each = readings[number]
        found.append(
            say(
                "The reading at {station_mm:g} mm lies {off_mm:+.2f} mm off and was left out: "
                "read it again.",
                station_mm=each.station_mm,
                off_mm=each.diameter_mm - each.smoothed_mm,
            )
        )
    return found
