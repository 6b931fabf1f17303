"""Names of bore points in the maker's words, instead of their numbers."""

from __future__ import annotations

from collections.abc import Sequence

from borewright.model.bores.features import roles
from borewright.model.instrument import Instrument
from borewright.model.part import Part
from borewright.words import Message, say

#: (kind, first point, last point) of each run; kinds as in ``makers_features.RunKind``.
RunRow = tuple[str, int, int]


class PointNames:
    """Names of the edges of one part's bore.

    Parameters
    ----------
    instrument, part
        Whose bore it is; whether it is a bell decides some words.
    runs
        Its runs from the top down.
    """

    def __init__(self, instrument: Instrument, part: Part, runs: Sequence[RunRow]) -> None:
        self._part = part
        self._runs = list(runs)
        number = [each.name for each in instrument.parts].index(part.name)
        self._is_bell = number in roles(instrument).bells
        self._cylinders = [first for kind, first, _ in runs if kind == "cylinder"]
        edges = zip(self._runs, self._runs[1:], strict=False)
        self._steps = [upper[2] for upper, lower in edges if upper[2] != lower[1]]

    def cylinder(self, first: int) -> Message:
        """The cylinder that begins at a point."""
        return _numbered_cylinder(self._cylinders.index(first), len(self._cylinders))

    def diameter(self, edge: int) -> Message:
        """The diameter at an edge that belongs to no cylinder."""
        if edge == 0 and self._is_bell:
            return say("throat")
        if edge == 0:
            return say("upper end")
        if edge == len(self._part.bore) - 1:
            if self._is_bell:
                return say("rim")
            return say("lower end")
        step = self._step_of(edge)
        if step >= 0:
            where = self.step(step)
            if edge == self._steps[step]:
                return say("{step}, upper side", step=where)
            return say("{step}, lower side", step=where)
        words, _ = self.place(edge)
        return say("{place}, diameter", place=words)

    def edge_measure(self, edge: int) -> str:
        """The word that frees the diameter at an edge."""
        if edge == 0:
            return "upper_end"
        return "lower_end" if edge == len(self._part.bore) - 1 else "edge"

    def step(self, number: int) -> Message:
        """A step by its place among the part's steps."""
        count = len(self._steps)
        if count == 1:
            return say("step")
        if number == 0:
            return say("upper step")
        if number == count - 1:
            return say("lower step")
        if count == 3:
            return say("middle step")
        return say("step {number}", number=number + 1)

    def place(self, edge: int) -> tuple[Message, str]:
        """Where an edge within the part stands, and the word that frees it."""
        step = self._step_of(edge)
        if step >= 0:
            return self.step(step), "step"
        kinds = [run[0] for run in self._runs]
        below = next(i for i, run in enumerate(self._runs) if run[1] == edge)
        if below == len(kinds) - 1 and kinds[below] == "widening":
            return say("flare start"), "flare_start"
        if below == 1 and kinds[0] == "narrowing":
            return say("end of the throat"), "throat_end"
        number = sum(1 for run in self._runs[1:below] if not self.is_step(run[1]))
        return say("bend {number}", number=number + 1), "bend"

    def _step_of(self, edge: int) -> int:
        for number, upper in enumerate(self._steps):
            if edge in (upper, upper + 1):
                return number
        return -1

    def is_step(self, edge: int) -> bool:
        """Whether a step's upper or lower side is at an edge."""
        return self._step_of(edge) >= 0


def _numbered_cylinder(number: int, count: int) -> Message:
    if count == 1:
        return say("cylinder")
    if number == 0:
        return say("upper cylinder")
    if number == count - 1:
        return say("lower cylinder")
    if count == 3:
        return say("middle cylinder")
    return say("cylinder {number}", number=number + 1)
