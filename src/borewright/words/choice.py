"""Closed choices: kept in files and records as a plain English word, told in the reader's own."""

from __future__ import annotations

from enum import StrEnum
from typing import Self

from borewright.words.message import Message


class Choice(StrEnum):
    """One of a few values; ``words`` tell it, the value itself is what files and records keep."""

    words: Message

    def __new__(cls, value: str, words: Message | None = None) -> Self:
        """A member, written as ``NAME = "value", say("value")``; TypeError without its words."""
        if words is None:
            raise TypeError(value)
        made = str.__new__(cls, value)
        made._value_ = value
        made.words = words
        return made
