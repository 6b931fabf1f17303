"""From takes and readings to causes, and to the reading that would decide."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

import numpy as np

from borewright.acoustics.request import climate_words
from borewright.model import Doubts, FingeringTable, Instrument
from borewright.model.results.advice import Leak
from borewright.model.results.campaign import Interval
from borewright.model.results.causes import Cause, Diagnosis, NextReading, odds_words
from borewright.playing.causes.believed import Belief, believed
from borewright.playing.causes.contradictions import against_a_leak, contradictions
from borewright.playing.causes.evidence import Observations, Row, gauge_row
from borewright.playing.causes.next_reading import worths
from borewright.playing.causes.posterior import Posterior
from borewright.playing.causes.readings_to_take import candidates
from borewright.playing.causes.sounding import Sounding
from borewright.playing.causes.unknowns import PLAYER_CENTS
from borewright.playing.measured import MeasuredNote, check_measured
from borewright.playing.readings import Reading
from borewright.words import Message, say

#: Causes rarer than this are left out, and no more than so many are told; so many readings.
_LEAST, _MOST_CAUSES, _MOST_READINGS = 0.04, 8, 5
_STEPS = 3


def diagnose(
    instrument: Instrument,
    fingerings: FingeringTable,
    measured: Mapping[str, MeasuredNote],
    *,
    shared_cents: float = 0.0,
    player_cents: float = PLAYER_CENTS,
    readings: Sequence[Reading] = (),
    leaks: Sequence[Leak] = (),
    doubts: Doubts | None = None,
    room_known: bool = True,
    progress: Callable[[int, int], None] | None = None,
) -> Diagnosis:
    """What is wrong, how probably, and which reading would tell most.

    Parameters
    ----------
    instrument, fingerings
        As drawn, in the room of the takes; with its leaks, if it has any.
    measured
        By fingering name, as the takes give them.
    shared_cents
        Standard error that all notes of the takes share.
    player_cents
        One standard deviation of the player's own pitch.
    readings
        Gauge readings; those of leaks are in the instrument.
    leaks
        The instrument's leaks.
    doubts
        The usual scatter of sizes and circumstances; a coupon's or a lot's go in here.
    room_known
        Whether the room's temperature was written down.
    progress
        Called with how many steps are done, and how many there are.

    Raises
    ------
    PlayingError
        Where too little was measured, a fingering is unknown or has no resonance.
    """
    told = progress or (lambda done, total: None)
    check_measured(fingerings, measured)
    told(0, _STEPS)
    sounding = Sounding(instrument, fingerings)
    unknowns = sounding.unknowns
    rows = [gauge_row(sounding, instrument, each) for each in readings]
    gauged = [row for row in rows if row is not None]
    usual = unknowns.usual(doubts or Doubts(), player_cents, room_known=room_known)
    observations = Observations(sounding, fingerings, measured, shared_cents, gauged)
    names = {leak.hole for leak in leaks}
    belief = believed(instrument, observations, usual, names)
    told(1, _STEPS)
    said: list[Message] = contradictions(belief, gauged)
    if leaks:
        said += _against_leaks(
            instrument, fingerings, measured, shared_cents, gauged, belief, leaks
        )
    told(2, _STEPS)
    posterior = belief.posterior
    none = (posterior.sets == len(belief.found)).all(axis=1)
    return Diagnosis(
        instrument=instrument.name,
        notes=len(observations.rows),
        readings=len(gauged),
        nothing=float(posterior.weights[none].sum()),
        causes=_causes(belief),
        player_cents=_interval(posterior, unknowns.unit(unknowns.player)),
        contradictions=list(said),
        next_readings=_next_readings(instrument, fingerings, observations, belief, measured),
        model_level=sounding.model_level,
        climate=climate_words(instrument.climate, None),
    )


def _against_leaks(
    instrument: Instrument,
    fingerings: FingeringTable,
    measured: Mapping[str, MeasuredNote],
    shared_cents: float,
    gauged: list[Row],
    leaky: Belief,
    leaks: Sequence[Leak],
) -> list[Message]:
    names = {leak.hole for leak in leaks}
    closed = fingerings.model_copy(
        update={
            "fingerings": [
                each.model_copy(
                    update={"open_holes": tuple(h for h in each.open_holes if h not in names)}
                )
                for each in fingerings.fingerings
            ]
        }
    )
    observations = Observations(
        Sounding(instrument, closed), closed, measured, shared_cents, gauged
    )
    times = against_a_leak(believed(instrument, observations, leaky.usual, names), leaky)
    if times is None:
        return []
    return [
        say(
            "your takes speak against these leaks, {times:.0f} to 1: test again how large they are",
            times=min(times, 1000.0),
        )
    ]


def _interval(
    posterior: Posterior, quantity: np.ndarray, given: np.ndarray | None = None
) -> Interval:
    middle, low, high = (posterior.quantile(quantity, q, given) for q in (0.5, 0.025, 0.975))
    return Interval(value=middle, low=low, high=high)


def _causes(belief: Belief) -> list[Cause]:
    posterior = belief.posterior
    slopes = belief.evidence.slopes[: len(belief.names)]
    found = []
    for k, suspect in enumerate(belief.found):
        probability = posterior.probability(k)
        if probability < _LEAST:
            continue
        amount = posterior.amount(k)
        effects = slopes @ suspect.direction * suspect.spread * amount
        most = int(np.argmax(np.abs(effects)))
        found.append(
            Cause(
                words=suspect.more if amount > 0 else suspect.less,
                kind=suspect.kind,
                part=suspect.part,
                hole=suspect.hole,
                probability=probability,
                odds=odds_words(probability),
                amount=_interval(posterior, suspect.quantity, posterior.having(k)),
                unit=suspect.unit,
                most_note=belief.names[most],
                most_cents=float(effects[most]),
            )
        )
    found.sort(key=lambda each: -each.probability)
    return found[:_MOST_CAUSES]


def _next_readings(
    instrument: Instrument,
    fingerings: FingeringTable,
    observations: Observations,
    belief: Belief,
    measured: Mapping[str, MeasuredNote],
) -> list[NextReading]:
    sounding = observations.sounding
    slopes = np.full((len(fingerings.fingerings), sounding.unknowns.count), np.nan)
    usable = sounding.usable()
    slopes[usable] = sounding.at(np.zeros(sounding.unknowns.count), usable)[1]
    error = float(np.median([measured[name].error for name in observations.names]))
    offered = candidates(instrument, fingerings, sounding, observations.rows, error, slopes)
    return [
        NextReading(
            words=each.candidate.words,
            item=str(each.candidate.item),
            part=each.candidate.part,
            hole=each.candidate.hole,
            station_mm=each.candidate.station_mm,
            minutes=each.candidate.minutes,
            right_now=each.right_now,
            right_after=each.right_after,
            bits=each.bits,
        )
        for each in worths(belief, offered)[:_MOST_READINGS]
    ]
