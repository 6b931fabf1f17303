"""Chunk after chunk counted, so that a study of any size fits in memory."""

from __future__ import annotations

from pathlib import Path

import numpy as np

from borewright.errors import StudyError
from borewright.studies.chunks import Chunk, chunk_path, read_chunk
from borewright.studies.judging import Judge
from borewright.studies.plan import Study
from borewright.studies.sample import MOST
from borewright.words import say

#: The yield curve: up to so many cents, in steps of so many.
CURVE_CENTS, CURVE_STEP = 60.0, 0.5


class Counted:
    """What is known after all chunks: counts, sums of squares, and the first builds in full."""

    def __init__(self, study: Study, judge: Judge) -> None:
        self._study, self._judge = study, judge
        notes = len(judge.counted)
        self.builds = self.good = self.beyond = self.lost = self.by_sweep = self.linear = 0
        self.notes_off = np.zeros(notes, dtype=np.int64)
        #: Notes that a builder tunes by hand, over builds that are neither good nor beyond.
        self.tunable_off = 0
        self.squares = 0.0  # cents², engine less first order
        self._sum = np.zeros(notes)
        self._square = np.zeros(notes)
        self._sounding = np.zeros(notes, dtype=np.int64)
        self._edges = np.arange(0.0, CURVE_CENTS + CURVE_STEP, CURVE_STEP)
        self._worst = np.zeros(len(self._edges), dtype=np.int64)
        self.first = np.empty((0, notes), np.float32)

    def add(self, start: int, chunk: Chunk) -> None:
        """Count one chunk."""
        judge = self._judge
        cents = chunk.cents[:, judge.counted].astype(float)
        off_by = judge.deviations(cents)
        outside, hopeless = judge.off(off_by), judge.beyond(off_by)
        good = ~outside.any(axis=1)
        self.builds += len(cents)
        self.good += int(good.sum())
        self.beyond += int(hopeless.sum())
        self.lost += int(np.isnan(cents).any(axis=1).sum())
        self.by_sweep += chunk.by_sweep
        self.notes_off += outside.sum(axis=0)
        self.tunable_off += int(outside[~good & ~hopeless].sum())
        self._sum += np.nansum(off_by, axis=0)
        self._square += np.nansum(off_by**2, axis=0)
        self._sounding += np.isfinite(off_by).sum(axis=0)
        # A lost note is further off than any tolerance.
        worst = np.nan_to_num(np.abs(off_by), nan=np.inf).max(axis=1)
        self._worst += (worst[None, :] <= self._edges[:, None]).sum(axis=1)
        foretold = self._foretold(start, start + len(cents))
        self.linear += int(judge.good(foretold).sum())
        self.squares += float(np.nansum((cents - foretold) ** 2))
        room = MOST - len(self.first)
        if room > 0:
            self.first = np.concatenate([self.first, cents[:room].astype(np.float32)])

    def _foretold(self, start: int, stop: int) -> np.ndarray:
        values, _ = self._study.values(start, stop)
        middle = np.asarray(self._study.request.numbers.values)
        cents: np.ndarray = self._judge.nominal_cents + (values - middle) @ self._judge.slopes.T
        return cents

    @property
    def scatter(self) -> np.ndarray:
        """Standard deviation [N] of every counted note's cents off."""
        count = np.maximum(self._sounding, 1)
        mean = self._sum / count
        found: np.ndarray = np.sqrt(np.maximum(self._square / count - mean**2, 0.0))
        return found

    @property
    def curve(self) -> list[tuple[float, float]]:
        """Cents, and the share of builds that are nowhere further off."""
        return [
            (float(cents), float(count / self.builds))
            for cents, count in zip(self._edges, self._worst, strict=True)
        ]


def counted(study: Study, judge: Judge, folder: Path) -> Counted:
    """Count a study that lies solved in its folder.

    StudyError where a chunk is missing or cannot be read: that one is removed, and solved again
    by the next run.
    """
    found = Counted(study, judge)
    for number in range(study.chunks):
        chunk = read_chunk(study, number, folder)
        if chunk is None:
            # One that lies there and cannot be read would be taken for kept the next time.
            chunk_path(folder, number).unlink(missing_ok=True)
            raise StudyError(
                say("chunk {number} is missing or damaged", number=number),
                place=str(folder),
                remedy=say("Run the study again: it goes on where it ended."),
            )
        found.add(study.rows(number)[0], chunk)
    return found
