"""The Body view's own drawings, as elements of a page."""

from __future__ import annotations

from typing import Any

from borewright.bench.widgets.drawn import Drawn
from borewright.bench.widgets.number_field import changed_words
from borewright.bench.words import _


class Section(Drawn, component="section.js"):
    """The instrument in section; tells "pick", "move", "drop" and "back"."""

    def __init__(self, drawing: dict[str, Any], inch: bool) -> None:
        super().__init__()
        words = {
            "section": _("Section, row"),
            "hole": _("Tone hole"),
            "bore": _("Bore point"),
            "station": _("station"),
            "diameter": _("diameter"),
            "beyond": _("beyond its limit"),
            "hint": _(
                "Drag a hole along the body, its edges for the diameter, a square on the bore. "
                "With keys: Tab to a hole, then arrows."
            ),
        }
        self.props.update(drawing=drawing, words=words, chosen="", moves={}, inch=inch)


class Pitches(Drawn, component="pitches.js"):
    """Cents of every fingering, and twelfths; tells "pick"."""

    def __init__(self, data: dict[str, Any]) -> None:
        super().__init__()
        words = {
            "chart": _("Pitch of every fingering in cents; arrows choose a note"),
            "twelfths": _("Twelfths, cents from pure (up is wide; broken line: tempered)"),
            "none": _("no pitch found"),
            "sharp": _("cents sharp"),
            "flat": _("cents flat"),
            "chalumeau": _("chalumeau"),
            "throat": _("throat"),
            "clarion": _("clarion"),
            "altissimo": _("altissimo"),
        }
        self.props.update(data=data, words=words, chosen="", sways=[])


class FingeringDrawing(Drawn, component="fingering.js"):
    """A fingering as a row of holes."""

    def __init__(self, holes: list[dict[str, Any]], joints_at: list[int]) -> None:
        super().__init__()
        words = {"open": _("open"), "none": _("none")}
        self.props.update(
            holes=holes, joints_at=joints_at, words=words, open=[], title="", comment=""
        )


class Sizes(Drawn, component="sizes.js"):
    """Dimensions as a table; tells "typed" and "pick"."""

    def __init__(self, groups: list[dict[str, Any]], unit: str) -> None:
        super().__init__()
        words = {
            "caption": _("Dimensions in {unit}", unit=unit),
            "what": _("what"),
            "changed": changed_words(),
        }
        heads = [_("station"), _("diameter"), _("chimney")]
        self.props.update(
            groups=groups,
            heads=heads,
            words=words,
            chosen="",
            wrong=-1,
            said="",
            mine=True,
            language=_.language,
        )
