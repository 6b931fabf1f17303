"""A picture made fit to stand inside a page."""

from __future__ import annotations

import re
from html import escape

from borewright.documents._look import follow_page


def inline_svg(svg: str, number: int, alt: str) -> str:
    """The SVG element alone, its identifiers made the page's own, its colours the page's.

    Comments go, since they repeat texts that people typed.
    """
    svg = re.sub(r"<!--.*?-->", "", svg, flags=re.DOTALL)
    svg = re.sub(r"<metadata>.*?</metadata>", "", svg, flags=re.DOTALL)
    svg = re.sub(r"<title>.*?</title>", "", svg, flags=re.DOTALL)
    svg = svg[svg.index("<svg") :]
    opening, rest = svg.split(">", 1)
    view_box = re.search(r'viewBox="[^"]*"', opening)
    prefix = f"p{number}-"
    rest = re.sub(r'\bid="', f'id="{prefix}', rest)
    rest = re.sub(r'href="#', f'href="#{prefix}', rest)
    rest = rest.replace("url(#", f"url(#{prefix}")
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" '
        f'{view_box.group(0) if view_box else ""} role="img" aria-label="{escape(alt)}">'
    )
    return head + re.sub(r"\n\s*", "\n", follow_page(rest)).strip()
