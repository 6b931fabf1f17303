"""Which steps, in which stage, and how far: least expected loss, cuts kept short.

Steps are chosen by one criterion, the weighted square of the cents that are expected to be left;
what cannot be undone, or is but a trial, must bring more than what can be. A step is taken only
if its direction is sure by two standard errors, of what is believed and of the takes alone; by
one, where it can be undone and brings half a cent. Where the best candidate fails, the next is
tried. Stage 1 is what can be undone: sealing, another barrel, pad heights, tape as a trial; where
that brings little, it waits. Stage 2 is cuts, after new takes. Of a cut that may prove
too deep only so much is done that what is cut too far weighs four times what can still be cut
after the next takes.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

import numpy as np

from borewright.playing.moves import BenchMove
from borewright.playing.response import Response
from borewright.words import Message, say

#: A step that lowers the root mean square by less than this (cents) is not worth a tool.
LEAST_GAIN_CENTS = 0.1
#: What the gain of a cut or a trial counts beside that of a step that lasts and can be undone.
_PASSING = 0.7
#: Holes that are taped at most: more of them say that something else is wrong.
_MOST_TAPES = 3
#: Standard errors by which a step must be right; and what can be undone, where it brings this
#: much (cents).
_TIMES, _TIMES_UNDONE, _UNDONE_GAIN_CENTS = 2.0, 1.0, 0.5
#: What can be undone but brings less than this (cents) is done with the cuts: no new takes for it.
_OWN_STAGE_CENTS = 0.4
#: How much more a hundredth cut too far weighs than one that can still be cut.
_OVERSHOOT = 4.0
#: Amounts are given in steps of this (mm), as a reamer or a gauge can follow.
_GRAIN_MM = 0.05
#: What can be undone is not done by less than this (mm).
_LEAST_MM = 0.1
_ROUNDS = 3
SCATTER = say("what is left is smaller than what is known of it")
NO_GAIN = say("no further step would bring a tenth of a cent")


class Problem(NamedTuple):
    """What is believed of every note, and what may be done about it."""

    response: Response
    moves: list[BenchMove]
    believed: np.ndarray  # [F] cents of the instrument itself, without the player
    covariance: np.ndarray  # [F, F] of these
    predicted: np.ndarray  # [F] of the model without any step
    weight: np.ndarray  # [F] of the squares; 0 where a note does not count
    measured: np.ndarray  # [F] cents of the takes, less what day and player are believed to add
    scatter: np.ndarray  # [F] standard errors of these

    def after(self, cents: np.ndarray) -> np.ndarray:
        """Believed cents, moved by what the model says the moves do."""
        moved: np.ndarray = self.believed + cents - self.predicted
        return moved

    def loss(self, cents: np.ndarray) -> float:
        """Weighted squares (cents²) of what is left, the uncertainty aside."""
        return float(np.sum(self.weight * self.after(cents) ** 2))

    def rms(self, cents: np.ndarray) -> float:
        """Root mean square (cents) of standard fingerings."""
        return float(np.sqrt(np.mean(self.after(cents)[self.weight >= 1.0] ** 2)))

    def sure(self, before: np.ndarray, after: np.ndarray, times: float) -> bool:
        """Whether going from some cents towards others is right, by so many standard errors.

        The loss of true cents t falls along r at the rate -2 t'Wr. It must do so by what is
        believed, and by the takes alone with nothing else believed.
        """
        towards = -2 * self.weight * (after - before)
        moved = before - self.predicted
        believed, taken = (towards @ (cents + moved) for cents in (self.believed, self.measured))
        error = np.sqrt(max(towards @ self.covariance @ towards, 0.0))
        scatter = np.sqrt(np.sum((towards * self.scatter) ** 2))
        return bool(believed > times * error and taken > times * scatter)


def staged(
    problem: Problem, most_steps: int, progress: Callable[[int, int], None] | None
) -> tuple[np.ndarray, Message]:
    """Amounts [n] of all moves (most of them 0), and why it stopped."""
    amounts = np.zeros(len(problem.moves))
    chosen: list[int] = []
    reason = say("nothing is left that may be done") if not problem.moves else NO_GAIN
    while len(chosen) < most_steps:
        if progress is not None:
            progress(len(chosen), most_steps)
        found, reason = _next(problem, amounts, chosen)
        if found is None:
            return _pruned(problem, amounts, chosen), reason
        amounts, column = found
        chosen.append(column)
    pruned = _pruned(problem, amounts, chosen)
    return pruned, say("{steps} steps were asked for at most", steps=most_steps)


def _pruned(problem: Problem, amounts: np.ndarray, chosen: list[int]) -> np.ndarray:
    """Without steps that those chosen after them have made needless, or too slight to be done."""
    for column in list(chosen):
        rest = [other for other in chosen if other != column]
        if not rest or not problem.moves[column].columns:
            continue
        without = _rounded(problem, _settle(problem, amounts * _only(amounts, rest), rest), rest)
        lost = problem.rms(problem.response.cents(without)) - problem.rms(
            problem.response.cents(amounts)
        )
        slight = problem.moves[column].reversible and abs(amounts[column]) < _LEAST_MM
        if slight or lost < LEAST_GAIN_CENTS:
            amounts = without
            chosen.remove(column)
    return amounts


def _only(amounts: np.ndarray, columns: list[int]) -> np.ndarray:
    kept = np.zeros_like(amounts)
    kept[columns] = 1.0
    return kept


def stages_of(problem: Problem, amounts: np.ndarray, chosen: list[int]) -> dict[int, int]:
    """Stage of every chosen move: 1 what can be undone, where that is worth new takes, else 2."""
    undone = [column for column in chosen if problem.moves[column].reversible]
    alone = np.zeros_like(amounts)
    alone[undone] = amounts[undone]
    gain = problem.rms(problem.predicted) - problem.rms(problem.response.cents(alone))
    first = 1 if gain >= _OWN_STAGE_CENTS or len(undone) == len(chosen) else 2
    return {column: first if column in undone else 2 for column in chosen}


def _next(
    problem: Problem, amounts: np.ndarray, chosen: list[int]
) -> tuple[tuple[np.ndarray, int] | None, Message]:
    """The best further step that passes, with all amounts solved anew; else why none does."""
    cents, slopes = problem.response.cents_and_slopes(amounts)
    reason, before, move_of = NO_GAIN, problem.loss(cents), problem.moves
    trials = []
    taped = sum(problem.moves[column].kind == "tape" for column in chosen)
    for column, move in enumerate(problem.moves):
        if column in chosen or (move.kind == "tape" and taped >= _MOST_TAPES):
            continue
        columns = [*chosen, column]
        values, loss = _linear(problem, cents, slopes, amounts, columns)
        foretold = cents + slopes[:, columns] @ (values - amounts[columns])
        trials.append(((before - loss) * (1.0 if move.lasts else _PASSING), column, foretold))
    for _, column, foretold in sorted(trials, key=lambda entry: -entry[0]):
        # What fails by its slopes already is not worth a solution of the full model.
        undone = move_of[column].reversible
        refused = _refused(problem, cents, foretold, undone)
        if refused is None:
            settled = _settle(problem, amounts, [*chosen, column])
            trial = _rounded(problem, settled, [*chosen, column])
            refused = _refused(problem, cents, problem.response.cents(trial), undone)
            if refused is None and trial[column]:
                return (trial, column), reason
        reason = refused if refused is SCATTER else reason
    return None, reason


def _refused(
    problem: Problem, before: np.ndarray, after: np.ndarray, undone: bool
) -> Message | None:
    """Why a step from some cents to others is not taken; None where it is."""
    gain = problem.rms(before) - problem.rms(after)
    if gain < LEAST_GAIN_CENTS:
        return NO_GAIN
    times = _TIMES_UNDONE if undone and gain >= _UNDONE_GAIN_CENTS else _TIMES
    return None if problem.sure(before, after, times) else SCATTER


def _linear(
    problem: Problem,
    cents: np.ndarray,
    slopes: np.ndarray,
    amounts: np.ndarray,
    columns: list[int],
) -> tuple[np.ndarray, float]:
    """Bounded least squares over some moves: their amounts, and the loss expected."""
    from scipy.optimize import lsq_linear

    root = np.sqrt(problem.weight)
    matrix = root[:, None] * slopes[:, columns]
    right = matrix @ amounts[columns] - root * problem.after(cents)
    low = np.array([problem.moves[column].low for column in columns])
    high = np.array([problem.moves[column].high for column in columns])
    sealing = np.array([not problem.moves[column].columns for column in columns])
    if sealing.any():
        # A leak is sealed or not: what is chosen is sealed.
        low = np.where(sealing, high - 1e-9, low)
    solved = lsq_linear(matrix, right, (low, high), method="bvls")
    return solved.x, float(2 * solved.cost)


def _settle(problem: Problem, amounts: np.ndarray, chosen: list[int]) -> np.ndarray:
    """Amounts of the chosen moves on the full model; cuts short of what may prove too deep."""
    current = amounts.copy()
    for _ in range(_ROUNDS):
        cents, slopes = problem.response.cents_and_slopes(current)
        following = current.copy()
        following[chosen] = _linear(problem, cents, slopes, current, chosen)[0]
        done = np.abs(following - current).max() < 0.005
        current = following
        if done:
            break
    errors = amount_errors(problem, slopes, chosen)
    for column, error in errors.items():
        if not problem.moves[column].reversible:
            held = max(abs(current[column]) - _short() * error, 0.0)
            current[column] = np.sign(current[column]) * held
    return current


def _short() -> float:
    """Standard errors by which a cut stays short: least expected loss where a share is dearer.

    Least of E[(cut - A)+²] * overshoot + E[(A - cut)+²] over an amount A ~ N(0, 1): the
    expectile of 1 / (1 + overshoot) (Newey and Powell, Econometrica 55 (1987) 819).
    """
    from scipy.optimize import brentq
    from scipy.stats import norm

    def slope(cut: float) -> float:
        over = cut * norm.cdf(cut) + norm.pdf(cut)  # E of what is cut too far
        return float(_OVERSHOOT * over - (over - cut))

    return -float(brentq(slope, -5.0, 5.0))


def amount_errors(problem: Problem, slopes: np.ndarray, chosen: list[int]) -> dict[int, float]:
    """One standard error (mm) of each chosen amount, from what is left open of the notes."""
    columns = [column for column in chosen if problem.moves[column].columns]
    if not columns:
        return {}
    root = np.sqrt(problem.weight)
    inverse = np.linalg.pinv(root[:, None] * slopes[:, columns]) * root
    covariance = inverse @ problem.covariance @ inverse.T
    return dict(zip(columns, np.sqrt(np.diag(covariance)).tolist(), strict=True))


def _rounded(problem: Problem, amounts: np.ndarray, chosen: list[int]) -> np.ndarray:
    rounded = np.zeros_like(amounts)
    for column in chosen:
        move = problem.moves[column]
        grain = _GRAIN_MM if move.columns else 1.0
        value = round(amounts[column] / grain) * grain
        # Never beyond a limit for the sake of a round figure.
        if move.columns:
            value = min(max(value, move.low), move.high)
        rounded[column] = value
    return rounded
