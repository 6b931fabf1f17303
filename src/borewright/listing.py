"""Public names listed once, and loaded when they are first used.

A package writes ``from package.module import Name as Name`` for each of its names under ``if
TYPE_CHECKING:``, where type checkers and editors look. The same lines, read from its source, tell
at run time what it offers and where each name lives; nothing is imported before it is asked for.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from importlib import import_module
from pathlib import Path
from typing import Any

_LINE = re.compile(r"^    from (\S+) import (\w+) as \2$", re.MULTILINE)


def listed(package: str, file: str) -> tuple[list[str], Callable[[str], Any]]:
    """A package's ``__all__`` and its ``__getattr__``; ``file`` is its ``__init__.py``.

    Constants come first, then classes, then functions, each by the alphabet. A name that is not
    listed is an AttributeError.
    """
    homes = {name: home for home, name in _LINE.findall(Path(file).read_text(encoding="utf-8"))}

    def load(name: str) -> Any:
        if name not in homes:
            raise AttributeError(f"module '{package}' has no attribute '{name}'")
        return getattr(import_module(homes[name]), name)

    return sorted(homes, key=_reading_order), load


def _reading_order(name: str) -> tuple[int, str]:
    return (0 if name.isupper() else 1 if name[0].isupper() else 2, name)
