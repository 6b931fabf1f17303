"""An instrument's own tables: fingerings and keywork survey, found beside the instrument's file."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

from borewright.errors import BorewrightError, ModelError
from borewright.model import (
    Cover,
    FingeringTable,
    Instrument,
    KeySet,
    KeyworkSurvey,
    read_fingerings,
    read_keys,
    read_survey,
)
from borewright.model.keys import points_of
from borewright.tasks.beside import named_beside
from borewright.words import Message, say

_Table = TypeVar("_Table", FingeringTable, KeyworkSurvey, KeySet)


def fingerings_of(
    instrument: Instrument, file: Path | None, given: Path | None = None
) -> FingeringTable:
    """The fingering table given, or the one that the instrument's file names.

    Parameters
    ----------
    instrument
        Its holes are those that fingerings may open.
    file
        Where the instrument was read from; None where it has no file.
    given
        A table that goes before the instrument's own.

    Raises
    ------
    ModelError
        Where there is no table, or it does not belong to this instrument.
    """
    table = _read(read_fingerings, file, instrument.fingerings, given, "fingerings")
    if table is None:
        raise ModelError(
            say("no fingering table is named"),
            place=(str(file or instrument.name), say("[instrument] fingerings")),
            remedy=say(
                'Write fingerings = "fingerings.csv" there, or give a table with --fingerings '
                "(in Python, fingerings=)."
            ),
        )
    table.check_against(instrument)
    return table


def survey_of(
    instrument: Instrument, file: Path | None, given: Path | None = None
) -> KeyworkSurvey | None:
    """The keywork survey given, or the one that the instrument's file names, or None.

    Where the file names keys as well, their cups, rings and posts go before those of the survey.
    Raises ModelError where the survey cannot be read or does not belong to this instrument.
    """
    survey = _read(read_survey, file, instrument.keywork, given, "keywork")
    keys = keys_of(instrument, file)
    if keys is not None:
        survey = points_of(keys, survey)
    if survey is not None:
        survey.check_against(instrument)
        survey.check_covers(instrument)
    return survey


def keys_of(instrument: Instrument, file: Path | None, given: Path | None = None) -> KeySet | None:
    """The key survey given, or the one that the instrument's file names, or None.

    Raises ModelError where it cannot be read or does not belong to this instrument.
    """
    keys = _read(read_keys, file, instrument.keys, given, "keys")
    if keys is not None:
        keys.check_against(instrument)
    return keys


_NAME_THE_KEYS = say('Write keys = "keys.csv" there; docs/keywork.md tells what it holds.')


def needed_keys(
    instrument: Instrument,
    file: Path,
    cause: Message,
    given: Path | None = None,
    remedy: Message = _NAME_THE_KEYS,
) -> KeySet:
    """As :func:`keys_of`, where nothing can be done without: ModelError with the cause."""
    keys = keys_of(instrument, file, given)
    if keys is None:
        raise ModelError(cause, place=(str(file), say("[instrument] keys")), remedy=remedy)
    return keys


def rows_of_note(table: FingeringTable, note: str | None) -> list[int]:
    """Which rows of a table are of a note: a written one, or a fingering's name; None is all.

    Raises ModelError where there is none.
    """
    rows = [
        row
        for row, fingering in enumerate(table.fingerings)
        if note is None or note in (fingering.written, fingering.name)
    ]
    if rows:
        return rows
    place = table.source or say("fingering table")
    if note is None:
        raise ModelError(
            say("the fingering table is empty"),
            place=(place,),
            remedy=say("Write a row for every fingering."),
        )
    known = dict.fromkeys(fingering.written for fingering in table.fingerings)
    raise ModelError(
        say("there is no note '{note}'", note=note[:40]),
        place=(place,),
        remedy=say("Notes are: {notes}.", notes=" ".join(known) or say("none")),
    )


def has_keys(instrument: Instrument) -> bool:
    """Whether any hole is covered by more than a finger, so that a survey has something to say."""
    return any(hole.cover is not Cover.FINGER for _, hole, _ in instrument.placed_holes())


def _read(
    read: Callable[[Path], _Table], file: Path | None, named: str, given: Path | None, key: str
) -> _Table | None:
    if given is not None:
        return read(given)
    if not named or (file is None and not Path(named).is_absolute()):
        return None
    try:
        return read(named_beside(file, named) if file else Path(named))
    except BorewrightError as error:
        # The reader of the message may not know that the instrument's file names this table.
        raise error.at((str(file), f"[instrument] {key}")) from error
