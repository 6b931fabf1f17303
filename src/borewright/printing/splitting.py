"""Parts too tall for a printer, cut in two with a bonded tenon; keywork rows go along."""

from __future__ import annotations

from dataclasses import dataclass

from borewright.errors import PrintingError
from borewright.model import (
    Clearance,
    Instrument,
    KeyworkSurvey,
    Part,
    Socket,
    SurveyItem,
    SurveyRow,
    Tenon,
)
from borewright.model.base import Entity
from borewright.printing.profiles import MaterialProfile, PrinterProfile
from borewright.printing.standing import standings
from borewright.words import say

#: A bonded joint: tenon lengths tried, and slack on diameter and depth (mm; from memory).
TENONS_MM = (14.0, 12.0, 10.0, 8.0)
SLACK_MM = 0.25
FLOOR_SLACK_MM = 0.4
#: Air kept between the joint and the edge of any hole, seat or post (mm).
_KEEP_OFF_MM = 1.5
#: Spacing of the places tried (mm).
_STEP_MM = 0.5


class Split(Entity):
    """Where a part is cut (mm), and its bonded joint."""

    part: str
    station_mm: float
    tenon_length_mm: float
    tenon_diameter_mm: float
    socket_diameter_mm: float
    upper: str
    lower: str


@dataclass(frozen=True)
class SplitInstrument:
    """The instrument as printed, its survey, and what was cut."""

    instrument: Instrument
    survey: KeyworkSurvey | None
    splits: list[Split]


def propose_split(
    instrument: Instrument,
    part: Part,
    printer: PrinterProfile,
    material: MaterialProfile,
    survey: KeyworkSurvey | None = None,
) -> Split:
    """Where to cut a part so that both pieces fit, the joint clear of every hole and post.

    The joint's wall is shared so that tenon and socket are equally thick. Among the places
    that serve, the one nearest to the middle is taken.

    Raises PrintingError where no place serves, with what is in the way.
    """
    room = printer.build_mm[2] - 2 * printer.margin_mm
    top = part.tenon_top.length_mm if part.tenon_top else 0.0
    bottom = part.tenon_bottom.length_mm if part.tenon_bottom else 0.0
    rows = [row for row in (survey.rows if survey else []) if row.part == part.name]
    for length in TENONS_MM:
        choices = []
        for number in range(int(part.length_mm / _STEP_MM)):
            station = number * _STEP_MM
            upper = top + station + length
            lower = part.length_mm - station + bottom
            joint = _joint(part, station, length, material)
            if (
                joint
                and max(upper, lower) <= room
                and _is_free(instrument, part, rows, station, length, joint[1], material)
            ):
                choices.append((abs(station - part.length_mm / 2), station, joint))
        if choices:
            break
    else:
        raise PrintingError(
            say(
                "no place is found to cut it into two pieces of at most {room_mm:.0f} mm with a "
                "joint of {tenon_mm:g} mm or more, clear of holes and posts and with "
                "{wall_mm:g} mm of wall inside and outside",
                room_mm=room,
                tenon_mm=TENONS_MM[-1],
                wall_mm=material.least_tenon_wall_mm,
            ),
            place=(
                say("part '{part}'", part=part.name),
                say("printer '{printer}'", printer=printer.name),
            ),
            remedy=say("Choose a taller printer, or move a hole or post to make room."),
        )
    _, station, (tenon, socket) = min(choices)
    return Split(
        part=part.name,
        station_mm=station,
        tenon_length_mm=length,
        tenon_diameter_mm=tenon,
        socket_diameter_mm=socket,
        upper=f"{part.name} A",
        lower=f"{part.name} B",
    )


def _is_free(
    instrument: Instrument,
    part: Part,
    rows: list[SurveyRow],
    station: float,
    length: float,
    socket: float,
    material: MaterialProfile,
) -> bool:
    """Whether nothing is drilled through the joint, nor a seat sunk too near to its socket."""
    low, high = station, station + length + FLOOR_SLACK_MM
    for hole in part.holes:
        reach = hole.mouth_diameter_mm / 2 + _KEEP_OFF_MM
        if hole.pad:
            rim = part.outside_diameter_at(hole.station_mm) / 2 + hole.chimney_mm
            wall = rim - instrument.body.seat_relief_mm - socket / 2
            if wall < material.least_wall_mm:
                reach = max(reach, hole.pad.diameter_mm / 2 + _KEEP_OFF_MM)
        if low - reach < hole.station_mm < high + reach:
            return False
    for row in rows:
        reach = (row.thread_mm or 0.0) / 2 + _KEEP_OFF_MM
        if row.item is SurveyItem.POST and low - reach < row.station_mm < high + reach:
            return False
    if part.thumb_rest:
        half = part.thumb_rest.length_mm / 2
        if low - half < part.thumb_rest.station_mm < high + half:
            return False
    above = part.socket_top.depth_mm if part.socket_top else 0.0
    below = part.socket_bottom.depth_mm if part.socket_bottom else 0.0
    return above + _KEEP_OFF_MM < low and high < part.length_mm - below - _KEEP_OFF_MM


