"""The Sound view's own charts, as elements of a page."""

from __future__ import annotations

from borewright.bench.widgets.drawn import Drawn
from borewright.bench.words import _


class Bars(Drawn, component="bars.js"):
    """One figure for every note; tells "pick"."""

    def __init__(self) -> None:
        super().__init__()
        words = {"none": _("none")}
        self.props.update(notes=[], values=[], other=[], unit="", title="", chosen="", words=words)


class BoreCurve(Drawn, component="bore_curve.js"):
    """What a little more bore does to a note, place by place."""

    def __init__(self) -> None:
        super().__init__()
        words = {"most": _("most"), "at": _("at")}
        self.props.update(stations=[], cents=[], title="", words=words)
