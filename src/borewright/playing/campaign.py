"""What is the instrument, what is the player: a mixed model of many takes.

cents = note profile + instrument + mouthpiece (fixed) + player + day within player + take
within day (random) + rest, by restricted maximum likelihood; loudness is a covariate where every
note has its level. Intervals use
Student's t with containment degrees of freedom: differences of instruments that are played
side by side are judged by the takes within days, means by the players (or days, or takes,
where there is only one).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

import numpy as np

from borewright.errors import PlayingError
from borewright.model.results.campaign import CampaignResult, InstrumentOffset, Interval, Scatter
from borewright.playing.joints import unlike_joints
from borewright.playing.measured import MeasuredNote
from borewright.playing.records import Record, counted
from borewright.playing.variance_components import Components, components
from borewright.words import Said, say

_LEVEL = 0.95
#: Loudness that scatters by less than this (dB) says nothing about pitch.
_LEVEL_DB = 0.5
#: Scatter from take to take (cents) where one take alone cannot tell: the middle of 3 to 6
#: (from memory).
USUAL_SCATTER_CENTS = 4.5


def separate(records: Sequence[Record]) -> CampaignResult:
    """Tell instrument, player, day and repeat apart.

    Parameters
    ----------
    records
        Notes of takes; players, days and mouthpieces by name.

    Raises
    ------
    PlayingError
        Where there are fewer than two takes or two notes, or nothing varies.
    """
    found = counted(records)
    frame = _frame(found)
    takes, players = frame["take"].nunique(), frame["player"].nunique()
    notes, instruments = frame["note"].nunique(), list(dict.fromkeys(frame["instrument"]))
    if takes < 3 or notes < 2:
        raise PlayingError(
            say("{takes} takes of {notes} notes are too few", takes=takes, notes=notes),
            place="takes",
            remedy=say("Record at least three takes of the same notes."),
        )
    notices: list[Said] = unlike_joints(found)
    fixed, names = _fixed(frame, instruments, notices)
    result, scatter = _fitted(frame, fixed, notices)
    within = frame[["player", "day"]].drop_duplicates().shape[0]
    differences = max(takes - within - len(instruments) + 1, 1)
    levels = [players - 1, within - 1, takes - len(instruments)]
    means = next((count for count in levels if count > 0), 1)
    beta, covariance = result.fixed, result.covariance

    def interval(weights: np.ndarray, freedom: int) -> Interval:
        return _interval(float(weights @ beta), float(weights @ covariance @ weights), freedom)

    average = np.zeros(len(names))
    average[:notes] = 1 / notes
    offsets = []
    for name in instruments:
        own = average.copy()
        extra = np.zeros(len(names))
        if ("instrument", name) in names:
            extra[names.index(("instrument", name))] = 1.0
        compared = interval(extra, differences) if extra.any() else None
        offsets.append(
            InstrumentOffset(
                instrument=name, mean_cents=interval(own + extra, means), difference_cents=compared
            )
        )
    mouthpieces = {
        name: interval(np.eye(len(names))[position], differences)
        for position, (kind, name) in enumerate(names)
        if kind == "mouthpiece"
    }
    return CampaignResult(
        offsets=offsets,
        mouthpieces=mouthpieces,
        scatter=scatter,
        takes=takes,
        players=players,
        notes=notes,
        notices=notices,
    )


def _frame(found: Sequence[Record]) -> Any:
    import pandas

    if not found:
        raise PlayingError(
            say("there are no notes"), place="takes", remedy=say("Record some takes.")
        )
    frame = pandas.DataFrame(
        [
            {
                "cents": record.cents,
                "level": math.nan if record.level_db is None else record.level_db,
                "note": record.note,
                "instrument": record.instrument,
                "mouthpiece": record.mouthpiece,
                "player": record.player,
                "day": f"{record.player} / {record.day}",
                "take": f"{record.instrument} / {record.player} / {record.day} / {record.take}",
            }
            for record in found
        ]
    )
    return frame


def _fixed(
    frame: Any, instruments: list[str], notices: list[Said]
) -> tuple[np.ndarray, list[tuple[str, str]]]:
    """Design matrix of the fixed effects, and what each column stands for."""
    columns, names = [], []
    for name in dict.fromkeys(frame["note"]):
        columns.append((frame["note"] == name).to_numpy(float))
        names.append(("note", name))
    for kind, levels in (
        ("instrument", instruments),
        ("mouthpiece", list(dict.fromkeys(frame["mouthpiece"]))),
    ):
        for name in levels[1:]:
            column = (frame[kind] == name).to_numpy(float)
            grown = np.stack([*columns, column], axis=1)
            if np.linalg.matrix_rank(grown) < grown.shape[1]:
                if kind == "instrument":
                    raise PlayingError(
                        say("the instrument '{name}' shares no notes with the others", name=name),
                        place="takes",
                        remedy=say("Play the same notes on all of them."),
                    )
                notices.append(
                    say("the mouthpiece '{name}' cannot be told from an instrument", name=name)
                )
                continue
            columns.append(column)
            names.append((kind, name))
    level = frame["level"].to_numpy(dtype=float)
    if np.isfinite(level).all() and len(columns) + 1 < len(frame):
        # Loudness beyond what belongs to the note: pitch at one and the same loudness is compared.
        own = level - frame.groupby("note")["level"].transform("mean").to_numpy()
        grown = np.stack([*columns, own / max(float(own.std()), 1e-9)], axis=1)
        if own.std() > _LEVEL_DB and np.linalg.matrix_rank(grown) == grown.shape[1]:
            columns.append(own)
            names.append(("level", ""))
    return np.stack(columns, axis=1), names


def _fitted(frame: Any, fixed: np.ndarray, notices: list[Said]) -> tuple[Components, Scatter]:
    players, days = frame["player"].nunique(), frame["day"].nunique()
    groups = {"take": frame["take"].to_numpy()}
    if players > 1:
        groups["player"] = frame["player"].to_numpy()
    if days > players or (players == 1 and days > 1):
        groups["day"] = frame["day"].to_numpy()
    found = components(frame["cents"].to_numpy(dtype=float), fixed, groups)
    if min(found.deviations.values()) == 0.0:
        notices.append(
            say("a share of the scatter is too small to be told apart; it counts as none")
        )
    return found, Scatter(
        player=found.deviations.get("player"),
        day=found.deviations.get("day"),
        take=found.deviations["take"],
        note=found.rest,
    )


def _interval(value: float, variance: float, freedom: int) -> Interval:
    from scipy.stats import t

    half = float(t.ppf(0.5 + _LEVEL / 2, freedom)) * math.sqrt(max(variance, 0.0))
    return Interval(value=value, low=value - half, high=value + half)


def takes_needed(scatter: Scatter, half_width_cents: float, notes: int) -> int:
    """Takes of each of two instruments so that their difference is known to a half-width.

    The 95 % interval of a difference of means over ``notes`` notes, of n takes each, has the
    half-width t sqrt(2 (take² + note² / notes) / n), t with 2 (n - 1) degrees of freedom.
    """
    from scipy.stats import t

    if half_width_cents <= 0:
        raise PlayingError(
            say(
                "a certainty of {half_width_cents:g} cents is impossible",
                half_width_cents=half_width_cents,
            ),
            place=say("wanted certainty"),
            remedy=say("Give cents above 0."),
        )
    variance = 2 * (scatter.take**2 + scatter.note**2 / max(notes, 1))
    for count in range(2, 10_000):
        half = float(t.ppf(0.5 + _LEVEL / 2, 2 * (count - 1))) * math.sqrt(variance / count)
        if half <= half_width_cents:
            return count
    raise PlayingError(
        say(
            "no reachable number of takes gives {half_width_cents:g} cents",
            half_width_cents=half_width_cents,
        ),
        place=say("wanted certainty"),
        remedy=say("Ask for less."),
    )


def measured_notes(
    records: Sequence[Record], instrument: str
) -> tuple[dict[str, MeasuredNote], float]:
    """Mean cents of every note of one instrument, their errors, and the error they share.

    The error of a note comes from the scatter about the takes' means, pooled over all notes;
    the shared one from the scatter of the takes' means. One take alone gets the usual scatter.
    """
    own = [record for record in counted(records) if record.instrument == instrument]
    if not own:
        known = ", ".join(dict.fromkeys(record.instrument for record in records))
        raise PlayingError(
            say("there are no takes of '{instrument}'", instrument=instrument),
            place="takes",
            remedy=say("There are: {instruments}.", instruments=known),
        )
    frame = _frame(own)
    profile = frame.groupby("note")["cents"].mean()
    rest = frame["cents"] - frame["note"].map(profile)
    takes = frame["take"].nunique()
    shares = rest.groupby(frame["take"]).mean()
    if takes < 2:
        note_scatter, shared = USUAL_SCATTER_CENTS, USUAL_SCATTER_CENTS
    else:
        inner = rest - frame["take"].map(shares)
        freedom = max(len(frame) - len(profile) - takes + 1, 1)
        note_scatter = math.sqrt(float((inner**2).sum()) / freedom)
        shared = float(shares.std(ddof=1)) / math.sqrt(takes)
    counts = frame.groupby("note").size()
    return {
        str(note): MeasuredNote(float(cents), max(note_scatter, 0.2) / math.sqrt(int(counts[note])))
        for note, cents in profile.items()
    }, shared
