"""An upload is looked at under a passing path; what is wrong is told under its own name."""

from __future__ import annotations

from pathlib import Path
from typing import Any, TypeVar

from borewright.errors import BorewrightError
from borewright.words import Joined, Message, place_of

_E = TypeVar("_E", bound=BorewrightError)


def named(error: _E, path: Path, name: str) -> _E:
    """The error with a file's name in place of its path, wherever it speaks of it."""

    def renamed(said: Any) -> Any:
        if isinstance(said, Message):
            values = tuple((key, renamed(value)) for key, value in said.values)
            return Message(said.template, values, said.plural, said.context)
        if isinstance(said, Joined):
            return Joined(tuple(map(renamed, said.items)), said.joint)
        if isinstance(said, str | Path):
            return str(said).replace(str(path), name)
        return said

    place = tuple(map(renamed, place_of(error.place)))
    return type(error)(renamed(error.cause), place=place, remedy=renamed(error.remedy))
