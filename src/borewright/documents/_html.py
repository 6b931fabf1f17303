"""A page as one HTML file: no network, printable, light and dark."""

from __future__ import annotations

from html import escape
from importlib.resources import files
from string import Template

from borewright.documents._inline_svg import inline_svg
from borewright.documents._look import DARK, variable
from borewright.documents._names import plain
from borewright.documents._page import (
    Block,
    Column,
    Facts,
    Heading,
    PaperPage,
    Paragraph,
    Picture,
    Points,
    Table,
)

LONGEST_UNBROKEN = 18  # letters of a cell that is kept on one line

_LIGHT_VARIABLES = "".join(f"{variable(colour)}:{colour};" for colour in DARK)
_DARK_VARIABLES = "".join(f"{variable(light)}:{dark};" for light, dark in DARK.items())


def html_text(page: PaperPage) -> str:
    """The whole page as text."""
    numbered = [_block(block, number) for number, block in enumerate(page.blocks, start=1)]
    return _template("page.html").substitute(
        language=escape(page.language),
        title=escape(plain(page.title)),
        style=_template("page.css").substitute(light=_LIGHT_VARIABLES, dark=_DARK_VARIABLES),
        heading=_text(page.title),
        subtitle=_text(page.subtitle),
        blocks="\n".join(numbered),
    )


def _template(name: str) -> Template:
    folder = files("borewright.documents") / "templates"
    return Template((folder / name).read_text(encoding="utf-8"))


def _text(text: str) -> str:
    """Escaped text that cannot turn the direction of what stands around it."""
    clean = plain(text)
    written = escape(clean)
    return written if clean.isascii() else f"<bdi>{written}</bdi>"


def _block(block: Block, number: int) -> str:
    match block:
        case Heading(text, level):
            return f"<h{level}>{_text(text)}</h{level}>"
        case Paragraph(text, lead):
            return f'<p class="lead">{_text(text)}</p>' if lead else f"<p>{_text(text)}</p>"
        case Facts(rows):
            facts = (f"<dt>{_text(term)}</dt><dd>{_text(value)}</dd>" for term, value in rows)
            return f"<dl>{''.join(facts)}</dl>"
        case Points(items, steps):
            tag = "ol" if steps else "ul"
            lines = [
                f"<li><strong>{_text(about)}.</strong> {_text(text)}</li>"
                if about
                else f"<li>{_text(text)}</li>"
                for about, text in items
            ]
            return f"<{tag}>{''.join(lines)}</{tag}>"
        case Table():
            return _table(block)
        case Picture(svg, width_mm, alt, caption):
            return (
                f'<figure style="max-width:{width_mm * 1.35:.0f}mm">'
                f"{inline_svg(svg, number, plain(alt))}"
                f"<figcaption>{_text(caption)}</figcaption></figure>"
            )


def _table(table: Table) -> str:
    heads = "".join(
        f'<th scope="col"{_side(column)}>{_text(column.title)}</th>' for column in table.columns
    )
    lines = []
    for row in table.rows:
        cells = []
        for index, (column, value) in enumerate(zip(table.columns, row, strict=True)):
            tag, scope = ("th", ' scope="row"') if index == 0 else ("td", "")
            cells.append(f"<{tag}{scope}{_side(column, value)}>{_text(value)}</{tag}>")
        lines.append(f"<tr>{''.join(cells)}</tr>")
    label = escape(plain(table.caption))
    return (
        f'<div class="table" tabindex="0" role="region" aria-label="{label}">'
        f"<table><caption>{_text(table.caption)}</caption>"
        f"<thead><tr>{heads}</tr></thead><tbody>\n" + "\n".join(lines) + "\n</tbody></table></div>"
    )


def _side(column: Column, value: str = "") -> str:
    if not column.is_text:
        return ""
    return ' class="t n"' if len(value) <= LONGEST_UNBROKEN else ' class="t"'
