"""Public names listed once: in the lines that import them.

A package writes ``from package.module import Name as Name`` for each of its names; the same
lines, read from its source, tell what it offers (:func:`names`). A light package has them under
``if TYPE_CHECKING:``, where type checkers and editors look, and loads each name when it is first
used (:func:`listed`): nothing is imported before it is asked for.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from importlib import import_module
from pathlib import Path
from typing import Any

_LINE = re.compile(r"^(?:    )?from (\S+) import (\w+) as \2(?:  # noqa: E402)?$", re.MULTILINE)


def listed(package: str, file: str) -> tuple[list[str], Callable[[str], Any]]:
    """A package's ``__all__`` and its ``__getattr__``; ``file`` is its ``__init__.py``.

    Constants come first, then classes, then functions, each by the alphabet. A name that is not
    listed is an AttributeError.
    """
    homes = _homes(file)

    def load(name: str) -> Any:
        if name not in homes:
            raise AttributeError(f"module '{package}' has no attribute '{name}'")
        return getattr(import_module(homes[name]), name)

    return sorted(homes, key=_reading_order), load


def names(file: str) -> list[str]:
    """The ``__all__`` of a package that imports its names at once, in the same order."""
    return sorted(_homes(file), key=_reading_order)


def _homes(file: str) -> dict[str, str]:
    return {name: home for home, name in _LINE.findall(Path(file).read_text(encoding="utf-8"))}


def _reading_order(name: str) -> tuple[int, str]:
    return (0 if name.isupper() else 1 if name[0].isupper() else 2, name)
