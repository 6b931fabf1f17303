"""A room's ``__all__`` is what it really offers; public things carry docstrings."""

from __future__ import annotations

import ast
import importlib
from pathlib import Path

import pytest

import borewright

SOURCE = Path(borewright.__file__).parent
ROOMS = sorted(
    path.parent.name for path in SOURCE.glob("*/__init__.py") if path.parent.name != "examples"
)
MODULES = sorted(SOURCE.rglob("*.py"))


def reading_order(name: str) -> tuple[int, str]:
    """Constants, then classes, then functions, each by the alphabet, as the linter sorts."""
    return (0 if name.isupper() else 1 if name[0].isupper() else 2, name)


@pytest.mark.parametrize("room", ROOMS)
def test_all_matches_reality_and_is_sorted(room):
    module = importlib.import_module(f"borewright.{room}")
    names = list(module.__all__)
    assert names == sorted(set(names), key=reading_order)
    absent = [name for name in names if not hasattr(module, name)]
    assert not absent
    tree = ast.parse(Path(module.__file__).read_text(encoding="utf-8"))
    imported = {
        alias.asname or alias.name
        for node in tree.body
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("borewright")
        if node.module != "borewright.listing"
        for alias in node.names
    }
    defined = {
        node.name
        for node in tree.body
        if isinstance(node, ast.FunctionDef | ast.ClassDef) and not node.name.startswith("_")
    }
    unlisted = (imported | defined) - set(names)
    assert not {name for name in unlisted if not name.startswith("_")}


def listed_twice(tree: ast.Module) -> list[str]:
    """Names that a module imports and lists in ``__all__`` once more by hand."""
    imported = {
        alias.asname or alias.name
        for node in ast.walk(tree)
        if isinstance(node, ast.ImportFrom)
        for alias in node.names
    }
    lists = [
        node.value
        for node in tree.body
        if isinstance(node, ast.Assign) and ast.unparse(node.targets[0]) == "__all__"
    ]
    return [
        each.value
        for names in lists
        for each in ast.walk(names)
        if isinstance(each, ast.Constant) and each.value in imported
    ]


def test_public_names_are_listed_once():
    packages = {path: ast.parse(path.read_text(encoding="utf-8")) for path in MODULES
                if path.name == "__init__.py"}  # fmt: skip
    assert {path: found for path, tree in packages.items() if (found := listed_twice(tree))} == {}


def test_the_reader_notices_a_name_listed_twice():
    tree = ast.parse('from a.b import C as C\n__all__ = ["C", "D"]\n')
    assert listed_twice(tree) == ["C"]


def without_docstring(tree: ast.Module) -> list[str]:
    """Names of public modules, classes, functions and methods that say nothing of themselves."""
    bare = [] if ast.get_docstring(tree) else ["the module"]
    kinds = (ast.FunctionDef, ast.AsyncFunctionDef, ast.ClassDef)
    for node in tree.body:
        if not isinstance(node, kinds) or node.name.startswith("_"):
            continue
        inside = node.body if isinstance(node, ast.ClassDef) else []
        public = [part for part in inside if isinstance(part, kinds)]
        public = [part for part in public if not part.name.startswith("_")]
        bare += [part.name for part in [node, *public] if not ast.get_docstring(part)]
    return bare


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(SOURCE)))
def test_public_things_have_docstrings(path):
    assert without_docstring(ast.parse(path.read_text(encoding="utf-8"))) == []


def test_the_reader_notices_a_missing_docstring():
    tree = ast.parse('"""M."""\nclass A:\n    """A."""\n    def f(self): ...\ndef _g(): ...\n')
    assert without_docstring(tree) == ["f"]
