"""A page as one HTML file: no network, printable, light and dark."""

from __future__ import annotations

from html import escape

from borewright.documents._inline_svg import inline_svg
from borewright.documents._look import DARK, variable
from borewright.documents._names import plain
from borewright.documents._page import (
    Block,
    Column,
    Facts,
    Heading,
    Page,
    Paragraph,
    Picture,
    Points,
    Table,
)

LONGEST_UNBROKEN = 18  # letters of a cell that is kept on one line

_LIGHT_VARIABLES = "".join(f"{variable(colour)}:{colour};" for colour in DARK)
_DARK_VARIABLES = "".join(f"{variable(light)}:{dark};" for light, dark in DARK.items())

_STYLE = f"""
:root{{color-scheme:light dark;--ink:#22303a;--soft:#5c6871;--rule:#c3cacf;--paper:#fffffe;
--card:#f4f6f5;--accent:#1c5f9e;{_LIGHT_VARIABLES}}}
@media screen and (prefers-color-scheme:dark){{:root{{--ink:#e6e9ea;--soft:#a9b3b9;
--rule:#4b565d;--paper:#1b2126;--card:#232b31;--accent:#7db7ec;{_DARK_VARIABLES}}}}}
*{{box-sizing:border-box}}
body{{margin:0;background:var(--paper);color:var(--ink);
font:16px/1.55 "Iowan Old Style","Palatino Linotype","Book Antiqua",Georgia,serif}}
main{{max-width:62rem;margin:0 auto;padding:2rem 1.25rem 4rem}}
h1{{font-size:1.9rem;line-height:1.2;margin:0 0 .3rem}}
h2{{font-size:1.3rem;margin:2.6rem 0 .6rem;padding-top:.5rem;border-top:1px solid var(--rule)}}
h3{{font-size:1.05rem;margin:1.6rem 0 .4rem}}
p{{max-width:44rem;margin:.5rem 0}}
.subtitle{{color:var(--soft);margin-top:0}}
.lead{{font-size:1.12rem;padding:.7rem 1rem;background:var(--card);
border-left:4px solid var(--accent)}}
dl{{display:grid;grid-template-columns:max-content 1fr;gap:.25rem 1.2rem;max-width:48rem}}
dt{{color:var(--soft)}}dd{{margin:0;overflow-wrap:anywhere}}
li{{max-width:44rem;margin:.3rem 0}}
figure{{margin:1.2rem 0}}figcaption{{color:var(--soft);font-size:.9rem;max-width:44rem}}
figure svg{{display:block;width:100%;height:auto}}
.table{{overflow-x:auto;margin:1rem 0}}
table{{border-collapse:collapse;font-size:.86rem;line-height:1.35;
font-variant-numeric:tabular-nums lining-nums}}
caption{{text-align:left;color:var(--soft);padding-bottom:.4rem}}
th,td{{padding:.22rem .6rem;text-align:right;vertical-align:top;
border-bottom:1px solid var(--rule)}}
th{{border-bottom:2px solid var(--soft);vertical-align:bottom;font-weight:600}}
tbody th{{border-bottom:1px solid var(--rule);vertical-align:top}}
.t{{text-align:left;overflow-wrap:anywhere;}}.n{{white-space:nowrap}}
@page{{size:A4;margin:12mm}}
@media print{{body{{font-size:10pt}}main{{max-width:none;padding:0}}
h2,h3,caption{{break-after:avoid}}tr,figure{{break-inside:avoid}}.table{{overflow:visible}}
table{{font-size:7.5pt}}th,td{{padding:.12rem .3rem}}thead{{display:table-header-group}}
figure svg{{width:auto;max-width:100%;max-height:262mm}}}}
"""


def html_text(page: Page) -> str:
    """The whole page as text."""
    numbered = [_block(block, number) for number, block in enumerate(page.blocks, start=1)]
    title = escape(plain(page.title))
    return "\n".join(
        [
            "<!DOCTYPE html>",
            f'<html lang="{escape(page.language)}">',
            "<head>",
            '<meta charset="utf-8">',
            '<meta name="viewport" content="width=device-width, initial-scale=1">',
            '<meta http-equiv="Content-Security-Policy" '
            "content=\"default-src 'none'; style-src 'unsafe-inline'\">",
            f"<title>{title}</title>",
            f"<style>{_STYLE}</style>",
            "</head>",
            "<body>",
            "<main>",
            f"<h1>{_text(page.title)}</h1>",
            f'<p class="subtitle">{_text(page.subtitle)}</p>',
            *numbered,
            "</main>",
            "</body>",
            "</html>",
            "",
        ]
    )


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
