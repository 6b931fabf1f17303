"""Limits of one hole: the process, and the cup or ring that the survey found over it."""

from __future__ import annotations

from borewright.model import Cover, Finding, FitWishes, Part, SurveyItem, SurveyRow, ToneHole
from borewright.model.kinds import Severity
from borewright.words import Said, say

#: Room for arithmetic (mm, degrees): a value may lie on its limit.
_EXACT = 1e-6
#: How far a drawing may differ from the survey before it is another key (mm, degrees).
_SAME_MM, _SAME_DEG = 0.05, 0.5
#: A ring closer than this (mm on the diameter) round its chimney may stick; from memory.
_RING_PLAY_MM = 0.3
#: A pad lifts a third of its hole's diameter at least (common practice).
_LIFT_TO_DIAMETER = 3


def _finding(
    part: Part, hole: ToneHole, what: Said, remedy: Said, severity: Severity = Severity.FAULT
) -> Finding:
    place = (part.name, say("hole {hole}", hole=hole.name))
    return Finding(severity=severity, place=place, what=what, remedy=remedy)


def check_process(wishes: FitWishes, part: Part, hole: ToneHole) -> list[Finding]:
    """Sizes that cannot be printed, covered by a finger or sealed by a pad."""
    found = []
    diameter = hole.diameter_mm
    if diameter < wishes.smallest_hole_mm - _EXACT:
        found.append(
            _finding(
                part,
                hole,
                say(
                    "the hole is {wide_mm:.2f} mm wide; the smallest that can be made is "
                    "{least_mm:g} mm",
                    wide_mm=diameter,
                    least_mm=wishes.smallest_hole_mm,
                ),
                say(
                    "Make it larger and move it down to keep its note, or lower "
                    "fit.smallest_hole_mm if your printer and drill can do it."
                ),
            )
        )
    smaller = say("Make it smaller and move it up to keep its note.")
    if hole.cover is not Cover.PAD:
        if diameter > wishes.largest_finger_hole_mm + _EXACT:
            what = say(
                "the hole is {wide_mm:.2f} mm wide; a finger covers {most_mm:g} mm at most",
                wide_mm=diameter,
                most_mm=wishes.largest_finger_hole_mm,
            )
            found.append(_finding(part, hole, what, smaller))
    elif hole.into_bore_mm and diameter > wishes.largest_vent_mm + _EXACT:
        what = say(
            "the hole is {wide_mm:.2f} mm wide; a lined vent may have {most_mm:g} mm at most",
            wide_mm=diameter,
            most_mm=wishes.largest_vent_mm,
        )
        found.append(_finding(part, hole, what, smaller))
    lowest, highest = wishes.lowest_chimney_mm, wishes.highest_chimney_mm
    if not lowest - _EXACT <= hole.chimney_mm <= highest + _EXACT:
        found.append(
            _finding(
                part,
                hole,
                say(
                    "the rim stands {rim_mm:+.2f} mm from the body's outside; "
                    "{lowest_mm:+g} to {highest_mm:+g} mm are allowed",
                    rim_mm=hole.chimney_mm,
                    lowest_mm=lowest,
                    highest_mm=highest,
                ),
                say("Change chimney_mm, and the hole's diameter to keep its note."),
            )
        )
    if hole.pad:
        found += _check_seal(wishes, part, hole, hole.pad.diameter_mm, say("its pad"))
        least = diameter / _LIFT_TO_DIAMETER
        if hole.pad.lift_mm < least - _EXACT:
            found.append(
                _finding(
                    part,
                    hole,
                    say(
                        "the pad lifts {lift_mm:g} mm; a third of the hole's {wide_mm:.2f} mm is "
                        "{least_mm:.2f} mm",
                        lift_mm=hole.pad.lift_mm,
                        wide_mm=diameter,
                        least_mm=least,
                    ),
                    say(
                        "Let the key open further, or make the hole smaller: a low pad flattens "
                        "and dulls the note."
                    ),
                    Severity.NOTICE,
                )
            )
    return found


def _check_seal(
    wishes: FitWishes, part: Part, hole: ToneHole, pad_mm: float, whose: Said
) -> list[Finding]:
    overlap = (pad_mm - hole.diameter_mm) / 2
    if overlap >= wishes.pad_overlap_mm - _EXACT:
        return []
    return [
        _finding(
            part,
            hole,
            say(
                "{whose} of {pad_mm:g} mm reaches {overlap_mm:.2f} mm beyond the hole's edge; "
                "it needs {needed_mm:g} mm all round to seal",
                whose=whose,
                pad_mm=pad_mm,
                overlap_mm=overlap,
                needed_mm=wishes.pad_overlap_mm,
            ),
            say(
                "Make the hole at most {most_mm:.2f} mm wide, or ask for a larger pad cup.",
                most_mm=pad_mm - 2 * wishes.pad_overlap_mm,
            ),
        )
    ]


def check_against_row(
    wishes: FitWishes, part: Part, hole: ToneHole, row: SurveyRow
) -> list[Finding]:
    """Differences between a hole and the cup or ring that was measured for it."""
    key = say("{item} '{name}'", item=row.item, name=row.name)
    wanted = Cover.PAD if row.item is SurveyItem.CUP else Cover.RING
    if hole.cover is not wanted:
        return [
            _finding(
                part,
                hole,
                say(
                    "the hole is covered by a {cover}, but the survey has the {key} over it",
                    cover=hole.cover,
                    key=key,
                ),
                say("Set cover = '{cover}' here, or correct the survey.", cover=wanted.value),
            )
        ]
    found = _check_place(part, hole, row, key)
    if row.item is SurveyItem.CUP:
        found += _check_pad(wishes, part, hole, row, key)
    else:
        found += _check_ring(wishes, part, hole, row, key)
    return found


