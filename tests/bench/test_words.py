"""The second language is complete: every text of the code, and none that the code lost."""

from __future__ import annotations

import ast
import string
from pathlib import Path

import pytest

from borewright.bench import __file__ as package
from borewright.bench.views import VIEWS
from borewright.bench.words import LANGUAGES, Words, catalogue

SOURCE = Path(package).parent


def texts_of(tree: ast.Module) -> list[tuple[str, int]]:
    """Texts inside ``_("...")`` with their lines; a text that is not written out is refused."""
    found = []
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "_":
            first = node.args[0]
            if isinstance(first, ast.Constant):
                found.append((str(first.value), node.lineno))
    return found


def texts() -> dict[str, str]:
    """Every text of the bench, with the place where it stands."""
    found = {view.title: "views.py" for view in VIEWS}
    for path in sorted(SOURCE.rglob("*.py")):
        for text, line in texts_of(ast.parse(path.read_text(encoding="utf-8"))):
            found.setdefault(text, f"{path.relative_to(SOURCE)}:{line}")
    return found


def places(text: str) -> list[str]:
    return sorted(name for _, name, _, _ in string.Formatter().parse(text) if name)


@pytest.mark.parametrize("language", [each for each in LANGUAGES if each != "en"])
def test_every_text_is_translated_and_keeps_its_places(language):
    known = catalogue(language)
    missing = {text: place for text, place in texts().items() if text not in known}
    assert not missing
    wrong = [text for text in texts() if places(text) != places(known[text])]
    assert not wrong


@pytest.mark.parametrize("language", [each for each in LANGUAGES if each != "en"])
def test_no_translation_is_left_over(language):
    assert set(catalogue(language)) - set(texts()) - {""} == set()


def test_the_reader_finds_texts():
    tree = ast.parse('x = _("One {a}", a=1)\ny = other("two")\nz = _(three)\n')
    assert texts_of(tree) == [("One {a}", 1)]


def test_words_fill_places_in_the_language_in_use():
    words = Words()
    assert words("larger than {size}", size="5 MB") == "larger than 5 MB"
    words.language = "de"
    assert words("larger than {size}", size="5 MB") == "größer als 5 MB"
    assert words("never said before") == "never said before"
