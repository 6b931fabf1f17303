"""No module needs, by any way round, a module that needs it: lazy and type-only imports count.

Read from the source, not from what happens to be loaded: an import inside a function or under
``TYPE_CHECKING`` ties two modules together as much as one at the top does. Whoever imports a
package imports its ``__init__``; whoever imports from one of its modules, that module.
"""

from __future__ import annotations

import ast
from pathlib import Path

import networkx
import pytest

import borewright

SOURCE = Path(borewright.__file__).parent


def modules(root: Path) -> dict[str, Path]:
    """Every module by its name."""
    found = {}
    for path in sorted(root.rglob("*.py")):
        steps = (root.name, *path.relative_to(root).with_suffix("").parts)
        found[".".join(steps).removesuffix(".__init__")] = path
    return found


def imported(path: Path, known: dict[str, Path]) -> set[str]:
    """The known modules that a file imports anywhere."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            # ``from package import module`` is an import of that module.
            inner = {f"{node.module}.{alias.name}" for alias in node.names}
            found |= {name if name in known else node.module for name in inner}
    return found & set(known)


def cycles(root: Path) -> list[list[str]]:
    """Groups of modules that need each other."""
    known = modules(root)
    graph = networkx.DiGraph()
    for name, path in known.items():
        graph.add_edges_from((name, other) for other in imported(path, known))
    rings = [sorted(group) for group in networkx.strongly_connected_components(graph)]
    return sorted(ring for ring in rings if len(ring) > 1 or graph.has_edge(ring[0], ring[0]))


def test_no_module_needs_itself():
    assert cycles(SOURCE) == []


@pytest.mark.parametrize(
    "text",
    [
        "from room.b import y",
        "from room import b",
        "import room.b",
        "def f():\n    from room.b import y",
        "from typing import TYPE_CHECKING\nif TYPE_CHECKING:\n    from room.b import y",
    ],
)
def test_the_reader_notices(tmp_path, text):
    root = tmp_path / "room"
    root.mkdir()
    (root / "__init__.py").write_text("from room.a import x\n", encoding="utf-8")
    (root / "a.py").write_text(text, encoding="utf-8")
    (root / "b.py").write_text("y = 1\n", encoding="utf-8")
    assert cycles(root) == []
    (root / "b.py").write_text("from room.a import x\n", encoding="utf-8")
    assert cycles(root) == [["room.a", "room.b"]]