def _check_place(part: Part, hole: ToneHole, row: SurveyRow, key: Said) -> list[Finding]:
    found = []
    off = hole.station_mm - row.station_mm
    room = row.down_mm if off > 0 else row.up_mm
    if abs(off) > room + _EXACT:
        if off > 0:
            what = say(
                "the hole's centre is {off_mm:.2f} mm down from the {key} at {station_mm:g} mm; "
                "the key can be moved {room_mm:g} mm that way",
                off_mm=abs(off),
                key=key,
                station_mm=row.station_mm,
                room_mm=room,
            )
        else:
            what = say(
                "the hole's centre is {off_mm:.2f} mm up from the {key} at {station_mm:g} mm; "
                "the key can be moved {room_mm:g} mm that way",
                off_mm=abs(off),
                key=key,
                station_mm=row.station_mm,
                room_mm=room,
            )
        remedy = say(
            "Move the hole to between {from_mm:g} and {to_mm:g} mm and mend its note by diameter "
            "or chimney, or ask for the key further along.",
            from_mm=row.station_mm - row.up_mm,
            to_mm=row.station_mm + row.down_mm,
        )
        found.append(_finding(part, hole, what, remedy))
    turn = abs(hole.bearing_deg - row.bearing_deg) % 360
    turn = min(turn, 360 - turn)
    if turn > _SAME_DEG:
        found.append(
            _finding(
                part,
                hole,
                say(
                    "the hole points {turn_deg:.1f}° beside the {key}; {same_deg:g}° is allowed",
                    turn_deg=turn,
                    key=key,
                    same_deg=_SAME_DEG,
                ),
                say("Set bearing_deg = {bearing_deg:g}.", bearing_deg=row.bearing_deg),
            )
        )
    return found


def _check_pad(
    wishes: FitWishes, part: Part, hole: ToneHole, row: SurveyRow, key: Said
) -> list[Finding]:
    found = []
    pad = hole.pad
    if pad is None or row.pad_diameter_mm is None or row.lift_mm is None:
        return []
    if abs(pad.diameter_mm - row.pad_diameter_mm) > _SAME_MM + _EXACT:
        what = say(
            "the drawn pad is {drawn_mm:g} mm, that of the {key} {measured_mm:g} mm; {same_mm:g} "
            "mm of difference is allowed",
            drawn_mm=pad.diameter_mm,
            key=key,
            measured_mm=row.pad_diameter_mm,
            same_mm=_SAME_MM,
        )
        remedy = say(
            "Set the pad's diameter_mm = {measured_mm:g}, or measure the key again.",
            measured_mm=row.pad_diameter_mm,
        )
        found.append(_finding(part, hole, what, remedy))
    if abs(pad.lift_mm - row.lift_mm) > _SAME_MM + _EXACT:
        what = say(
            "the drawn pad lifts {drawn_mm:g} mm, that of the {key} {measured_mm:g} mm; "
            "{same_mm:g} mm of difference is allowed",
            drawn_mm=pad.lift_mm,
            key=key,
            measured_mm=row.lift_mm,
            same_mm=_SAME_MM,
        )
        remedy = say(
            "Set the pad's lift_mm = {measured_mm:g}, or measure the key again.",
            measured_mm=row.lift_mm,
        )
        found.append(_finding(part, hole, what, remedy))
    if pad.rest is not row.rest:
        found.append(
            _finding(
                part,
                hole,
                say(
                    "the pad is drawn resting {drawn}, but the {key} rests {measured}",
                    drawn=pad.rest,
                    key=key,
                    measured=row.rest or pad.rest,
                ),
                say(
                    "Set the pad's rest = '{rest}' and look at the fingerings again.",
                    rest=(row.rest or pad.rest).value,
                ),
            )
        )
    if row.pad_diameter_mm < pad.diameter_mm - _EXACT:
        found += _check_seal(wishes, part, hole, row.pad_diameter_mm, say("the {key}", key=key))
    return found


def _check_ring(
    wishes: FitWishes, part: Part, hole: ToneHole, row: SurveyRow, key: Said
) -> list[Finding]:
    if row.ring_inside_mm is None:
        return []
    chimney = hole.diameter_mm + 2 * wishes.chimney_wall_mm
    if chimney > row.ring_inside_mm + _EXACT:
        return [
            _finding(
                part,
                hole,
                say(
                    "the hole with its chimney is {chimney_mm:.2f} mm across, the inside of the "
                    "{key} {ring_mm:g} mm",
                    chimney_mm=chimney,
                    key=key,
                    ring_mm=row.ring_inside_mm,
                ),
                say(
                    "Make the hole at most {most_mm:.2f} mm wide, or ask for a larger ring.",
                    most_mm=row.ring_inside_mm - 2 * wishes.chimney_wall_mm,
                ),
            )
        ]
    if chimney > row.ring_inside_mm - _RING_PLAY_MM + _EXACT:
        return [
            _finding(
                part,
                hole,
                say(
                    "the chimney of {chimney_mm:.2f} mm leaves {play_mm:.2f} mm of play in the "
                    "{key} ({ring_mm:g} mm); {usual_mm:g} mm is usual",
                    chimney_mm=chimney,
                    play_mm=row.ring_inside_mm - chimney,
                    key=key,
                    ring_mm=row.ring_inside_mm,
                    usual_mm=_RING_PLAY_MM,
                ),
                say("Turn the chimney a little thinner, or see that the ring does not stick."),
                Severity.NOTICE,
            )
        ]
    return []
