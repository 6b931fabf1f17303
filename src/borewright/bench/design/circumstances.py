"""How an instrument is looked at: in which climate, by which player, on which model level.

These switches change what is shown, never the file.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from borewright.bench.words import _
from borewright.model import Instrument, SideHoles


def climates() -> dict[str, str]:
    """Words of each climate that can be chosen; the temperatures are the physics room's own."""
    from borewright.acoustics.climates import ROOMS

    shown = {"cold start": _("cold start"), "warm": _("warm"), "hot room": _("hot room")}
    rooms = {
        name: f"{shown.get(name, name)} ({_.number(room, 'g')} °C)"
        for name, (room, _reed) in ROOMS.items()
    }
    return {"file": _("as in the file"), **rooms}


def players() -> dict[str, str]:
    """Words of each player that can be chosen."""
    return {"file": _("as in the file"), "none": _("without reed and lip")}


def levels() -> dict[str, str]:
    """Words of each model level that can be chosen."""
    return {
        "file": _("as in the file"),
        "solved": _("solved in 3-D"),
        "both": _("solved in 3-D, closed forms as rings"),
        "together": _("closed forms, open holes hear each other"),
        "alone": _("closed forms, each hole alone"),
    }


@dataclass(frozen=True)
class Circumstances:
    """One choice of each; "file" takes what the instrument's file says."""

    climate: str = "file"
    player: str = "file"
    level: str = "file"

    @property
    def shows_closed_forms(self) -> bool:
        """Whether closed forms are shown beside what is solved."""
        return self.level == "both"

    def seen(self, instrument: Instrument) -> Instrument:
        """The instrument under these circumstances; its dimensions are the same."""
        from borewright.acoustics.climates import ROOMS, in_climate

        if self.climate in ROOMS:
            room, reed_end = ROOMS[self.climate]
            instrument = in_climate(instrument, room_c=room, reed_end_c=reed_end)
        if self.player == "none":
            instrument = instrument.model_copy(update={"reed": None})
        if self.level in ("solved", "both"):
            instrument = instrument.model_copy(update={"side_holes": SideHoles.SOLVED})
        elif self.level != "file":
            forms = {"side_holes": SideHoles.CLOSED_FORMS}
            together = {"outside_interaction": self.level == "together"}
            instrument = instrument.model_copy(update=forms | together)
        return instrument


def circumstances_of(selected: Mapping[str, str]) -> Circumstances:
    """The circumstances that a page's address names; unknown words count as the file's."""
    return Circumstances(
        climate=_known(selected.get("climate"), climates()),
        player=_known(selected.get("player"), players()),
        level=_known(selected.get("level"), levels()),
    )


def _known(value: str | None, options: dict[str, str]) -> str:
    return value if value in options else "file"
