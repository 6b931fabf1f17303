"""A page as PDF, set by typst.

Every text reaches the typesetter as data, never as its markup, so no name can be read as a
command.
"""

from __future__ import annotations

import json
import tempfile
from pathlib import Path
from typing import Any

from borewright.documents._names import plain
from borewright.documents._page import (
    Block,
    Facts,
    Heading,
    Page,
    Paragraph,
    Picture,
    Points,
    Table,
)
from borewright.errors import DocumentsError

LONGEST_UNBROKEN = 14

_TEMPLATE = r"""
#let doc = json("page.json")
#let ink = rgb("#22303a")
#let soft = rgb("#5c6871")
#let rule = rgb("#c3cacf")
#let card = rgb("#f2f4f3")
#set document(title: doc.title, author: (), date: none)
#set text(font: ("Libertinus Serif", "DejaVu Sans"), size: 10pt, fill: ink, lang: doc.language,
  number-width: "tabular")
#set par(leading: 0.58em, spacing: 0.85em)
#set page(paper: "a4", flipped: doc.sideways)
#set page(margin: (x: 12mm, top: 14mm, bottom: 16mm), footer: context {
  set text(size: 8pt, fill: soft)
  grid(columns: (1fr, auto), doc.title,
    [#counter(page).display() / #counter(page).final().first()])
})
#show heading.where(level: 1): set text(size: 19pt)
#show heading.where(level: 2): it => block(above: 1.7em, below: 0.8em, sticky: true, {
  set text(size: 13pt)
  it.body
})
#show heading.where(level: 3): it => block(above: 1.3em, below: 0.6em, sticky: true, {
  set text(size: 11pt)
  it.body
})
#show figure.where(kind: table): set block(breakable: true)
#show figure.caption: it => block(width: 100%, below: 0.5em, above: 0.5em,
  align(left, text(size: 8.5pt, fill: soft, it.body)))
#set figure(gap: 0.5em, supplement: none, numbering: none)
#set figure.caption(position: bottom)
#show figure.where(kind: table): set figure.caption(position: top)

#let set-table(b) = figure(kind: table, caption: b.caption, {
  set text(size: 8pt)
  set par(leading: 0.45em, justify: false)
  table(
    columns: b.columns.map(c => if c.text { c.share * 1fr } else { auto }),
    align: b.columns.map(c => if c.text { left } else { right }),
    inset: (x: 3.2pt, y: 2.6pt),
    stroke: (x, y) => (bottom: if y == 0 { 0.9pt + soft } else { 0.3pt + rule }),
    table.header(..b.columns.map(c => text(weight: "bold", c.title))),
    ..b.rows.flatten(),
  )
})

#let set-block(b) = {
  if b.kind == "heading" { heading(level: b.level, b.text) }
  else if b.kind == "paragraph" {
    if b.lead {
      block(fill: card, inset: 8pt, width: 100%, stroke: (left: 3pt + rgb("#1c5f9e")),
        text(size: 11pt, b.text))
    } else { par(b.text) }
  }
  else if b.kind == "facts" {
    grid(columns: (auto, 1fr), column-gutter: 12pt, row-gutter: 5.5pt,
      ..b.rows.map(r => (text(fill: soft, r.at(0)), text(r.at(1)))).flatten())
  }
  else if b.kind == "points" {
    let items = b.items.map(i =>
      if i.at(0) == "" { text(i.at(1)) } else { strong(i.at(0) + ".") + " " + i.at(1) })
    if b.steps { enum(spacing: 0.75em, ..items) } else { list(spacing: 0.75em, ..items) }
  }
  else if b.kind == "picture" {
    figure(caption: b.caption, image(b.file, width: b.width_mm * 1mm, alt: b.alt))
  }
  else { set-table(b) }
}

#heading(level: 1, doc.title)
#text(fill: soft, doc.subtitle)
#for b in doc.blocks {
  if b.kind == "sideways" { page(flipped: true, for inner in b.blocks { set-block(inner) }) }
  else { set-block(b) }
}
"""


