"""A workshop paper as PDF: letterhead, scannable code, then the page's blocks."""

from __future__ import annotations

import io
import tempfile
from pathlib import Path

from borewright.documents._names import plain, short
from borewright.documents._page import Page
from borewright.documents._pdf import _TEMPLATE, _plain, blocks_in, typeset
from borewright.documents.letterhead import PAPERS, Letterhead
from borewright.errors import DocumentsError

LONGEST_CODE = 200

# How blocks are set is the report's; only what stands around them differs.
_BLOCKS = _TEMPLATE[
    _TEMPLATE.index("#show heading.where(level: 1)") : _TEMPLATE.index("#heading(level: 1")
]
# A bench paper is read at arm's length and written on: larger letters, taller rows.
_BLOCKS = _BLOCKS.replace("set text(size: 8pt)", "set text(size: 9pt)")
_BLOCKS = _BLOCKS.replace("inset: (x: 3.2pt, y: 2.6pt)", "inset: (x: 3.2pt, y: 4pt)")
_SHEET = (
    r"""
#let doc = json("page.json")
#let ink = rgb("#22303a")
#let soft = rgb("#5c6871")
#let rule = rgb("#c3cacf")
#let card = rgb("#f2f4f3")
#set document(title: doc.title, author: (), date: none)
#set text(font: ("Libertinus Serif", "DejaVu Sans"), size: 10pt, fill: ink, lang: doc.language,
  number-width: "tabular")
#set par(leading: 0.58em, spacing: 0.85em)
#set page(paper: doc.paper, margin: (x: 18mm, top: 16mm, bottom: 18mm), footer: context {
  set text(size: 8pt, fill: soft)
  grid(columns: (1fr, auto), column-gutter: 8pt,
    if doc.owner == "" { doc.title } else { doc.owner + " · " + doc.title },
    [#counter(page).display() / #counter(page).final().first()])
})
"""
    + _BLOCKS
    + r"""
#let shown-mark = if doc.mark { (image("mark.svg", height: 15mm, alt: doc.owner),) } else { () }
#grid(columns: if doc.mark { (auto, 1fr, auto) } else { (1fr, auto) }, column-gutter: 10pt,
  align: (x, y) => if x == shown-mark.len() + 1 { right } else { left + horizon },
  ..shown-mark,
  {
    text(size: 12pt, weight: "bold", doc.owner)
    for line in doc.address { linebreak(); text(size: 9pt, fill: soft, line) }
  },
  if doc.code != "" {
    image("code.svg", width: 22mm, alt: doc.code)
    v(-7pt)
    align(center, block(width: 22mm, text(size: 7pt, doc.code)))
  })
#line(length: 100%, stroke: 0.6pt + rule)
#heading(level: 1, doc.title)
#text(fill: soft, doc.subtitle)
#for b in doc.blocks { set-block(b) }
"""
)


def code_svg(text: str) -> str:
    """A scannable code (QR, ISO/IEC 18004, error correction M) of a text, as SVG."""
    import segno

    if not text or len(text) > LONGEST_CODE:
        raise DocumentsError(
            f"a code of {len(text)} letters cannot be printed small",
            place="scannable code",
            remedy=f"Use 1 to {LONGEST_CODE} letters.",
        )
    stream = io.BytesIO()
    segno.make(text, error="m", micro=False).save(
        stream, kind="svg", xmldecl=False, border=2, omitsize=True, light="#ffffff"
    )
    return stream.getvalue().decode("utf-8")


def sheet_pdf(page: Page, letterhead: Letterhead, code: str = "") -> bytes:
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
        remedy = "Check the mark: it must be a plain SVG picture."
        return typeset(folder, _SHEET, whole, remedy)
