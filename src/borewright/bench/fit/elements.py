"""The Fit view's own tables and drawings, as elements of a page."""

from __future__ import annotations

from typing import Any

from borewright.bench.widgets.drawn import Drawn
from borewright.bench.words import _


class Grid(Drawn, component="grid.js"):
    """What may move; tells "set" with cells and whether they are free."""

    def __init__(self, blocks: list[dict[str, Any]], free: list[str]) -> None:
        super().__init__()
        words = {"caption": _("What may move"), "what": _("what"), "all": _("all of them")}
        self.props.update(blocks=blocks, free=free, words=words)


class Course(Drawn, component="course.js"):
    """How a fit came on, round by round."""

    def __init__(self, tolerance: float) -> None:
        super().__init__()
        words = {"rms": _("mean"), "worst": _("worst"), "round": _("round")}
        self.props.update(points=[], tolerance=tolerance, words=words)


class Moves(Drawn, component="moves.js"):
    """What a fit proposes; tells "take" with the owner and whether its moves are taken."""

    def __init__(self, rows: list[dict[str, Any]], left: list[str]) -> None:
        super().__init__()
        words = {
            "caption": _("What would move, and the limit that holds it"),
            "take": _("take"),
            "what": _("what"),
            "now": _("now"),
            "then": _("then"),
            "by": _("by"),
            "limit": _("held by"),
        }
        self.props.update(rows=rows, left=left, words=words)
