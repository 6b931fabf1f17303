"""The workshop's papers: each is a page with a code, written as PDF and HTML."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path
from typing import Protocol

from borewright.documents._page import PaperPage, Paragraph, Picture
from borewright.documents.letterhead import Letterhead
from borewright.documents.report import ReportFiles
from borewright.model import write_bytes, write_text
from borewright.words import ENGLISH, Reader


class Paper(Protocol):
    """What can be printed: a traveller, a certificate, a quotation and so on."""

    @property
    def file_stem(self) -> str:
        """The files' name without its ending."""

    @property
    def code(self) -> str:
        """What the scannable code says; empty for none."""

    def page(self, words: Reader) -> PaperPage:
        """What stands on the paper, in the reader's language."""


def write_paper(
    folder: Path | str, paper: Paper, letterhead: Letterhead, words: Reader = ENGLISH
) -> ReportFiles:
    """Write a paper as PDF and HTML into a folder, in the language of who reads it.

    Raises DocumentsError where the typesetter refuses it; then neither is written.
    """
    from borewright.documents._html import html_text
    from borewright.documents._sheet import code_svg, sheet_pdf

    page = replace(paper.page(words), language=words.language)
    files = ReportFiles(
        Path(folder) / f"{paper.file_stem}.html", Path(folder) / f"{paper.file_stem}.pdf"
    )
    pdf = sheet_pdf(page, letterhead, paper.code)
    head: list[Paragraph | Picture] = []
    if letterhead.owner:
        head.append(Paragraph(", ".join([letterhead.owner, *letterhead.address])))
    tail = []
    if paper.code:
        # A page's pictures are as wide as its column; blank room keeps the code small.
        small = re.sub(
            r'viewBox="0 0 (\d+) (\d+)"',
            lambda box: f'viewBox="0 0 {int(box[1]) * 6} {box[2]}"',
            code_svg(paper.code),
        )
        tail.append(Picture(small, 22.0, words("Code: {code}", code=paper.code), paper.code))
    html = html_text(replace(page, blocks=[*head, *page.blocks, *tail]))
    write_text(files.html, html)
    write_bytes(files.pdf, pdf)
    return files
