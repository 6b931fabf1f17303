"""Every error says where and what would be right: each place in the sources that raises one."""

from __future__ import annotations

import ast
from pathlib import Path

import borewright
import borewright.errors as errors

SOURCE = Path(borewright.__file__).parent
KINDS = {
    name
    for name in dir(errors)
    if isinstance(getattr(errors, name), type)
    and issubclass(getattr(errors, name), errors.BorewrightError)
}
#: Where an error of another is handed on as it is, parts and all.
HANDED_ON = {"errors.py"}


def made(path: Path) -> list[tuple[int, set[str | None]]]:
    """Errors made in a file: the line, and which of their parts are named."""
    found = []
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if not isinstance(node, ast.Call):
            continue
        name = getattr(node.func, "id", getattr(node.func, "attr", ""))
        parts = {keyword.arg for keyword in node.keywords}
        if name in KINDS:
            found.append((node.lineno, parts))
        elif name == "RefusedValue":
            remedy = len(node.args) > 1 or "remedy" in parts
            found.append((node.lineno, {"remedy"} if remedy else set()))
    return found


def test_every_error_has_a_remedy():
    without = [
        f"{path.relative_to(SOURCE)}:{line}"
        for path in sorted(SOURCE.rglob("*.py"))
        if path.name not in HANDED_ON
        for line, parts in made(path)
        if "remedy" not in parts
    ]
    assert without == []


def test_every_table_is_written_so_that_no_spreadsheet_runs_it():
    """A writer of CSV either is the one that makes cells safe, or makes them so itself."""
    writers = {
        str(path.relative_to(SOURCE))
        for path in SOURCE.rglob("*.py")
        if "csv.writer(" in (text := path.read_text(encoding="utf-8")) or "csv.DictWriter(" in text
    }
    assert writers == {
        "model/files/tables.py",
        "model/files/keys.py",  # every cell through safe_cell
        "ledger/tables_csv.py",  # by the kinds of its columns
    }
