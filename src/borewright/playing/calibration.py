"""Mouthpiece, reed and climate from takes of an instrument whose dimensions are measured.

Least squares of measured less predicted cents over the parameters asked for, weighted by the
notes' errors, with 95 % intervals. Data that cannot tell parameters apart are refused: where
the takes would leave a parameter less certain than what is known of it beforehand, the message
names the parameters that go together.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import NamedTuple

import numpy as np

from borewright.acoustics import kernels
from borewright.acoustics.cents import CENTS_PER_LOG
from borewright.acoustics.request import request_of_table
from borewright.acoustics.side_holes import hole_level
from borewright.errors import PlayingError
from borewright.model import FingeringTable, Instrument, Use, dimensions
from borewright.model.base import Entity
from borewright.model.results.campaign import Interval, ParameterEstimate
from borewright.playing.measured import MeasuredNote
from borewright.words import Text, say

#: What the model itself leaves open about a note (cents).
_MODEL_CENTS = 1.0
_ROUNDS = 12


class Parameter(NamedTuple):
    """A parameter that takes may tell: its unit, its bounds, and how well it is known anyway."""

    table: str  # of the instrument: mouthpiece, reed or climate
    key: str
    unit: str
    low: float
    high: float
    known_to: float  # half-width of what is credible without any take (from memory)


PARAMETERS = {
    f"{entry.table}.{entry.key}": entry
    for entry in (
        Parameter("mouthpiece", "bore_length_mm", "mm", 20.0, 80.0, 8.0),
        Parameter("mouthpiece", "chamber_mm3", "mm³", 500.0, 8000.0, 1200.0),
        Parameter("reed", "equivalent_volume_mm3", "mm³", 0.0, 4000.0, 800.0),
        Parameter("reed", "resonance_hz", "Hz", 1200.0, 5000.0, 800.0),
        Parameter("climate", "room_c", "°C", -5.0, 45.0, 5.0),
        Parameter("climate", "reed_end_c", "°C", 10.0, 40.0, 5.0),
    )
}


def calibrate(
    instrument: Instrument,
    fingerings: FingeringTable,
    measured: Mapping[str, MeasuredNote],
    wanted: Sequence[str],
) -> tuple[Instrument, list[ParameterEstimate], float]:
    """Fit parameters of mouthpiece, reed and climate.

    Parameters
    ----------
    instrument, fingerings
        As built: its dimensions are taken as they are.
    measured
        Cents by fingering, and their errors.
    wanted
        Names such as ``mouthpiece.chamber_mm3``, see :data:`PARAMETERS`.

    Returns
    -------
    tuple
        The instrument with these parameters, the estimates, and the root mean square (cents)
        that is left.

    Raises
    ------
    PlayingError
        For unknown parameters, too few notes, and parameters that these takes cannot tell.
    """
    entries = _entries(instrument, wanted)
    table = fingerings.model_copy(
        update={
            "fingerings": [
                each
                for each in fingerings.fingerings
                if each.name in measured and each.use is not Use.APART
            ]
        }
    )
    count = len(table.fingerings)
    if count < len(entries) + 2:
        raise PlayingError(
            say(
                "{notes} notes cannot tell {parameters} parameters",
                notes=count,
                parameters=len(entries),
            ),
            place="calibration",
            remedy=say("Record a whole scale in both registers."),
        )
    cents = np.array([measured[each.name].cents for each in table.fingerings])
    error = np.hypot([measured[each.name].error for each in table.fingerings], _MODEL_CENTS)
    tables = _tables(instrument)
    start = np.array([tables[entry.table].model_dump()[entry.key] for entry in entries])
    predict = _Predictor(instrument, table, entries)
    found = _least_squares(predict, cents, error, start, entries)
    residual, slopes = cents - predict(found), _slopes(predict, found, entries)
    _refuse_if_alike(slopes, error, entries, wanted)
    freedom = count - len(entries)
    scale = max(1.0, float(np.sum((residual / error) ** 2)) / freedom)
    covariance = scale * np.linalg.inv((slopes / error[:, None]).T @ (slopes / error[:, None]))
    estimates = [
        ParameterEstimate(
            name=name,
            unit=entry.unit,
            start=float(before),
            value=_interval(float(value), math.sqrt(float(variance)), freedom),
        )
        for name, entry, before, value, variance in zip(
            wanted, entries, start, found, np.diag(covariance), strict=True
        )
    ]
    return _with(instrument, entries, found), estimates, float(np.sqrt(np.mean(residual**2)))


def _tables(instrument: Instrument) -> dict[str, Entity]:
    """The instrument's tables that hold parameters; what it lacks is left out."""
    tables = {
        "mouthpiece": instrument.mouthpiece,
        "reed": instrument.reed,
        "climate": instrument.climate,
    }
    return {name: table for name, table in tables.items() if table}


def _entries(instrument: Instrument, wanted: Sequence[str]) -> list[Parameter]:
    tables = _tables(instrument)
    known = [name for name, entry in PARAMETERS.items() if entry.table in tables]
    for name in wanted:
        if name not in known:
            raise PlayingError(
                say(
                    "'{name}' cannot be fitted to '{instrument}'",
                    name=name,
                    instrument=instrument.name,
                ),
                place="calibration",
                remedy=say("Parameters are: {parameters}.", parameters=", ".join(known)),
            )
    if not wanted or len(set(wanted)) < len(wanted):
        raise PlayingError(
            say("no parameter, or one twice, is asked for"),
            place="calibration",
            remedy=say("Parameters are: {parameters}.", parameters=", ".join(known)),
        )
    return [PARAMETERS[name] for name in wanted]


