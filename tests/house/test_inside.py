"""The developers' map names files that exist, and keeps each recipe as short as it promises."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
MAP = ROOT / "docs" / "inside.md"
#: Most files that a recipe may touch, besides tests and this page.
MOST = {
    "a record type": 3,
    "a reed model": 3,
    "a language": 1,
    "a tone-hole shape": 6,
}
_RECIPE = re.compile(r"^\*\*To add ([^*]+)\*\*: (.+?)(?=^\*\*To add|^## |\Z)", re.M | re.S)
_FILE = re.compile(r"`([a-z_]+(?:/[a-z_A-Z.-]+)+|[a-z_]+\.[a-z]+)`")


def recipes() -> dict[str, str]:
    return dict(_RECIPE.findall(MAP.read_text(encoding="utf-8")))


def files_of(text: str) -> list[str]:
    return list(dict.fromkeys(_FILE.findall(text)))


@pytest.mark.parametrize("what", recipes())
def test_a_recipe_names_files_that_exist(what):
    files = files_of(recipes()[what])
    assert files
    absent = [
        name
        for name in files
        if not (ROOT / "src" / "borewright" / name).exists() and not (ROOT / name).exists()
    ]
    assert absent == []


def test_the_recipes_that_are_promised_stand_there():
    promised = {
        "a material",
        "a note on a certificate",
        "a drawing format",
        "a bench view",
        "an instrument of another size",
        *MOST,
    }
    assert promised <= set(recipes())


@pytest.mark.parametrize("what", MOST)
def test_a_recipe_stays_short(what):
    assert len(files_of(recipes()[what])) <= MOST[what]


def test_every_room_is_on_the_map():
    text = MAP.read_text(encoding="utf-8")
    rooms = [path.name for path in (ROOT / "src" / "borewright").iterdir() if path.is_dir()]
    rooms = [room for room in rooms if not room.startswith("__")]
    assert [room for room in rooms if f"`{room}`" not in text] == []
