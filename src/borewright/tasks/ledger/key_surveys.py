"""Key surveys kept with keywork sets, as readings of every key's numbers: not typed twice."""

from __future__ import annotations

import tempfile
from pathlib import Path
from typing import TYPE_CHECKING

from borewright.errors import BorewrightError, LedgerError
from borewright.words import say

if TYPE_CHECKING:
    from borewright.ledger import Ledger
    from borewright.ledger.likeness import Surveyed
    from borewright.model import KeySet


def kept_survey(book: Ledger, sample: str) -> tuple[str, bytes] | None:
    """The key survey kept with a sample; None where none is, or one of points only."""
    from borewright.ledger.kinds.buying import Sample
    from borewright.model import is_key_survey

    kept = book.one(Sample, sample).survey_file
    found = book.kept_file(kept) if kept else None
    # A survey of points has no elements: it says nothing of how keys move.
    return found if found and is_key_survey(found[1]) else None


def kept_keys(book: Ledger, sample: str) -> KeySet | None:
    """The keys of a sample's survey, None where none is kept; LedgerError for one not readable."""
    from borewright.model import read_keys

    found = kept_survey(book, sample)
    if found is None:
        return None
    name, content = found
    try:
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder) / "keys.csv"
            path.write_bytes(content)
            return read_keys(path)
    except BorewrightError as error:
        raise LedgerError(
            error.cause,
            place=(say("sample"), sample, name),
            remedy=error.remedy,
        ) from error


def surveyed_numbers(book: Ledger) -> Surveyed:
    """Every number (mm) of every key of every set whose key survey is kept.

    They pool with what was entered as measurements: the key is the feature, its number the measure.
    Raises LedgerError where a kept survey cannot be read.
    """
    from borewright.keywork.numbers import KeysApart, numbers_of
    from borewright.ledger.kinds.buying import Sample

    found = {}
    for each in book.every(Sample):
        keys = kept_keys(book, each.code)
        if keys is None:
            continue
        apart = KeysApart(keys)
        found[each.code] = {
            (key, number.value): measured.value
            for key in keys.keys
            for number, measured in numbers_of(apart, key).items()
            if number.unit == "mm"
        }
    return found