class _Predictor:
    """Predicted cents for values of the parameters, on one compiled kernel."""

    def __init__(
        self, instrument: Instrument, table: FingeringTable, entries: list[Parameter]
    ) -> None:
        self._request = request_of_table(instrument, table, solved=hole_level(instrument).terms)
        self._targets = np.array([instrument.pitch.target_hz(f.written) for f in table.fingerings])
        self._entries = entries
        names = [(d.part, d.measure) for d in dimensions(instrument)]
        self._bore_length = (
            names.index(("mouthpiece", "bore_length")) if instrument.mouthpiece else -1
        )

    def __call__(self, values: np.ndarray) -> np.ndarray:
        numbers = self._request.numbers
        sizes = np.array(numbers.values)
        reed, climate = numbers.reed, numbers.climate
        chamber = np.array(numbers.chamber_mm3)
        for entry, value in zip(self._entries, values, strict=True):
            match entry.key:
                case "bore_length_mm":
                    sizes[self._bore_length] = value
                case "chamber_mm3":
                    chamber = np.array(value)
                case "equivalent_volume_mm3":
                    reed = reed._replace(equivalent_volume_mm3=np.array(value))
                case "resonance_hz":
                    reed = reed._replace(resonance_hz=np.array(value))
                case "room_c":
                    climate = climate._replace(room_c=np.array(value))
                case "reed_end_c":
                    climate = climate._replace(reed_end_c=np.array(value))
        changed = numbers._replace(values=sizes, reed=reed, climate=climate, chamber_mm3=chamber)
        solved = kernels.resonances(*self._request._replace(numbers=changed))
        cents: np.ndarray = CENTS_PER_LOG * np.log(np.asarray(solved.frequency) / self._targets)
        return cents


def _slopes(predict: _Predictor, values: np.ndarray, entries: list[Parameter]) -> np.ndarray:
    """Central differences, [F, P]: these few parameters are not among the dimensions.

    Resonances are solved to 1e-10, so a step of a hundredth of the credible range is exact
    enough for any interval.
    """
    columns = []
    for index, entry in enumerate(entries):
        step = np.zeros(len(entries))
        step[index] = entry.known_to / 100
        columns.append((predict(values + step) - predict(values - step)) / (2 * step[index]))
    return np.stack(columns, axis=1)


def _least_squares(
    predict: _Predictor,
    cents: np.ndarray,
    error: np.ndarray,
    start: np.ndarray,
    entries: list[Parameter],
) -> np.ndarray:
    """Gauss-Newton within the bounds; each step at most what is credible beforehand."""
    from scipy.optimize import lsq_linear

    known = np.array([entry.known_to for entry in entries])
    low, high = np.array([(entry.low, entry.high) for entry in entries]).T
    values = np.clip(start, low, high)
    for _ in range(_ROUNDS):
        slopes = _slopes(predict, values, entries) * known / error[:, None]
        right = (cents - predict(values)) / error
        # A faint pull keeps a step finite where parameters are alike; it is judged afterwards.
        matrix = np.concatenate([slopes, 1e-4 * np.eye(len(entries))])
        limits = (
            np.maximum((low - values) / known, -1.0) - 1e-12,
            np.minimum((high - values) / known, 1.0) + 1e-12,
        )
        step = lsq_linear(matrix, np.concatenate([right, np.zeros(len(entries))]), limits).x
        values = np.clip(values + step * known, low, high)
        if np.abs(step).max() < 1e-6:
            break
    settled: np.ndarray = values
    return settled


def _refuse_if_alike(
    slopes: np.ndarray, error: np.ndarray, entries: list[Parameter], wanted: Sequence[str]
) -> None:
    """Refuse where the takes say less about a parameter than is known beforehand.

    In units of what is known beforehand the weakest singular direction must be surer than 1.
    """
    known = np.array([entry.known_to for entry in entries])
    _, strength, directions = np.linalg.svd(slopes * known / error[:, None], full_matrices=False)
    if strength[-1] >= 1.0:
        return
    weakest = np.abs(directions[-1])
    alike = [name for name, share in zip(wanted, weakest, strict=True) if share > 0.3]
    if len(alike) == 1:
        raise PlayingError(
            say("these takes say nothing of {name}", name=alike[0]),
            place="calibration",
            remedy=say("Record more takes or other notes, or leave it as it is."),
        )
    told: Text = alike[0]
    for name in alike[1:]:
        told = say("{first} from {second}", first=told, second=name)
    raise PlayingError(
        say("these takes cannot tell {alike}", alike=told),
        place="calibration",
        remedy=say(
            "Measure one of them and fit the other, or record more takes in both registers."
        ),
    )


def _interval(value: float, error: float, freedom: int) -> Interval:
    from scipy.stats import t

    half = float(t.ppf(0.975, freedom)) * error
    return Interval(value=value, low=value - half, high=value + half)


def _with(instrument: Instrument, entries: list[Parameter], values: np.ndarray) -> Instrument:
    for entry, value in zip(entries, values, strict=True):
        table = _tables(instrument)[entry.table]
        changed = table.model_copy(update={entry.key: float(value)})
        instrument = instrument.model_copy(update={entry.table: changed})
    return instrument
