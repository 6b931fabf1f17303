"""Solve a whole resonator: mesh its air, solve at a few points, read off its resonances."""

from __future__ import annotations

import math
import time
from collections.abc import Callable, Sequence
from typing import Any

import numpy as np

from borewright.acoustics.options import Air
from borewright.acoustics.solved.solving import require_ngsolve
from borewright.acoustics.solved.whole.body import Body, body_length_mm, body_of
from borewright.acoustics.solved.whole.detail import WholeDetail
from borewright.acoustics.solved.whole.result import WholeResonator
from borewright.errors import AcousticsError, cause_of
from borewright.model import Instrument
from borewright.words import Message, say

#: Air of the reference values in the tests: what a lossless reference uses if not told.
REFERENCE_AIR = Air(346.0, 1.18, losses=False)
#: Pressures and derivatives at an expansion point.
_MOMENTS = 10
#: More expansion points are added until the last solution moves no resonance by so much.
_SETTLED_CENTS = 0.01
_MOST_POINTS = 4
#: The mesh and the grid reach so far above the highest resonance that is expected.
_ABOVE = 1.15
_GRID_PER_RESONANCE = 400
#: Sizes are tried smaller, by these factors, where kernel or mesher fail.
_FACTORS = (1.0, 0.85, 0.7)

Progress = Callable[[Message, int, int], None]


def whole_resonances(
    instrument: Instrument,
    open_holes: Sequence[str],
    count: int = 3,
    *,
    air: Air | None = None,
    detail: WholeDetail | None = None,
    progress: Progress | None = None,
) -> WholeResonator:
    """First resonances of one fingering by Helmholtz's equation in all air, inside and outside.

    Bore, walls, chimneys, seats, undercuts, linings, raised pads (rigid discs 2 mm thick) and
    what closes holes are solid and hard; the air is lossless and one temperature throughout.
    Losses move resonances far more than a model's error: compare with engine results of the
    same lossless air. Not in it: rings, keys, posts, broken edges, the tilt of a pad; of a
    closed hole's outside only that it is stopped. Without open holes the problem is solved in
    a half plane if the instrument has no holes at all.

    Parameters
    ----------
    instrument
        Its ``bottom_end`` must be "radiating" or "closed". Chamber and reed count as the
        engine counts them, as admittances at the top of the bore.
    open_holes
        Names of the open holes; all others are closed.
    count
        How many resonances, from the lowest.
    air
        Lossless air; 346.0 m/s and 1.18 kg/m³ if not given.
    detail
        Mesh and orders. The default is right to about 0.2 cent for a few holes and to one for a
        whole clarinet (docs/levels.md); :func:`hold_fingering` tells how far a coarser one is off.
    progress
        Called with a message, steps done and steps in all.

    Returns
    -------
    WholeResonator
        Resonances (Hz), as :func:`borewright.acoustics.resonances` defines and numbers them.

    Raises
    ------
    AcousticsError
        If NGSolve is missing, air has losses, an instrument or fingering cannot be solved, or
        the kernel cannot make or mesh its air.
    """
    started = time.perf_counter()
    show = progress or (lambda _words, _done, _of: None)
    chosen = REFERENCE_AIR if air is None else air.checked()
    if chosen.losses:
        raise AcousticsError(
            say("the reference is lossless, but air with losses is given"),
            place="air",
            remedy=say("Give Air(speed, density, losses=False), to both levels that are compared."),
        )
    if count < 1:
        raise AcousticsError(
            say("count is {count}", count=count), place="count", remedy=say("Ask for at least 1.")
        )
    sizes = (detail or WholeDetail()).checked()
    body = body_of(instrument, open_holes)
    if body.bottom_is_closed and not any(hole.is_open for hole in body.holes):
        raise AcousticsError(
            say("the air has no way out"),
            place=(say("'{instrument}'", instrument=instrument.name), "open_holes"),
            remedy=say("Open a hole, or an end."),
        )
    expected = _expected(instrument, open_holes, count, chosen)
    require_ngsolve()

    from borewright.acoustics.solved.whole._reduced import maxima, reduced_on
    from borewright.acoustics.solved.whole._waves import Waves

    per_hz = 2 * math.pi / (1000 * chosen.speed_of_sound)
    highest = _ABOVE * expected[-1]
    show(say("mesh"), 0, 3)
    mesh = _mesh(body, sizes, 1000 * chosen.speed_of_sound / highest)
    show(say("matrices"), 1, 3)
    waves = Waves(mesh, sizes.round_order if body.is_round else sizes.order)
    grid = per_hz * np.linspace(0.02, 1.0, _GRID_PER_RESONANCE * count) * highest
    top = _top_admittance(instrument, chosen)
    characteristic = math.pi * body.top_radius_mm**2

    def admittance(reduced: Any) -> Callable[[np.ndarray], np.ndarray]:
        return lambda k: 1.0 / (characteristic * reduced.impedance(k)) + top(k / per_hz)

    snapshots: list[np.ndarray] = []
    change = math.inf
    for number, point in enumerate(_expansion_points(expected), start=1):
        show(say("solutions"), 1 + number, 2 + number)
        snapshots.append(waves.moments(per_hz * point, _MOMENTS))
        all_but_last = [*snapshots[:-1], snapshots[-1][:-1]]
        reduced = reduced_on(waves, np.concatenate(snapshots))
        before = reduced_on(waves, np.concatenate(all_but_last))
        found, earlier = (maxima(admittance(one), grid, count) for one in (reduced, before))
        if len(found) == len(earlier) == count:
            change = 1200 * float(np.max(np.abs(np.log2(found / earlier))))
        if change < _SETTLED_CENTS:
            break
    if len(found) < count or not change < _SETTLED_CENTS:
        raise AcousticsError(
            say(
                "only {found} of {count} resonances were found below {highest_hz:.0f} Hz",
                found=len(found),
                count=count,
                highest_hz=highest,
            )
            if len(found) < count
            else say(
                "the resonances have not settled (to {change_cents:.2g} cents)", change_cents=change
            ),
            place=(
                say("'{instrument}'", instrument=instrument.name),
                say("open holes: {open_holes}", open_holes=" ".join(open_holes) or say("none")),
            ),
            remedy=say("Ask for fewer resonances."),
        )
    impedance = chosen.density * chosen.speed_of_sound * 1e6 / characteristic
    show(say("solutions"), 3, 3)
    return WholeResonator(
        instrument=instrument.name,
        open_holes=tuple(open_holes),
        frequencies_hz=tuple(float(k) / per_hz for k in found),
        closed_forms_hz=tuple(float(frequency) for frequency in expected),
        reduction_cents=change,
        unknowns=waves.unknowns,
        seconds=time.perf_counter() - started,
        frequency_grid_hz=grid / per_hz,
        impedance=impedance / admittance(reduced)(grid),
    )


