"""The bench's texts: each page tells them to its own reader.

``_("Some text")`` gives a text in the language of the page that is being drawn or that was
clicked; ``{name}`` in it is filled from keyword arguments. ``_.tell(message)`` tells what a room
said, ``_.number(value, ".2f")`` a number. Where nobody reads (a job's thread, the server itself)
there is no language: say it as data (:func:`borewright.words.say`), and let the page tell it.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from decimal import Decimal
from typing import Any
from weakref import WeakKeyDictionary

from nicegui import Client, context

from borewright.errors import BorewrightError
from borewright.words import LANGUAGES, Place, Reader, Text

__all__ = ["_", "read_by", "reader_of"]

_readers: WeakKeyDictionary[Client, Reader] = WeakKeyDictionary()
_without_page: ContextVar[Reader | None] = ContextVar("reader", default=None)


def set_reader(client: Client, language: str) -> None:
    """From now on a page is read in this language; an unknown one counts as English."""
    _readers[client] = Reader(language if language in LANGUAGES else "en")


def reader_of(client: Client) -> Reader:
    """Who reads a page."""
    return _readers[client]


@contextmanager
def read_by(reader: Reader) -> Iterator[None]:
    """Let a reader be told what is said in the ``with`` block, where there is no page."""
    token = _without_page.set(reader)
    try:
        yield
    finally:
        _without_page.reset(token)


class PageWords:
    """Tells the reader of the page at hand."""

    @property
    def reader(self) -> Reader:
        """The reader of the page whose element is being made or was clicked.

        Raises LookupError where no page is at hand.
        """
        for slot in reversed(context.slot_stack):
            try:
                return _readers[slot.parent.client]
            except (RuntimeError, KeyError):
                continue  # an element that was taken away meanwhile; its page may stand below
        found = _without_page.get()
        if found is None:
            raise LookupError("nobody reads here: enter the page with 'with client:'")
        return found

    @property
    def language(self) -> str:
        """The language of the page at hand."""
        return self.reader.language

    def __call__(self, template: str, /, **values: Any) -> str:
        """A text of the bench itself."""
        return self.reader(template, **values)

    def tell(self, said: Text) -> str:
        """What a room said; a bare name stays as it is."""
        return self.reader.tell(said)

    def place(self, place: Text | Place) -> str:
        """A place with its steps."""
        return self.reader.place(place)

    def at_field(self, error: BorewrightError) -> str:
        """An error beside the field it is about: cause and remedy, without the place."""
        return type(error)(error.cause, remedy=error.remedy).told(self.reader)

    def number(self, value: float | Decimal, spec: str = "") -> str:
        """A number; ``spec`` as in Python's format."""
        return self.reader.number(value, spec)


_ = PageWords()
