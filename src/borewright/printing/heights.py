"""Stations of an upright part redrawn, so that shrinkage and bed bring them back."""

from __future__ import annotations

from borewright.model import Part, Socket, Tenon
from borewright.printing.lines import KindCalibration
from borewright.printing.standing import Down

#: Within so much of the bed (mm) heights are blended, so that none comes to lie below it.
_BLEND_MM = 1.0


def ends_on_bed(part: Part, down: Down) -> bool:
    """Whether the body's own shoulder lies on the bed, and not a tenon beyond it."""
    return not (part.tenon_top if down is Down.TOP else part.tenon_bottom)


class Heights:
    """What a part's stations are drawn as (mm), standing on one end.

    A height above the bed comes out as (1 + slope) times what is drawn, and the bed's offset
    beside it. Stations are counted from the top shoulder, which may be the face on the bed.
    """

    def __init__(self, part: Part, down: Down, along: KindCalibration) -> None:
        self.part, self.down, self._along = part, down, along
        top = -part.tenon_top.length_mm if part.tenon_top else 0.0
        bottom = part.length_mm + (part.tenon_bottom.length_mm if part.tenon_bottom else 0.0)
        self._bed = top if down is Down.TOP else bottom
        self.up = 1 if down is Down.TOP else -1
        self._shoulder = self._drawn(self._height(0.0))

    def station(self, station_mm: float) -> float:
        """The station (mm) to draw so that the wanted one is printed."""
        return round(self.up * (self._drawn(self._height(station_mm)) - self._shoulder), 4)

    def from_bed(self, *stations_mm: float) -> bool:
        """Whether one of the stations (mm) is that of the face on the bed."""
        return any(abs(each - self._bed) < 1e-9 for each in stations_mm)

    def _height(self, station_mm: float) -> float:
        return self.up * (station_mm - self._bed)

    def _drawn(self, height_mm: float) -> float:
        if height_mm <= 0:
            return height_mm
        if height_mm < _BLEND_MM:
            return height_mm / _BLEND_MM * self._along.drawn_mm(_BLEND_MM)
        return self._along.drawn_mm(height_mm)

    def part_changes(self) -> dict[str, object]:
        """Stations and lengths of the part, its profiles, joints and thumb rest, as drawn."""
        part = self.part
        changes: dict[str, object] = {
            "length_mm": self.station(part.length_mm),
            "bore": [(self.station(at), size) for at, size in part.bore],
            "outside": [(self.station(at), size) for at, size in part.outside],
        }
        for end, shoulder, out in (("top", 0.0, -1), ("bottom", part.length_mm, 1)):
            tenon: Tenon | None = getattr(part, f"tenon_{end}")
            socket: Socket | None = getattr(part, f"socket_{end}")
            if tenon:
                length = self._between(shoulder, shoulder + out * tenon.length_mm)
                cork = tenon.cork_length_mm / (1 + self._along.slope)
                changes[f"tenon_{end}"] = tenon.model_copy(
                    update={"length_mm": length, "cork_length_mm": cork}
                )
            if socket:
                depth = self._between(shoulder, shoulder - out * socket.depth_mm)
                ring = self._between(shoulder, shoulder - out * socket.ring_length_mm)
                changes[f"socket_{end}"] = socket.model_copy(
                    update={"depth_mm": depth, "ring_length_mm": ring}
                )
        if rest := part.thumb_rest:
            station = self.station(rest.station_mm)
            changes["thumb_rest"] = rest.model_copy(update={"station_mm": station})
        return changes

    def _between(self, first: float, second: float) -> float:
        return round(abs(self.station(second) - self.station(first)), 4)