def _expected(
    instrument: Instrument, open_holes: Sequence[str], count: int, air: Air
) -> np.ndarray:
    """Where the engine's closed forms put the resonances (Hz), faint ones included."""
    from borewright.acoustics import kernels
    from borewright.acoustics.request import request_for
    from borewright.acoustics.structure import closed_forms_alone

    length = body_length_mm(instrument)
    highest = (count + 2) * air.speed_of_sound / (2 * length / 1000)
    orders = list(range(1, count + 1))
    solved = kernels.resonances(
        *request_for(
            instrument,
            [open_holes] * count,
            orders,
            highest,
            air,
            closed_forms_alone(len(instrument.hole_names())),
        )
    )
    if not np.all(solved.found):
        raise AcousticsError(
            say("radiation swallows one of the first {count} resonances", count=count),
            place=(
                say("'{instrument}'", instrument=instrument.name),
                say("open holes: {open_holes}", open_holes=" ".join(open_holes) or say("none")),
            ),
            remedy=say("Ask for fewer resonances."),
        )
    return np.sort(np.asarray(solved.frequency))


def _expansion_points(expected: np.ndarray) -> list[float]:
    """Frequencies (Hz) to solve at, the most useful first.

    Between resonances: on one of them its own field drowns all others.
    """
    below = np.concatenate([[expected[0] / 2], expected])
    middles = (below[1:] + below[:-1]) / 2
    return [float(middle) for middle in reversed(middles)][:_MOST_POINTS]


def _mesh(body: Body, detail: WholeDetail, wavelength_mm: float) -> Any:
    if body.is_round:
        from borewright.acoustics.solved.whole._round_mesh import round_mesh

        return round_mesh(body, detail, wavelength_mm)
    from borewright.acoustics.solved.whole._whole_mesh import whole_mesh

    last: Exception | None = None
    for factor in _FACTORS:
        try:
            return whole_mesh(body, detail, wavelength_mm, factor)
        except MemoryError as error:  # a finer mesh would want still more
            last = error
            break
        except Exception as error:  # kernel and mesher share no base class
            last = error
    assert last is not None
    raise AcousticsError(
        say("the air could not be meshed ({reason})", reason=cause_of(last)),
        place=say("whole resonator"),
        remedy=say("Change a size by a hundredth of a millimetre, or ask for another mesh."),
    ) from last


def _top_admittance(instrument: Instrument, air: Air) -> Callable[[np.ndarray], np.ndarray]:
    """Chamber's and reed's normalised admittance from frequencies (Hz), as the engine's."""
    if instrument.mouthpiece is None and instrument.reed is None:
        return lambda frequency: np.zeros_like(frequency, dtype=complex)
    import jax.numpy as jnp

    from borewright.acoustics.network import Column, top_admittance
    from borewright.acoustics.options import options_of
    from borewright.acoustics.prepared import prepare
    from borewright.acoustics.structure import numbers_of, structure_of

    structure = structure_of(instrument)
    options, fixed = options_of(air)
    prepared = prepare(structure, numbers_of(instrument), jnp.array(fixed), options)
    column = Column(structure, options, *prepared)
    return lambda frequency: np.asarray(
        top_admittance(column, jnp.asarray(2 * math.pi * frequency))
    )
