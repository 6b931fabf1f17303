"""The tree of errors a caller may see.

BorewrightError
├── ModelError       a file or value that does not describe an instrument
├── AcousticsError   a computation that was asked for something impossible
├── FitError         a fit that cannot start
├── KeyworkError     keys, posts or springs that cannot be computed
├── PlayingError     a recording, reading or campaign that cannot be judged
├── SolidsError      a shape the kernel could not make
├── PrintingError    a printer, coupon or compensation that cannot be used
├── StudyError       a study that cannot be run, or gone on with
├── LedgerError      a record, backup or database that cannot be used
├── DocumentsError   a page or picture that could not be written
└── BenchError       a folder, file or request that the bench refuses

Every error says where, what is wrong and what would be right; the doors print it as one
line and leave with exit code 2.
"""

from __future__ import annotations

from typing import Any, Self

from borewright.words import ENGLISH, Place, Reader, Text, given, place_of


class Stopped(Exception):  # noqa: N818 - a wish, not an error
    """Work was stopped because somebody asked for its end; no error, and nothing to tell."""


class BorewrightError(Exception):
    """One clear message: place, cause and remedy, as data; ``str()`` tells it in English.

    Parameters
    ----------
    cause
        What is wrong, with the value that was found.
    place
        File and key, line or feature, for example ``("clarinet.toml", say("part '{part}'",
        part="barrel"), "length_mm")``; names are told as they are.
    remedy
        What would be right, or what to do next.
    """

    def __init__(self, cause: Text, *, place: Text | Place = "", remedy: Text = "") -> None:
        self.cause = cause
        self.place = place
        self.remedy = remedy
        super().__init__(cause)

    def __reduce__(self) -> tuple[Any, ...]:
        # Errors cross from working processes to doors: with all three of their parts.
        return _again, (type(self), self.cause, self.place, self.remedy)

    def __str__(self) -> str:
        return self.told(ENGLISH)

    def told(self, reader: Reader) -> str:
        """The message as one line, in the reader's language."""
        cause, place = reader.tell(self.cause), reader.place(self.place)
        text = f"{place}: {cause}" if place else cause
        return f"{text.rstrip('.')}. {reader.tell(self.remedy)}" if self.remedy else text

    def as_dict(self) -> dict[str, Any]:
        """The same message for JSON, in English as all keys of JSON are."""
        return {
            "error": {
                "kind": type(self).__name__,
                "place": ENGLISH.place(self.place),
                "cause": ENGLISH.tell(self.cause),
                "remedy": ENGLISH.tell(self.remedy),
            }
        }

    def at(self, place: Text | Place) -> Self:
        """A copy of this error whose place begins with ``place``."""
        steps = (*place_of(place), *place_of(self.place))
        return type(self)(self.cause, place=steps, remedy=self.remedy)

    def named(self, path: str, name: str) -> Self:
        """A copy that calls a file by ``name`` where its place has ``path``."""
        steps = tuple(name if step == path else step for step in place_of(self.place))
        return type(self)(self.cause, place=steps, remedy=self.remedy)


def _again(
    kind: type[BorewrightError], cause: Text, place: Text | Place, remedy: Text
) -> BorewrightError:
    return kind(cause, place=place, remedy=remedy)


def cause_of(error: Exception) -> Text:
    """What went wrong: an error of ours as data, a foreign one in its own words."""
    return error.cause if isinstance(error, BorewrightError) else given(str(error).strip())


class RefusedValue(ValueError):  # noqa: N818 - no error of its own: pydantic carries it
    """What a validator refuses: a message and its remedy, carried through pydantic as data."""

    def __init__(self, cause: Text, remedy: Text = "") -> None:
        self.cause = cause
        self.remedy = remedy
        super().__init__(cause, remedy)

    def __str__(self) -> str:
        return BorewrightError(self.cause, remedy=self.remedy).told(ENGLISH)


class ModelError(BorewrightError):
    """A file or a value that does not describe an instrument."""


class AcousticsError(BorewrightError):
    """A computation that was asked for something impossible."""


class FitError(BorewrightError):
    """A fit that cannot start."""


class KeyworkError(BorewrightError):
    """Keys, posts or springs that cannot be computed."""


class PlayingError(BorewrightError):
    """A recording, a reading or a campaign of takes that cannot be judged."""


class SolidsError(BorewrightError):
    """A shape the kernel could not make, or a part that cannot be a body."""


class DocumentsError(BorewrightError):
    """A page or picture that could not be written."""


class LedgerError(BorewrightError):
    """A record, a backup or a database of the workshop that cannot be used."""


class StudyError(BorewrightError):
    """A study of many instruments that cannot be run, or gone on with."""


class PrintingError(BorewrightError):
    """A printer, coupon or compensation that cannot be used."""


class BenchError(BorewrightError):
    """A folder, file, upload or request that the bench refuses."""
