"""What a study is of: instrument, fingerings, scatters, how many builds, and its hash."""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from borewright.acoustics import kernels
from borewright.acoustics.cents import CENTS_PER_LOG
from borewright.acoustics.parameters import read_parameters
from borewright.acoustics.request import Request, climate_words, request_of_table
from borewright.acoustics.side_holes import HoleProgress, hole_level
from borewright.acoustics.status import statuses
from borewright.errors import ModelError
from borewright.model import Doubts, FingeringTable, Instrument, SideHoles, dimensions
from borewright.studies.draws import (
    BLOCK,
    Draws,
    deviations,
    draws_between,
    kinds_made,
    membership,
)
from borewright.words import Said, say

#: Which rules made a result: another number is another study.
_FORMAT = 1
#: Fewer builds tell nothing of a share; more than this many take a cluster years.
LEAST_BUILDS, MOST_BUILDS = 100, 10**10


@dataclass(frozen=True)
class Study:
    """Builds of one instrument, all that is needed to solve any chunk of them.

    ``making`` are the standard deviations of what the workshop makes; ``chunk`` builds are
    solved and kept together.
    """

    instrument: Instrument
    table: FingeringTable
    making: Doubts
    builds: int
    seed: int
    chunk: int
    request: Request
    level: Said

    @cached_property
    def kinds(self) -> list[str]:
        """Measures that scatter."""
        return kinds_made(dimensions(self.instrument))

    @cached_property
    def members(self) -> np.ndarray:
        """Which dimension is of which kind, [kinds, D]."""
        return membership(dimensions(self.instrument))

    @property
    def chunks(self) -> int:
        """How many chunks there are."""
        return -(-self.builds // self.chunk)

    @cached_property
    def target_hz(self) -> np.ndarray:
        """Wanted pitches [F]."""
        pitch = self.instrument.pitch
        return np.array([pitch.target_hz(one.written) for one in self.table.fingerings])

    @cached_property
    def nominal_cents(self) -> np.ndarray:
        """Cents of the design [F]; NaN for a note that it has not."""
        return self._solved[0]

    @cached_property
    def slopes(self) -> np.ndarray:
        """Cents per mm of every dimension, [F, D]."""
        return self._solved[1]

    @cached_property
    def _solved(self) -> tuple[np.ndarray, np.ndarray]:
        solved = kernels.resonances(*self.request)
        jacobian = np.asarray(kernels.full_jacobian(*self.request[:5], solved))
        lost = [not status.usable for status in statuses(solved)]
        cents = CENTS_PER_LOG * np.log(np.asarray(solved.frequency) / self.target_hz)
        count = self.members.shape[1]
        return np.where(lost, np.nan, cents), CENTS_PER_LOG * jacobian[:, :count]

    @cached_property
    def digest(self) -> str:
        """SHA-256 of all that decides the results: instrument, holes' terms, scatters, seeds."""
        data = {
            "format": _FORMAT,
            "instrument": self.instrument.model_dump(mode="json"),
            "fingerings": [one.model_dump(mode="json") for one in self.table.fingerings],
            "making": self.making.model_dump(mode="json"),
            "builds": self.builds,
            "seed": self.seed,
            "chunk": self.chunk,
        }
        found = hashlib.sha256(json.dumps(data, sort_keys=True).encode())
        if self.request.numbers.solved is not None:
            for leaf in _leaves(self.request.numbers.solved):
                found.update(np.ascontiguousarray(leaf).tobytes())
        return found.hexdigest()

    def with_making(self, making: Doubts, builds: int) -> Study:
        """The same builds, scattered otherwise; fewer of them, if so wished."""
        return Study(
            self.instrument, self.table, making, builds, self.seed, self.chunk, self.request,
            self.level,
        )  # fmt: skip

    def rows(self, chunk: int) -> tuple[int, int]:
        """First build of a chunk, and the one after its last."""
        return chunk * self.chunk, min((chunk + 1) * self.chunk, self.builds)

    def draws(self, start: int, stop: int) -> Draws:
        """Standard normal numbers of some builds."""
        return draws_between(self.seed, start, stop, *self.members.shape)

    def values(self, start: int, stop: int) -> tuple[np.ndarray, np.ndarray]:
        """Dimensions (mm) [B, D] and parameters [B, P] of some builds."""
        off = deviations(self.draws(start, stop), self.members, self.kinds, self.making)
        middle = np.asarray(self.request.numbers.values)
        parameters = np.asarray(read_parameters(self.request.numbers))
        return middle + off, np.tile(parameters, (stop - start, 1))

    @property
    def climate(self) -> Said:
        """The air that all builds are played in."""
        return climate_words(self.instrument.climate, None)


def study_of(
    instrument: Instrument,
    table: FingeringTable,
    making: Doubts,
    *,
    builds: int = 2048,
    seed: int = 1,
    chunk: int | None = None,
    side_holes: SideHoles | str | None = None,
    progress: HoleProgress | None = None,
) -> Study:
    """Plan a study.

    Parameters
    ----------
    instrument, table
        What is built, and the fingerings that are played.
    making
        Standard deviations (mm) of the dimensions; those of climate, player and model play no
        part: every build is played in the design's own air.
    builds, seed
        How many builds, and the seed that all random numbers come from.
    chunk
        Builds that are solved and kept together, in whole blocks of 1,024; None takes one block,
        or sixteen on a GPU.
    side_holes, progress
        As for :func:`borewright.acoustics.tuning`; scales of solved holes are those of the design.

    Raises
    ------
    ModelError
        For numbers of builds that make no study.
    AcousticsError
        Where side holes are to be solved and cannot be.
    """
    if not LEAST_BUILDS <= builds <= MOST_BUILDS:
        raise ModelError(
            say("{builds} builds make no study", builds=builds),
            place=say("builds"),
            remedy=say("Ask for {least} to {most}.", least=LEAST_BUILDS, most=MOST_BUILDS),
        )
    if not 0 <= seed < 2**63:
        raise ModelError(
            say("the seed {seed} cannot be used", seed=seed),
            place=say("seed"),
            remedy=say("Write a whole number from 0 on."),
        )
    if chunk is None:
        import jax

        chunk = 16 * BLOCK if jax.default_backend() == "gpu" else BLOCK
    if chunk < 1 or chunk % BLOCK:
        raise ModelError(
            say("a chunk of {chunk} builds is not made of whole blocks", chunk=chunk),
            place=say("chunk"),
            remedy=say("Write {block} or a multiple of it.", block=BLOCK),
        )
    level = hole_level(instrument, side_holes, progress)
    request = request_of_table(instrument, table, solved=level.terms)
    return Study(instrument, table, making, builds, seed, chunk, request, level.words)


def _leaves(tree: object) -> list[np.ndarray]:
    import jax

    return [np.asarray(leaf) for leaf in jax.tree.leaves(tree)]
