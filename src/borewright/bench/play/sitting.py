"""One sitting at the microphone: what is played, by whom, and how the takes are to be read."""

from __future__ import annotations

from dataclasses import asdict, dataclass, field, fields, replace
from datetime import date
from typing import Any

from borewright.bench.page import Page

#: Orders that need no list of notes: named by the nearest semitone, or all standard fingerings.
FREE, SCALE, OWN = "free", "scale", "own"


@dataclass(frozen=True)
class Sitting:
    """Words and figures that go with every take of a sitting (°C, Hz).

    ``pulled`` tells how far joints are drawn apart (mm).
    """

    instrument: str = ""
    player: str = ""
    mouthpiece: str = ""
    day: str = ""
    temperature_c: float = 20.0
    a4_hz: float = 440.0
    order: str = FREE
    own_order: str = ""
    pulled: dict[str, float] = field(default_factory=dict)

    @property
    def planned(self) -> str:
        """The order in the words of ``borewright takes --order``."""
        return {FREE: "", SCALE: "scale"}.get(self.order, self.own_order)


def sitting_of(page: Page) -> Sitting:
    """The sitting kept in this folder's settings; the instrument's own name and A at first."""
    instrument = page.workbench.instrument
    start = Sitting(day=date.today().isoformat())
    if instrument is not None:
        start = replace(
            start,
            instrument=instrument.name,
            a4_hz=instrument.pitch.a4_hz,
            temperature_c=instrument.climate.room_c,
        )
    kept = page.workbench.settings.get("sitting")
    known = {each.name: type(getattr(start, each.name)) for each in fields(Sitting)}
    good = {
        name: value
        for name, value in (kept if isinstance(kept, dict) else {}).items()
        if name in known and isinstance(value, known[name])
    }
    return replace(start, **good)


def keep(page: Page, **changes: Any) -> None:
    """Keep something of the sitting for the next take and the next time."""
    now = asdict(replace(sitting_of(page), **changes))
    page.save(lambda: page.workbench.set_setting("sitting", now, page))
