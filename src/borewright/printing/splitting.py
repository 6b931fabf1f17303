"""Parts too tall for a printer, cut into pieces with bonded tenons; keywork rows go along."""

from __future__ import annotations

from dataclasses import dataclass, field

from borewright.errors import PrintingError
from borewright.model import (
    Clearance,
    Finding,
    Instrument,
    KeyworkSurvey,
    Part,
    Severity,
    Socket,
    SurveyRow,
    Tenon,
)
from borewright.model.base import Entity
from borewright.printing.joint_places import (
    FLOOR_SLACK_MM,
    KEEP_OFF_MM,
    JointPlace,
    joint_places,
)
from borewright.printing.profiles import MaterialProfile, PrinterProfile
from borewright.printing.standing import standings
from borewright.words import Message, joined, say

#: A bonded joint: tenon lengths tried, longest first (mm; from memory).
TENONS_MM = (14.0, 12.0, 10.0, 8.0)
#: Shorter ones, only to say how much room is missing.
_TOO_SHORT_MM = tuple(length / 2 for length in range(15, 3, -1))
#: A part is cut into so many pieces at most.
MOST_PIECES = 4


class Split(Entity):
    """One cut of a part, at a station (mm from the whole part's top shoulder), and its joint.

    ``upper`` and ``lower`` are the pieces beside it. A part in three pieces has two of these.
    """

    part: str
    station_mm: float
    tenon_length_mm: float
    tenon_diameter_mm: float
    socket_diameter_mm: float
    upper: str
    lower: str


@dataclass(frozen=True)
class SplitInstrument:
    """The instrument as printed, its survey, what was cut, and what this printer cannot make.

    ``too_large`` has a fault for every part left whole because it neither fits nor can be cut;
    ``left_out`` are their names.
    """

    instrument: Instrument
    survey: KeyworkSurvey | None
    splits: list[Split]
    too_large: list[Finding] = field(default_factory=list)
    left_out: list[str] = field(default_factory=list)


def propose_splits(
    instrument: Instrument,
    part: Part,
    printer: PrinterProfile,
    material: MaterialProfile,
    survey: KeyworkSurvey | None = None,
) -> list[Split]:
    """Where to cut a part so that all pieces fit, every joint clear of every hole and post.

    As few pieces as will do, then the longest tenon, then the tallest piece as short as it can
    be. A joint's wall is shared so that tenon and socket are equally thick.

    Raises PrintingError where nothing serves, with how much room is missing and where.
    """
    rows = [row for row in (survey.rows if survey else []) if row.part == part.name]
    places = {
        length: joint_places(instrument, part, rows, length, material) for length in TENONS_MM
    }
    room = printer.build_mm[2] - 2 * printer.margin_mm
    for cuts in range(1, MOST_PIECES):
        for length in TENONS_MM:
            found = _most_even(part, places[length], cuts, length, room)
            if found:
                return _splits(part, found, length)
    raise PrintingError(
        say(
            "no place is found to cut it into pieces of at most {room_mm:.0f} mm with joints "
            "of {tenon_mm:g} mm or more, clear of holes and posts and with "
            "{wall_mm:g} mm of wall inside and outside",
            room_mm=room,
            tenon_mm=TENONS_MM[-1],
            wall_mm=material.least_tenon_wall_mm,
        ),
        place=_place(part, printer),
        remedy=joined(_remedies(instrument, part, rows, material, printer)),
    )


def _remedies(
    instrument: Instrument,
    part: Part,
    rows: list[SurveyRow],
    material: MaterialProfile,
    printer: PrinterProfile,
) -> list[Message]:
    """What to change: a printer that takes the part whole, and the place that nearly serves."""
    tall = standings(instrument, part, printer)[0].height_mm + 2 * printer.margin_mm
    said = [say("Choose a printer that is {tall_mm:.0f} mm tall or more.", tall_mm=tall)]
    room = printer.build_mm[2] - 2 * printer.margin_mm
    for length in _TOO_SHORT_MM:
        near = _most_even(
            part, joint_places(instrument, part, rows, length, material), 1, length, room
        )
        if near:
            said.append(
                say(
                    "Or make room for a joint at {station_mm:.1f} mm: move a hole or post beside "
                    "it by {missing_mm:.1f} mm.",
                    station_mm=near[0].station_mm,
                    missing_mm=TENONS_MM[-1] - length,
                )
            )
            return said
    said.append(say("Or move a hole or post, or thicken the wall, to make room for a joint."))
    return said


