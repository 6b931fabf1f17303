"""Reports and drawings in German: nothing English is left, and names stay as people gave them."""

from __future__ import annotations

import html
import io
from pathlib import Path

import pytest
from babel.messages.pofile import read_po

import borewright.words
from borewright.documents import ShopPart, fit_report, shop_sheet, template_sheet, write_sheet
from borewright.solids import outlines
from borewright.words import Reader

PART, BELL, HOLE = "upper or lower", "bell", "Fuß&Söhne"


@pytest.fixture
def awkward(invented):
    """The invented clarinet with names that look like words of the tool."""
    made = invented.clarinet("Fuß & Söhne")
    upper, last = made.parts[1], made.parts[-1]
    holes = [upper.holes[0].model_copy(update={"name": HOLE}), *upper.holes[1:]]
    holes[1] = holes[1].model_copy(update={"name": BELL})
    parts = list(made.parts)
    parts[1] = upper.model_copy(update={"name": PART, "holes": holes})
    parts[-1] = last.model_copy(update={"name": BELL})
    return made.model_copy(update={"parts": parts})


def english_sentences():
    """English sentences without places whose German is another text."""
    folder = Path(borewright.words.__file__).parent / "catalogues"
    for file in sorted(folder.glob("de*.po")):
        for message in read_po(io.BytesIO(file.read_bytes()), locale="de"):
            text = message.id
            whole = isinstance(text, str) and len(text) > 20 and "{" not in text
            if whole and text != message.string:
                yield text


@pytest.mark.parametrize("language", ["en", "de"])
def test_names_stay_in_the_report(invented, awkward, tmp_path, language):
    files = fit_report(
        tmp_path, awkward, awkward, invented.fit_result(), pictures=(), words=Reader(language)
    )
    text = html.unescape(files.html.read_text(encoding="utf-8"))
    assert f'<html lang="{language}">' in text
    for name in ("Fuß & Söhne", PART, f"{BELL} 100", HOLE):
        assert name in text.replace(",00 mm", "").replace(".00 mm", "")
    assert files.pdf.read_bytes().startswith(b"%PDF")


def test_a_german_report_holds_no_english_sentence(invented, tmp_path):
    files = fit_report(
        tmp_path, invented.clarinet(), invented.clarinet(), invented.fit_result(),
        invented.sensitivities(), invented.solids(), words=Reader("de"),
    )  # fmt: skip
    text = html.unescape(files.html.read_text(encoding="utf-8"))
    assert [each for each in english_sentences() if each in text] == []
    assert "Lochtabelle" in text


@pytest.mark.parametrize(("language", "words"), [("en", "Tone holes"), ("de", "Tonlöcher")])
def test_names_stay_in_the_drawing(awkward, tmp_path, language, words):
    part = awkward.parts[1]
    outside, inside = outlines(part, awkward)
    reader = Reader(language)
    shop = shop_sheet(awkward, ShopPart(part, outside, inside), "A3", words=reader)
    template = template_sheet(awkward, part, paper="A3", words=reader)
    drawn = write_sheet(shop, tmp_path / "a.dxf").read_text(encoding="utf-8")
    assert f"Fuß & Söhne: {PART}" in drawn
    assert f"\n{HOLE}\n" in drawn.replace("\r", "")
    assert f"\n{BELL}\n" in drawn.replace("\r", "")
    assert words in drawn
    assert any(text.text.startswith(f"{HOLE} ⌀") for text in template.texts)
