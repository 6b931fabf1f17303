"""A workshop paper as PDF: letterhead, scannable code, then the page's blocks."""

from __future__ import annotations

import io
import tempfile
from pathlib import Path

from borewright.documents._names import plain, short
from borewright.documents._page import PaperPage
from borewright.documents._pdf import _plain, blocks_in, typeset
from borewright.documents.letterhead import PAPERS, Letterhead
from borewright.errors import DocumentsError
from borewright.words import say

LONGEST_CODE = 200


def code_svg(text: str) -> str:
    """A scannable code (QR, ISO/IEC 18004, error correction M) of a text, as SVG."""
    import segno

    if not text or len(text) > LONGEST_CODE:
        raise DocumentsError(
            say("a code of {count} letters cannot be printed small", count=len(text)),
            place=say("scannable code"),
            remedy=say("Use 1 to {most} letters.", most=LONGEST_CODE),
        )
    stream = io.BytesIO()
    segno.make(text, error="m", micro=False).save(
        stream, kind="svg", xmldecl=False, border=2, omitsize=True, light="#ffffff"
    )
    return stream.getvalue().decode("utf-8")


def sheet_pdf(page: PaperPage, letterhead: Letterhead, code: str = "") -> bytes:
    """A paper as PDF; DocumentsError where the typesetter refuses it, for a broken mark say."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        blocks = blocks_in(folder, page)
        if letterhead.mark_svg:
            (folder / "mark.svg").write_text(letterhead.mark_svg, encoding="utf-8")
        if code:
            (folder / "code.svg").write_text(code_svg(code), encoding="utf-8")
        whole = {
            "title": _plain(page.title),
            "subtitle": _plain(page.subtitle),
            "language": page.language.split("-")[0],
            "paper": PAPERS[letterhead.paper],
            "owner": short(letterhead.owner, 80),
            "address": [short(line, 80) for line in letterhead.address[:4]],
            "mark": bool(letterhead.mark_svg),
            "code": _plain(plain(code)),
            "blocks": blocks,
        }
        remedy = say("Check the mark: it must be a plain SVG picture.")
        return typeset(folder, "sheet.typ", whole, remedy)
