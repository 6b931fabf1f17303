"""Keys in the round: swing one by hand, play a fingering, cut through a hole with its pad."""

from __future__ import annotations

import asyncio
import base64
from typing import TYPE_CHECKING, Any

from nicegui import ui
from nicegui.elements.mixins.text_element import TextElement

from borewright.bench.page import Page, outliving
from borewright.bench.widgets import button, text
from borewright.bench.widgets.drawn import Drawn
from borewright.bench.widgets.links import file_link
from borewright.bench.words import _
from borewright.bench.workbench import Change
from borewright.errors import BorewrightError
from borewright.tasks.keys_in_the_round import KeysInTheRound, keys_in_the_round
from borewright.tasks.keys_sheet import write_keys_sheet

if TYPE_CHECKING:
    import numpy as np

SHEET = "keys/keys-sheet.pdf"


class KeysRound(Drawn, component="keys_round.js"):
    """Keys that turn in the browser; the server is not asked."""

    def __init__(self, scene: dict[str, Any]) -> None:
        super().__init__()
        words = {
            "key": _("Key"),
            "swing": _("Its way, from rest to pressed"),
            "swing_once": _("Swing it"),
            "fingering": _("Fingering"),
            "play_all": _("Play them all"),
            "stop": _("Stop"),
            "none": _("none"),
            "open": _("open"),
            "lift": _("effective lift"),
            "section": _("Section through hole and pad"),
            "scene": _("The keys in the round; drag to turn them, click a key to choose it"),
        }
        self.props.update(scene=scene, words=words)


class KeysPanel:
    """A panel that is closed at first; once open, the keys follow every change."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self._open = False
        self._drawn = -1
        with ui.element("details").classes("bw-card bw-panel") as panel:
            TextElement(tag="summary", text=_("Keys: swing them, play a fingering")).props(
                'data-mark="keys-in-the-round"'
            )
            self._box = ui.element("div")
        panel.on("toggle", self._toggled, args=[])
        page.on_change(self._changed)

    async def _toggled(self) -> None:
        self._open = not self._open
        await self._show()

    def _changed(self, change: Change) -> None:
        if change.what == "instrument" and self._open:
            ui.timer(0.5, self._show, once=True)

    @outliving
    async def _show(self) -> None:
        bench = self.page.workbench
        if not self._open or self._drawn == bench.edition:
            return
        instrument, keys, table = bench.instrument, bench.keys, bench.fingerings
        if instrument is None or keys is None:
            return
        edition = bench.edition
        try:
            made = await bench.kernel(keys_in_the_round, instrument, keys, table)
        except BorewrightError as error:
            self.page.fail(error)
            return
        if edition != bench.edition:
            return  # another change is being drawn already
        self._drawn = edition
        self._box.clear()
        with self._box:
            text(
                _(
                    "Drawn from the key survey. White holes are open, dark ones shut by a pad, "
                    "skin-coloured ones covered by a finger."
                ),
                small=True,
            )
            KeysRound(scene_of(made))
            text(
                _(
                    "On paper: lifts, travels and weights, where each post stands, springs, end "
                    "play in cold and warmth, and how the keys suit small and large hands."
                ),
                small=True,
            )
            button(_("Make the keys' sheet"), self._sheet, mark="keys-sheet")
            self._files = ui.element("p")
            if self.page.workbench.folder.path(SHEET).is_file():
                self._link()

    @outliving
    async def _sheet(self) -> None:
        bench, words = self.page.workbench, _.reader
        target = bench.folder.path(SHEET)
        try:
            await asyncio.to_thread(write_keys_sheet, bench.path, target, words=words)
        except BorewrightError as error:
            self.page.fail(error)
            return
        self._link()

    def _link(self) -> None:
        self._files.clear()
        with self._files:
            file_link(SHEET, _("The keys' sheet (PDF)"), mark="keys-sheet-file")


def scene_of(made: KeysInTheRound) -> dict[str, Any]:
    """What the browser is told; triangles as base64 of their corners and indices."""
    import numpy as np

    stations = np.concatenate([key.fixed.reshape(-1, 3)[:, 0] for key in made.keys])
    chimneys = [hole.chimney for hole in made.holes if hole.chimney is not None]
    low, high = float(stations.min()) - 25.0, float(stations.max()) + 25.0
    return {
        "middle": (low + high) / 2,
        "span": high - low,
        "body": _mesh(np.concatenate(list(made.bodies.values()))),
        "chimneys": _mesh(np.concatenate(chimneys)) if chimneys else None,
        "fixed": _mesh(np.concatenate([key.fixed for key in made.keys])),
        "holes": [
            {
                "name": hole.name,
                "face": _mesh(hole.face),
                "key": hole.key,
                "pad": hole.pad,
            }
            for hole in made.holes
        ],
        "keys": [
            {
                "name": key.name,
                "turning": {stuff: _mesh(each) for stuff, each in key.turning.items()},
                "origin": key.origin.tolist(),
                "axis": key.axis.tolist(),
                "open_deg": key.open_deg,
                "rest_deg": key.rest_deg,
                "facts": [_.tell(fact) for fact in key.facts],
            }
            for key in made.keys
        ],
        "sections": [
            {
                "key": section.key,
                "hole": section.hole,
                "body": [np.round(line, 2).tolist() for line in section.body],
                "cuts": [
                    {
                        "outline": np.round(cut.outline, 2).tolist(),
                        "stuff": cut.stuff.value,
                        "turns": cut.turns,
                    }
                    for cut in section.cuts
                ],
                "hinge": section.hinge,
                "open_deg": section.open_deg,
                "low": section.low,
                "high": section.high,
            }
            for section in made.sections
        ],
        "ways": made.swings.ways,
        "lifts": made.swings.lifts,
        "opens": made.swings.opens,
        "fingerings": made.swings.fingerings,
    }


def _mesh(triangles: np.ndarray) -> dict[str, str]:
    import numpy as np

    corners = np.round(triangles.reshape(-1, 3), 3).astype("<f4")
    points, index = np.unique(corners, axis=0, return_inverse=True)
    return {
        "at": base64.b64encode(points.tobytes()).decode(),
        "of": base64.b64encode(index.astype("<u4").tobytes()).decode(),
    }
