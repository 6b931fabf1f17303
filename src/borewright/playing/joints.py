"""Takes that were made with joints drawn apart: each is compared with that state's prediction."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from borewright.acoustics import tuning
from borewright.errors import PlayingError, RefusedValue
from borewright.model import FingeringTable, Instrument
from borewright.model.pulled import drawn_apart, pulled_text, pulled_words, read_pulled
from borewright.playing.records import Record
from borewright.words import Said, joined, say


def as_in_takes(instrument: Instrument, records: Sequence[Record]) -> Instrument:
    """The instrument with its joints as in the takes, where all of them tell the same.

    Raises
    ------
    PlayingError
        For a joint that the instrument has not, or that cannot be drawn so far.
    """
    told = {record.pulled for record in records}
    if len(told) != 1 or told == {""}:
        return instrument
    return _apart(instrument, next(iter(told)))


def at_joints_of(
    instrument: Instrument, fingerings: FingeringTable, records: Sequence[Record]
) -> list[Record]:
    """What the notes would have been with the joints as the instrument has them.

    Every note of a take that tells another state is moved by what the model says that this
    state does to it. A take that tells none was made with the joints as they are.

    Raises
    ------
    PlayingError
        For a joint that the instrument has not, or that cannot be drawn so far.
    """
    own = pulled_text(instrument.pulled)
    others = {record.pulled for record in records} - {"", own}
    if not others:
        return list(records)
    here = _cents(instrument, fingerings)
    shifts: dict[str, Mapping[str, float]] = {"": {}, own: {}}
    for text in others:
        there = _cents(_apart(instrument, text), fingerings)
        shifts[text] = {name: here[name] - there[name] for name in here.keys() & there.keys()}
    return [
        record.model_copy(
            update={
                "cents": record.cents + shifts[record.pulled].get(record.note, 0.0),
                "pulled": "",
            }
        )
        for record in records
    ]


def unlike_joints(records: Sequence[Record]) -> list[Said]:
    """That takes which are compared were made with joints in several states; nothing where not."""
    told = list(dict.fromkeys(record.pulled for record in records))
    if len(told) < 2:
        return []
    return [
        say(
            "the joints were not alike in all takes: {states}",
            states=joined([pulled_words(read_pulled([text])) for text in told], "; "),
        )
    ]


def _cents(instrument: Instrument, fingerings: FingeringTable) -> dict[str, float]:
    notes = tuning(instrument, fingerings).notes
    return {note.fingering: note.cents for note in notes if note.cents is not None}


def _apart(instrument: Instrument, text: str) -> Instrument:
    try:
        return drawn_apart(instrument, read_pulled([text]))
    except RefusedValue as error:
        raise PlayingError(error.cause, place=say("takes"), remedy=error.remedy) from error