def _most_even(
    part: Part, places: list[JointPlace], cuts: int, length: float, room: float
) -> list[JointPlace] | None:
    """So many places that every piece fits, the tallest piece as short as can be; or None."""
    top = part.tenon_top.length_mm if part.tenon_top else 0.0
    bottom = part.tenon_bottom.length_mm if part.tenon_bottom else 0.0
    # For every last place so far: how tall the tallest piece above it is, and the way there.
    ways = [(top + one.station_mm + length, [one]) for one in places]
    for _ in range(cuts - 1):
        ways = [way for way in ways if way[0] <= room]
        further = []
        for one in places:
            reached = [
                (max(tallest, one.station_mm - way[-1].station_mm + length), [*way, one])
                for tallest, way in ways
                if way[-1].station_mm + length + FLOOR_SLACK_MM + KEEP_OFF_MM <= one.station_mm
            ]
            if reached:
                further.append(min(reached, key=lambda way: way[0]))
        ways = further
    whole = [
        (max(tallest, part.length_mm - way[-1].station_mm + bottom), way) for tallest, way in ways
    ]
    fitting = [each for each in whole if each[0] <= room]
    return min(fitting, key=lambda way: way[0])[1] if fitting else None


def _splits(part: Part, places: list[JointPlace], length: float) -> list[Split]:
    pieces = [f"{part.name} {letter}" for letter in "ABCDEFGH"[: len(places) + 1]]
    return [
        Split(
            part=part.name,
            station_mm=place.station_mm,
            tenon_length_mm=length,
            tenon_diameter_mm=place.tenon_mm,
            socket_diameter_mm=place.socket_mm,
            upper=upper,
            lower=lower,
        )
        for place, upper, lower in zip(places, pieces, pieces[1:], strict=False)
    ]


def _place(part: Part, printer: PrinterProfile) -> tuple[Message, Message]:
    return (
        say("part '{part}'", part=part.name),
        say("printer '{printer}'", printer=printer.name),
    )


def split_to_fit(
    instrument: Instrument,
    printer: PrinterProfile,
    material: MaterialProfile,
    survey: KeyworkSurvey | None = None,
) -> SplitInstrument:
    """The instrument with every part that does not fit cut into pieces; a fitting one unchanged.

    Bore, outside, holes and posts stay where they are along the instrument. A part that is too
    wide or cannot be cut stays whole and is told of, so that the others can be made all the
    same; PrintingError where no part can.
    """
    splits: list[Split] = []
    refused: dict[str, PrintingError] = {}
    whole = instrument
    for part in whole.parts:
        if standings(instrument, part, printer)[0].fits:
            continue
        try:
            cut = _cut(instrument, part, printer, material, survey)
        except PrintingError as error:
            refused[part.name] = error
            continue
        instrument, survey = apply_splits(instrument, survey, cut)
        splits += cut
    if len(refused) == len(whole.parts):
        raise next(iter(refused.values()))
    too_large = [
        Finding(
            severity=Severity.FAULT,
            place=error.place,
            what=say("no file is written for it: {why}", why=error.cause),
            remedy=joined([error.remedy]),
        )
        for error in refused.values()
    ]
    return SplitInstrument(instrument, survey, splits, too_large, list(refused))


def _cut(
    instrument: Instrument,
    part: Part,
    printer: PrinterProfile,
    material: MaterialProfile,
    survey: KeyworkSurvey | None,
) -> list[Split]:
    across = standings(instrument, part, printer)[0].across_mm
    if across > min(printer.build_mm[:2]) - 2 * printer.margin_mm:
        raise PrintingError(
            say("it is {across_mm:.0f} mm wide, more than the printer's bed", across_mm=across),
            place=_place(part, printer),
            remedy=say("Choose a larger printer."),
        )
    return propose_splits(instrument, part, printer, material, survey)


def apply_splits(
    instrument: Instrument, survey: KeyworkSurvey | None, splits: list[Split]
) -> tuple[Instrument, KeyworkSurvey | None]:
    """Instrument and survey with one part replaced by its pieces; its cuts from the top down."""
    rest, above = splits[0].part, 0.0
    for split in splits:
        here = {"part": rest, "station_mm": round(split.station_mm - above, 6)}
        instrument, survey = _apply(instrument, survey, split.model_copy(update=here))
        rest, above = split.lower, split.station_mm
    return instrument, survey


def _apply(
    instrument: Instrument, survey: KeyworkSurvey | None, split: Split
) -> tuple[Instrument, KeyworkSurvey | None]:
    """Instrument and survey with one part, or the rest of one, cut in two."""
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
