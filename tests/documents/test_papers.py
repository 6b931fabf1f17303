"""The workshop's papers: sound PDF and HTML on either sheet, codes that can be scanned."""

from __future__ import annotations

import re
from datetime import date

import pytest
import zxingcpp
from PIL import Image

from borewright.documents import (
    CAUTIONS,
    BatchPlan,
    BatchReport,
    BatchRow,
    CardRow,
    CareSheet,
    Certificate,
    CheckedReading,
    Hazard,
    KeyworkOrder,
    Letterhead,
    PlanRow,
    PriceLine,
    PrintRow,
    Quotation,
    SetUpCard,
    Tolerance,
    Traveller,
    write_paper,
)
from borewright.documents._sheet import code_svg
from borewright.errors import DocumentsError
from borewright.model.results.work import WorkStep

HOSTILE = (
    '<script>alert("x")</script> & #eval("1") $x_1$ *b* _i_ @ref \\n `c` 🎷😀 שלום مرحبا '
    "\u202e//[]{} ../../x"
)
MARK = (
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><circle r="4" cx="4" cy="4"/></svg>'
)
LONG = "word " * 200_000
SHA256 = "ab" * 32
DAY = date(2031, 3, 3)


def papers(text: str = "LC-001", note: str = ""):
    """One of each paper, with a text a person typed wherever one can stand."""
    return [
        Traveller(text, text, text, SHA256, text, text, text,
                  [WorkStep(text, text, True, text), WorkStep("b")], [text], note),
        Certificate(text, text, DAY, text, text, SHA256, text, DAY,
                    [CheckedReading(text, text, -0.01, text, text, True)],
                    [(text[:9], 4.0), ("B4", -12.5)], 21.5, [(text, text)]),
        CareSheet(text, text, text, text, text),
        Quotation(text, text, DAY, [(text, text)], [PriceLine(text, 1, "2", "3")],
                  [("Total", "3")], "1", None, "rounded", note),
        KeyworkOrder(text, text, DAY, text, 12, "1", "12", 35,
                     [Tolerance(text, text, 12.3, 0.1, 12.35)], note),
        BatchReport(text, text, 12, 3, DAY, [BatchRow(text, text, 3.1, 3, 4, text, text, text)],
                    [PrintRow(text, 1, 0, 3.1, 42)], [(text, "1")], [text]),
        BatchPlan(text, text, 12, "8 to 18", DAY,
                  [PlanRow(DAY, 8.0, text, text, 7.5, DAY)], [text]),
        SetUpCard(text, text, [CardRow(text, text, 4, 3.5, -1.0, text, 1.2, 4.2, 40, 6, 0.03,
                                       [text])]),
    ]  # fmt: skip


def media_box_mm(pdf: bytes) -> tuple[int, int]:
    width, height = re.search(rb"/MediaBox\s*\[0 0 ([\d.]+) ([\d.]+)\]", pdf).groups()
    return round(float(width) / 72 * 25.4), round(float(height) / 72 * 25.4)


@pytest.mark.parametrize(("paper", "size"), [("A4", (210, 297)), ("Letter", (216, 279))])
def test_every_paper_on_either_sheet(tmp_path, paper, size):
    head = Letterhead("Invented Workshop", ("3 Row",), MARK, paper)
    for one in papers():
        made = write_paper(tmp_path, one, head)
        assert media_box_mm(made.pdf.read_bytes()) == size
        assert "Invented Workshop" in made.html.read_text(encoding="utf-8")
    assert len(list(tmp_path.iterdir())) == 16


def test_no_text_is_a_command_or_a_path(tmp_path):
    head = Letterhead(HOSTILE, (HOSTILE,) * 9, "", "A4")
    for one in papers(HOSTILE, HOSTILE):
        made = write_paper(tmp_path, one, head)
        html = made.html.read_text(encoding="utf-8")
        assert made.pdf.parent == tmp_path
        assert "<script" not in html
        assert "\u202e" not in html
        assert made.pdf.read_bytes().startswith(b"%PDF-")


def test_a_million_letters_are_shortened_on_paper(tmp_path):
    for one in papers(note=LONG)[:1]:
        made = write_paper(tmp_path, one, Letterhead())
        html = made.html.read_text(encoding="utf-8")
        assert "…" in html
        assert len(html) < 50_000


def test_the_same_paper_gives_the_same_bytes(tmp_path):
    for one in papers()[:2]:
        first = write_paper(tmp_path / "1", one, Letterhead()).pdf.read_bytes()
        assert write_paper(tmp_path / "2", one, Letterhead()).pdf.read_bytes() == first


def pixels(svg: str) -> Image.Image:
    """The code's own squares drawn as pixels, from the SVG's path of horizontal strokes."""
    side = int(re.search(r'viewBox="0 0 (\d+) ', svg).group(1))
    image = Image.new("L", (side, side), 255)
    path = re.findall(r'class="qrline"[^>]*d="([^"]+)"|d="([^"]+)"[^>]*class="qrline"', svg)
    x = y = 0.0
    for letter, first, second in re.findall(r"([Mmh])([\d.-]+)(?:[ ,]?([\d.-]+))?", "".join(*path)):
        if letter == "M":
            x, y = float(first), float(second)
        elif letter == "m":
            x, y = x + float(first), y + float(second)
        else:
            for step in range(int(first)):
                image.putpixel((int(x) + step, int(y)), 0)
            x += float(first)
    return image.resize((side * 8, side * 8), Image.Resampling.NEAREST)


@pytest.mark.parametrize("text", ["LC-005 3e3ca7d6b757", "קלרינט 🎷 7"])
def test_the_code_can_be_scanned(text):
    (found,) = zxingcpp.read_barcodes(pixels(code_svg(text)))
    assert found.text == text


def test_a_code_has_a_length_that_can_be_printed():
    for text in ("", "x" * 201):
        with pytest.raises(DocumentsError, match="cannot be printed small"):
            code_svg(text)


def test_a_broken_mark_or_unknown_sheet_is_refused(tmp_path):
    with pytest.raises(DocumentsError, match="Check the mark"):
        write_paper(tmp_path, papers()[0], Letterhead("x", (), "not a picture"))
    assert list(tmp_path.iterdir()) == []
    with pytest.raises(DocumentsError, match="no paper 'A3'"):
        Letterhead(paper="A3")


def test_the_care_sheet_carries_the_cautions_on_heat_mouth_and_nickel(tmp_path):
    html = write_paper(tmp_path, papers()[2], Letterhead()).html.read_text(encoding="utf-8")
    for caution in CAUTIONS:
        if caution.hazard in (Hazard.HEAT, Hazard.MOUTH, Hazard.NICKEL):
            assert str(caution.text)[:40] in html


def test_codes_that_differ_only_in_signs_keep_their_own_files():
    stems = {CareSheet(code, "i", "m", "p").file_stem for code in ("a/b", "a b", "a-b", "../a-b")}
    assert len(stems) == 4
    assert all(re.fullmatch(r"care-[A-Za-z0-9-]+", stem) for stem in stems)
