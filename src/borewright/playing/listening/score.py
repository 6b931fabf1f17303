"""What is played: fingerings with start, length and strength."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from borewright.errors import PlayingError
from borewright.model import Fingering, FingeringTable, Use
from borewright.words import say

#: A note and the pause before the next (s), where the player chooses.
NOTE_S, PAUSE_S = 0.8, 0.1
MOST_NOTES, LONGEST_NOTE_S, LONGEST_S = 400, 8.0, 180.0


class ScoreNote(NamedTuple):
    """One note: a fingering's name, or a written note for its standard fingering.

    ``strength`` multiplies the mouth pressure.
    """

    name: str
    start_s: float
    seconds: float
    strength: float = 1.0


def notes_score(names: Sequence[str], seconds: float = NOTE_S) -> list[ScoreNote]:
    """Notes one after the other, each ``seconds`` long.

    Raises PlayingError where there are none, too many, or notes too short or long.
    """
    if not 0.2 <= seconds <= LONGEST_NOTE_S:
        raise PlayingError(
            say("a note of {seconds:g} s cannot be rendered", seconds=seconds),
            place="--seconds",
            remedy=say("Give 0.2 to {longest_s:g}.", longest_s=LONGEST_NOTE_S),
        )
    step = seconds + PAUSE_S
    score = [ScoreNote(name, number * step, seconds) for number, name in enumerate(names)]
    return checked(score, "notes")


def scale_score(tables: Sequence[FingeringTable], seconds: float = NOTE_S) -> list[ScoreNote]:
    """Every standard fingering that all ``tables`` have, in the order of the first."""
    first, *others = tables
    shared = [
        each.name
        for each in first.fingerings
        if each.use is Use.STANDARD
        and all(each.name in {one.name for one in other.fingerings} for other in others)
    ]
    return notes_score(shared, seconds)


def checked(score: list[ScoreNote], place: str) -> list[ScoreNote]:
    """The score, if it can be rendered; PlayingError otherwise."""
    if not score:
        raise PlayingError(
            say("there is no note to play"), place=place, remedy=say("Give at least one.")
        )
    if len(score) > MOST_NOTES:
        raise PlayingError(
            say("there are {notes} notes", notes=len(score)),
            place=place,
            remedy=say("Give at most {notes}.", notes=MOST_NOTES),
        )
    longest = max(note.seconds for note in score)
    end = max(note.start_s + note.seconds for note in score)
    if longest > LONGEST_NOTE_S or end > LONGEST_S:
        raise PlayingError(
            say(
                "the longest note lasts {note_s:.1f} s, and the whole {whole_s:.0f} s",
                note_s=longest,
                whole_s=end,
            ),
            place=place,
            remedy=say(
                "Keep notes below {note_s:g} s and the whole below {whole_s:g} s.",
                note_s=LONGEST_NOTE_S,
                whole_s=LONGEST_S,
            ),
        )
    return score


def rows_of(score: Sequence[ScoreNote], table: FingeringTable) -> list[int]:
    """The row of the table for every note; PlayingError for one that the table lacks."""
    by_name = {each.name: row for row, each in enumerate(table.fingerings)}
    standard = _standard(table.fingerings)
    rows = []
    for note in score:
        row = by_name.get(note.name, standard.get(note.name))
        if row is None:
            raise PlayingError(
                say("there is no fingering for '{note}'", note=note.name[:40]),
                place=table.source or say("fingering table"),
                remedy=say("Notes are: {notes}.", notes=" ".join(standard)),
            )
        rows.append(row)
    return rows


def _standard(fingerings: Sequence[Fingering]) -> dict[str, int]:
    """Row of the standard fingering of each written note, or of its first one."""
    found: dict[str, int] = {}
    for row, each in enumerate(fingerings):
        if each.written not in found and each.use is Use.STANDARD:
            found[each.written] = row
    for row, each in enumerate(fingerings):
        found.setdefault(each.written, row)
    return found