def pdf_bytes(page: Page) -> bytes:
    """The whole page as PDF.

    Raises DocumentsError where the typesetter refuses it.
    """
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        blocks = blocks_in(folder, page)
        whole = {
            "title": _plain(page.title),
            "subtitle": _plain(page.subtitle),
            "language": page.language.split("-")[0],
            "sideways": page.sideways,
            "blocks": blocks if page.sideways else _turned_sideways(blocks),
        }
        remedy = "Please report this with the instrument's file; HTML holds the same."
        return typeset(folder, _TEMPLATE, whole, remedy)


def blocks_in(folder: Path, page: Page) -> list[dict[str, Any]]:
    """A page's blocks as data, their pictures written into ``folder``."""
    blocks: list[dict[str, Any]] = []
    for number, block in enumerate(page.blocks, start=1):
        data = _data(block)
        if isinstance(block, Picture):
            data["file"] = f"picture-{number}.svg"
            (folder / data["file"]).write_text(block.svg, encoding="utf-8")
        blocks.append(data)
    return blocks


def typeset(folder: Path, template: str, whole: dict[str, Any], remedy: str) -> bytes:
    """A template filled with ``whole`` as PDF, in ``folder``, which holds its pictures."""
    import matplotlib
    import typst

    # The drawing library's typeface lends letters that the text face lacks; the machine's
    # own fonts are left out, so that every machine sets the same page.
    fonts = Path(matplotlib.get_data_path()) / "fonts" / "ttf"
    (folder / "page.json").write_text(json.dumps(whole), encoding="utf-8")
    source = folder / "page.typ"
    source.write_text(template, encoding="utf-8")
    try:
        made = typst.compile(
            str(source), root=str(folder), font_paths=[str(fonts)], ignore_system_fonts=True
        )
    except RuntimeError as error:
        raise DocumentsError(
            f"the typesetter refused the page ({str(error).splitlines()[0]})",
            place=whole["title"],
            remedy=remedy,
        ) from error
    return bytes(made)


def _data(block: Block) -> dict[str, Any]:
    match block:
        case Heading(text, level):
            return {"kind": "heading", "text": _plain(text), "level": level}
        case Paragraph(text, lead):
            return {"kind": "paragraph", "text": _plain(text), "lead": lead}
        case Facts(rows):
            return {"kind": "facts", "rows": [[_plain(a), _plain(b)] for a, b in rows]}
        case Points(items, steps):
            pairs = [[_plain(about), _plain(text)] for about, text in items]
            return {"kind": "points", "items": pairs, "steps": steps}
        case Table(caption, columns, rows, wide):
            heads = [
                {"title": _plain(c.title), "text": c.is_text, "share": c.share} for c in columns
            ]
            cells = [[_plain(value) for value in row] for row in rows]
            return {
                "kind": "table", "caption": _plain(caption), "columns": heads, "rows": cells,
                "wide": wide,
            }  # fmt: skip
        case Picture(_, width_mm, alt, caption):
            return {
                "kind": "picture", "width_mm": width_mm, "alt": _plain(alt),
                "caption": _plain(caption),
            }  # fmt: skip


def _turned_sideways(blocks: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Wide tables, each with the heading right above it, gathered for a page of their own."""
    turned: list[dict[str, Any]] = []
    for block in blocks:
        if not block.get("wide"):
            turned.append(block)
            continue
        inner = [block]
        if turned and turned[-1]["kind"] == "heading":
            inner.insert(0, turned.pop())
        turned.append({"kind": "sideways", "blocks": inner})
    return turned


def _plain(text: str) -> str:
    """One line of text whose long words may break at the edge of a column."""
    words = []
    for word in plain(text).split(" "):
        if len(word) > LONGEST_UNBROKEN:
            pieces = [
                word[start : start + LONGEST_UNBROKEN]
                for start in range(0, len(word), LONGEST_UNBROKEN)
            ]
            word = "\u200b".join(pieces)
        words.append(word)
    return " ".join(words)
