"""Tests claim what a module promises: none looks at or changes what it keeps to itself."""

from __future__ import annotations

import ast
import re
from pathlib import Path

TESTS = Path(__file__).parents[1]
#: Names that begin with an underscore and are public all the same.
PUBLIC = {"_replace", "_asdict", "_fields", "_make", "_exit"}
_PATCHED = re.compile(r"borewright[\w.]*\.(_\w+)$")


def private(tree: ast.Module) -> list[str]:
    """``line: name`` of every private attribute that is read or replaced."""
    found = []
    for node in ast.walk(tree):
        if isinstance(node, ast.Attribute) and not (
            isinstance(node.value, ast.Name) and node.value.id in ("self", "cls")
        ):
            name = node.attr
        elif isinstance(node, ast.Constant) and isinstance(node.value, str):
            patched = _PATCHED.match(node.value)
            name = patched.group(1) if patched else ""
        else:
            continue
        if re.match(r"_[a-z_]*[a-zA-Z]", name) and not name.startswith("__") and name not in PUBLIC:
            found.append(f"{node.lineno}: {name}")
    return found


def test_no_test_looks_at_private_state():
    found = {
        path.relative_to(TESTS).as_posix(): names
        for path in sorted(TESTS.rglob("*.py"))
        if (names := private(ast.parse(path.read_text(encoding="utf-8"))))
    }
    assert found == {}


def test_the_reader_notices():
    text = 'a._state\nself._own\nrow._replace(x=1)\npatch("borewright.fit.search._limit", 3)\n'
    assert private(ast.parse(text)) == ["1: _state", "4: _limit"]
