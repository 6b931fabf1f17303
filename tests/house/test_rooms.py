"""Imports run in one direction only, read from the source: model, then physics, then doors."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

import borewright

SOURCE = Path(borewright.__file__).parent

#: Which rooms a room may import besides itself; doors may import everything.
ALLOWED = {
    "listing": set(),
    "leftovers": set(),
    "words": set(),
    "errors": {"words"},
    "model": set(),
    "acoustics": {"model"},
    "fit": {"model", "acoustics"},
    "playing": {"model", "acoustics"},
    "keywork": {"model"},
    "solids": {"model", "keywork"},
    "printing": {"model", "solids", "keywork"},
    "studies": {"model", "acoustics", "fit"},
    "ledger": {"model"},
    "documents": {"model"},
}
#: Use cases may import every room above, doors and bench every one and the use cases.
ALLOWED["tasks"] = set(ALLOWED) - {"listing", "words", "errors"}
DOORS = {"__main__", "cli", "demo", "doors", "bench", "entry", "supervising"}


def room_of(path: Path, source: Path = SOURCE) -> str:
    """First step below the package: ``model`` for model/files/tables.py, ``cli`` for cli.py."""
    return path.relative_to(source).parts[0].removesuffix(".py")


def imported(path: Path, source: Path = SOURCE) -> list[tuple[int, str]]:
    """Every module of the package named by any import of a file, lazy ones too."""
    package = ["borewright", *path.relative_to(source).parts[:-1]]
    found = []
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found += [(node.lineno, alias.name) for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            base = package[: len(package) - node.level + 1] if node.level else []
            start = ".".join([*base, *([node.module] if node.module else [])])
            found += [(node.lineno, f"{start}.{alias.name}") for alias in node.names]
    return [(line, name) for line, name in found if name.split(".")[0] == "borewright"]


def wrong_imports(source: Path) -> list[str]:
    """Imports against the direction, and imports of another room's private names."""
    wrong = []
    for path in sorted(source.rglob("*.py")):
        room = room_of(path, source)
        for line, name in imported(path, source):
            steps = name.split(".")[1:]
            if (
                not steps
                or room == "__init__"
                or steps[0] in (room, "errors", "listing", "words", "leftovers")
            ):
                continue
            place = f"{path.relative_to(source)}:{line} imports {name}"
            if room not in DOORS and steps[0] not in ALLOWED.get(room, set()):
                wrong.append(place)
            if any(step.startswith("_") and not step.startswith("__") for step in steps):
                wrong.append(f"{place}, which is private to its room")
    return wrong


def test_every_folder_and_module_is_a_known_room():
    entries = {
        path.name.removesuffix(".py")
        for path in SOURCE.iterdir()
        if path.suffix == ".py" or (path.is_dir() and any(path.glob("*.py")))
    }
    unknown = entries - set(ALLOWED) - DOORS - {"__init__", "__pycache__"}
    assert not unknown, f"say in ALLOWED what these may import: {sorted(unknown)}"


def test_imports_run_one_way():
    assert wrong_imports(SOURCE) == []


def screens_known(source: Path, room: str, screens: set[str]) -> list[str]:
    """Where a room imports, lazily or not, what shows: libraries of terminal or page, doors."""
    found = []
    for path in sorted((source / room).rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Import):
                names = [(node.lineno, alias.name) for alias in node.names]
            elif isinstance(node, ast.ImportFrom) and not node.level:
                names = [(node.lineno, node.module or "")]
            else:
                continue
            libraries = [(line, name.split(".")[0]) for line, name in names]
            found += [f"{path.relative_to(source)}:{line}" for line, n in libraries if n in screens]
        for line, name in imported(path, source):
            if name.split(".")[1:2] in [[screen] for screen in screens]:
                found.append(f"{path.relative_to(source)}:{line}")
    return found


#: A use case knows no screen; the bench knows its page's library, and nothing of the terminal.
TERMINAL = {"typer", "click", "rich", "doors", "cli"}
SCREENS = {"tasks": {*TERMINAL, "nicegui", "bench"}, "bench": TERMINAL}


@pytest.mark.parametrize("room", SCREENS)
def test_use_cases_know_no_screen_and_the_bench_no_terminal(room):
    assert screens_known(SOURCE, room, SCREENS[room]) == []


@pytest.mark.parametrize("room", SCREENS)
def test_the_reader_notices_a_screen(tmp_path, room):
    (tmp_path / room).mkdir()
    (tmp_path / room / "a.py").write_text(
        "def f():\n    from rich.table import Table\n    import typer\n"
        "    from borewright.doors import columns\n    from borewright import cli\n"
        "    from ..doors.columns import told\n",
        encoding="utf-8",
    )
    assert len(screens_known(tmp_path, room, SCREENS[room])) == 5


@pytest.mark.parametrize(
    ("where", "text"),
    [
        ("tasks/a.py", "from borewright.doors import columns\n"),
        ("tasks/a.py", "def f():\n    from borewright.bench import serve\n"),
        ("model/a.py", "def f():\n    from borewright.acoustics import tube\n"),
        ("acoustics/a.py", "import borewright.fit\n"),
        ("solids/deep/a.py", "from ...acoustics import tube\n"),
        ("model/a.py", "from borewright import cli\n"),
        ("fit/a.py", "from borewright.model._inner import x\n"),
    ],
)
def test_the_reader_notices_a_wrong_import(tmp_path, where, text):
    file = tmp_path / where
    file.parent.mkdir(parents=True)
    file.write_text(text, encoding="utf-8")
    assert len(wrong_imports(tmp_path)) == 1
