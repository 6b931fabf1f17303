"""The keys' sheet read back from its PDF: what a player and a maker find on it."""

from __future__ import annotations

import pypdfium2
import pytest

from borewright.errors import ModelError
from borewright.keywork import Body, Mechanism, key_figures
from borewright.printing import find_material
from borewright.tasks.keys_sheet import write_keys_sheet
from borewright.tasks.printing.key_fit_list import warmth_section
from borewright.words import Reader


def told(paper):
    pages = pypdfium2.PdfDocument(paper)
    return " ".join(" ".join(page.get_textpage().get_text_range().split()) for page in pages)


def test_the_sheet_tells_posts_hands_and_springs(example, tmp_path):
    words = told(write_keys_sheet(example / "clarinet.toml", tmp_path / "keys.pdf"))
    # The survey's own row of P-EB2, and the hand-reckoned reach of the left little finger.
    assert "P-EB2 lower joint 224.00 -98.00 16.63 2.87" in words
    assert "more than 48.6 more than 55.0 more than 61.4" in words
    # FS rests at 55 g and is bent by 1.81; 57.5 g ask for 57.5/55 of it: 1.89.
    assert "FS 55 1.81 58 1.89" in words
    # 118 mm of hinge, 70 - 17 millionths a kelvin (the material's figure), 0.03 of play: 4.8 K.
    # 0.1 % of water from dry to damp (from memory) is 0.118 on it, off in the cold, on in warmth.
    assert "H-EB 118.0 0.030 -0.101 0.086 16 -0.219 0.204" in words
    assert "plain PLA grows 70 millionths a kelvin (source: memory)" in words
    assert "grows 0.10 % from 20 to 80 % humidity (source: memory: at most)" in words


def test_water_of_another_material_and_of_one_that_nobody_measured(keys, instrument):
    mechanism = Mechanism(keys, instrument)
    figures = key_figures(mechanism, Body(instrument))

    def row_and_words(material):
        section = warmth_section(mechanism, figures, material, Reader())
        row = next(row for row in section.tables[0].rows if row[0] == "H-EB")
        return row[-2:], Reader().tell(section.points[-1])

    wood = find_material("wood-filled PLA")
    wet, words = row_and_words(wood)
    # (65 - 17) millionths x 118 x (-21, +9) K on 0.030, less or more 0.3 % of 118 = 0.354.
    assert wet == ["-0.443", "0.435"]
    assert "0.30 % from 20 to 80 %" in words
    unknown, words = row_and_words(wood.model_copy(update={"water_growth": None}))
    assert unknown == ["–", "–"]
    assert "water_growth" in words


def test_the_sheet_in_german_and_without_keys(example, tmp_path):
    words = told(
        write_keys_sheet(example / "clarinet.toml", tmp_path / "k.pdf", words=Reader("de"))
    )
    assert "Für die Hände" in words
    bare = tmp_path / "bare.toml"
    text = (example / "clarinet.toml").read_text(encoding="utf-8")
    bare.write_text(
        "".join(line for line in text.splitlines(True) if not line.startswith(("keys", "keywork"))),
        encoding="utf-8",
    )
    with pytest.raises(ModelError, match="no key survey"):
        write_keys_sheet(bare, tmp_path / "none.pdf")
    assert not (tmp_path / "none.pdf").exists()
