"""A page as PDF, set by typst.

Every text reaches the typesetter as data, never as its markup, so no name can be read as a
command.
"""

from __future__ import annotations

import json
import tempfile
from importlib.resources import files
from pathlib import Path
from typing import Any

from borewright.documents._names import plain
from borewright.documents._page import (
    Block,
    Facts,
    Heading,
    PaperPage,
    Paragraph,
    Picture,
    Points,
    Table,
)
from borewright.errors import DocumentsError
from borewright.words import Message, say

LONGEST_UNBROKEN = 14
#: Typst's sources: "report.typ" and "sheet.typ" set what "blocks.typ" defines.
TEMPLATES = files("borewright.documents") / "templates"


def pdf_bytes(page: PaperPage) -> bytes:
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
        remedy = say("Please report this with the instrument's file; HTML holds the same.")
        return typeset(folder, "report.typ", whole, remedy)


def blocks_in(folder: Path, page: PaperPage) -> list[dict[str, Any]]:
    """A page's blocks as data, their pictures written into ``folder``."""
    blocks: list[dict[str, Any]] = []
    for number, block in enumerate(page.blocks, start=1):
        data = _data(block)
        if isinstance(block, Picture):
            data["file"] = f"picture-{number}.svg"
            (folder / data["file"]).write_text(block.svg, encoding="utf-8")
        blocks.append(data)
    return blocks


def typeset(folder: Path, template: str, whole: dict[str, Any], remedy: Message) -> bytes:
    """A template of that name filled with ``whole`` as PDF; ``folder`` holds its pictures."""
    import matplotlib
    import typst

    # The drawing library's typeface lends letters that the text face lacks; the machine's
    # own fonts are left out, so that every machine sets the same page.
    fonts = Path(matplotlib.get_data_path()) / "fonts" / "ttf"
    (folder / "page.json").write_text(json.dumps(whole), encoding="utf-8")
    for name in ("blocks.typ", template):
        (folder / name).write_bytes((TEMPLATES / name).read_bytes())
    try:
        made = typst.compile(
            str(folder / template),
            root=str(folder),
            font_paths=[str(fonts)],
            ignore_system_fonts=True,
        )
    except RuntimeError as error:
        raise DocumentsError(
            say("the typesetter refused the page ({why})", why=str(error).splitlines()[0]),
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