def _joint(
    part: Part, station: float, length: float, material: MaterialProfile
) -> tuple[float, float] | None:
    """Tenon and socket diameters (mm) that share the wall, or None where it is too thin."""
    low, high = station, station + length + FLOOR_SLACK_MM
    bores = [part.bore_diameter_at(s) for s in (low, high)]
    bores += [d for s, d in part.bore if low < s < high]
    outsides = [part.outside_diameter_at(s) for s in (low, high)]
    outsides += [d for s, d in part.outside if low < s < high]
    bore, outside = max(bores), min(outsides)
    middle = round((bore + outside) / 2, 1)
    tenon, socket = middle - SLACK_MM / 2, middle + SLACK_MM / 2
    walls = ((tenon - bore) / 2, (outside - socket) / 2)
    return (tenon, socket) if min(walls) >= material.least_tenon_wall_mm else None


def split_to_fit(
    instrument: Instrument,
    printer: PrinterProfile,
    material: MaterialProfile,
    survey: KeyworkSurvey | None = None,
) -> SplitInstrument:
    """The instrument with every part that does not fit cut in two; a fitting one unchanged.

    Bore, outside, holes and posts stay where they are along the instrument. PrintingError
    where a part is too wide, or cannot be cut.
    """
    splits = []
    for part in list(instrument.parts):
        best = standings(instrument, part, printer)[0]
        if best.fits:
            continue
        if best.across_mm > min(printer.build_mm[:2]) - 2 * printer.margin_mm:
            raise PrintingError(
                say(
                    "it is {across_mm:.0f} mm wide, more than the printer's bed",
                    across_mm=best.across_mm,
                ),
                place=(
                    say("part '{part}'", part=part.name),
                    say("printer '{printer}'", printer=printer.name),
                ),
                remedy=say("Choose a larger printer."),
            )
        split = propose_split(instrument, part, printer, material, survey)
        instrument, survey = apply_split(instrument, survey, split)
        splits.append(split)
    return SplitInstrument(instrument, survey, splits)


def apply_split(
    instrument: Instrument, survey: KeyworkSurvey | None, split: Split
) -> tuple[Instrument, KeyworkSurvey | None]:
    """Instrument and survey with one part replaced by its two pieces."""
    parts: list[Part] = []
    for part in instrument.parts:
        parts += _pieces(part, split) if part.name == split.part else [part]
    made = Instrument.model_validate(
        {**instrument.model_dump(), "parts": [part.model_dump() for part in parts]}
    )
    if survey is None:
        return made, None
    rows = []
    for row in survey.rows:
        if row.part != split.part:
            rows.append(row)
        elif row.station_mm < split.station_mm:
            rows.append(row.model_copy(update={"part": split.upper}))
        else:
            station = round(row.station_mm - split.station_mm, 6)
            rows.append(row.model_copy(update={"part": split.lower, "station_mm": station}))
    return made, survey.model_copy(update={"rows": rows})


def _pieces(part: Part, split: Split) -> list[Part]:
    cut = split.station_mm
    joint = Tenon(
        length_mm=split.tenon_length_mm,
        diameter_mm=split.tenon_diameter_mm,
        clearance=Clearance.SLIP,
    )
    socket = Socket(
        depth_mm=split.tenon_length_mm + FLOOR_SLACK_MM, diameter_mm=split.socket_diameter_mm
    )
    rest = part.thumb_rest
    above = rest is not None and rest.station_mm < cut
    upper = part.model_dump() | {
        "name": split.upper,
        "length_mm": cut,
        # The bore goes on through the tenon, as it does in the whole part.
        "bore": _stretch(part, cut + split.tenon_length_mm, bore=True),
        "outside": _stretch(part, cut, bore=False),
        "tenon_bottom": joint,
        "socket_bottom": None,
        "thumb_rest": rest if above else None,
        "holes": [hole for hole in part.holes if hole.station_mm < cut],
    }
    lower = part.model_dump() | {
        "name": split.lower,
        "length_mm": round(part.length_mm - cut, 6),
        "bore": _below(part.bore, cut, part.bore_diameter_at(cut)),
        "outside": _below(part.outside, cut, part.outside_diameter_at(cut)),
        "tenon_top": None,
        "socket_top": socket,
        "thumb_rest": rest.model_copy(update={"station_mm": rest.station_mm - cut})
        if rest is not None and not above
        else None,
        "holes": [
            hole.model_copy(update={"station_mm": round(hole.station_mm - cut, 6)})
            for hole in part.holes
            if hole.station_mm >= cut
        ],
    }
    return [Part.model_validate(_dumped(piece)) for piece in (upper, lower)]


def _dumped(piece: dict[str, object]) -> dict[str, object]:
    return {
        key: value.model_dump()
        if isinstance(value, Entity)
        else [one.model_dump() if isinstance(one, Entity) else one for one in value]
        if isinstance(value, list)
        else value
        for key, value in piece.items()
    }


def _stretch(part: Part, end: float, *, bore: bool) -> list[tuple[float, float]]:
    profile = part.bore if bore else part.outside
    at = part.bore_diameter_at if bore else part.outside_diameter_at
    kept = [(station, diameter) for station, diameter in profile if station < end]
    return [*kept, (end, at(end, -1))]


def _below(
    profile: list[tuple[float, float]], cut: float, here: float
) -> list[tuple[float, float]]:
    kept = [(round(s - cut, 6), diameter) for s, diameter in profile if s > cut]
    return [(0.0, here), *kept]
