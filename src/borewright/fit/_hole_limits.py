"""Limits of one hole: the process, and the cup or ring that the survey found over it."""

from __future__ import annotations

from borewright.model import Cover, Finding, FitWishes, Part, SurveyItem, SurveyRow, ToneHole

#: Room for arithmetic (mm, degrees): a value may lie on its limit.
_EXACT = 1e-6
#: How far a drawing may differ from the survey before it is another key (mm, degrees).
_SAME_MM, _SAME_DEG = 0.05, 0.5
#: A ring closer than this (mm on the diameter) round its chimney may stick; from memory.
_RING_PLAY_MM = 0.3
#: A pad lifts a third of its hole's diameter at least (common practice).
_LIFT_TO_DIAMETER = 3


def _finding(
    part: Part, hole: ToneHole, what: str, remedy: str, severity: str = "fault"
) -> Finding:
    return Finding(
        severity=severity, place=f"{part.name}, hole {hole.name}", what=what, remedy=remedy
    )


def check_process(wishes: FitWishes, part: Part, hole: ToneHole) -> list[Finding]:
    """Sizes that cannot be printed, covered by a finger or sealed by a pad."""
    found = []
    diameter = hole.diameter_mm
    if diameter < wishes.smallest_hole_mm - _EXACT:
        found.append(
            _finding(
                part,
                hole,
                f"the hole is {diameter:.2f} mm wide; the smallest that can be made is "
                f"{wishes.smallest_hole_mm:g} mm",
                "Make it larger and move it down to keep its note, or lower fit.smallest_hole_mm "
                "if your printer and drill can do it.",
            )
        )
    largest, what = None, ""
    if hole.cover is not Cover.PAD:
        largest, what = wishes.largest_finger_hole_mm, "a finger covers"
    elif hole.into_bore_mm:
        largest, what = wishes.largest_vent_mm, "a lined vent may have"
    if largest is not None and diameter > largest + _EXACT:
        found.append(
            _finding(
                part,
                hole,
                f"the hole is {diameter:.2f} mm wide; {what} {largest:g} mm at most",
                "Make it smaller and move it up to keep its note.",
            )
        )
    lowest, highest = wishes.lowest_chimney_mm, wishes.highest_chimney_mm
    if not lowest - _EXACT <= hole.chimney_mm <= highest + _EXACT:
        found.append(
            _finding(
                part,
                hole,
                f"the rim stands {hole.chimney_mm:+.2f} mm from the body's outside; "
                f"{lowest:+g} to {highest:+g} mm are allowed",
                "Change chimney_mm, and the hole's diameter to keep its note.",
            )
        )
    if hole.pad:
        found += _check_seal(wishes, part, hole, hole.pad.diameter_mm, "its pad")
        least = diameter / _LIFT_TO_DIAMETER
        if hole.pad.lift_mm < least - _EXACT:
            found.append(
                _finding(
                    part,
                    hole,
                    f"the pad lifts {hole.pad.lift_mm:g} mm; a third of the hole's "
                    f"{diameter:.2f} mm is {least:.2f} mm",
                    "Let the key open further, or make the hole smaller: a low pad flattens and "
                    "dulls the note.",
                    "notice",
                )
            )
    return found


def _check_seal(
    wishes: FitWishes, part: Part, hole: ToneHole, pad_mm: float, whose: str
) -> list[Finding]:
    overlap = (pad_mm - hole.diameter_mm) / 2
    if overlap >= wishes.pad_overlap_mm - _EXACT:
        return []
    return [
        _finding(
            part,
            hole,
            f"{whose} of {pad_mm:g} mm reaches {overlap:.2f} mm beyond the hole's edge; "
            f"it needs {wishes.pad_overlap_mm:g} mm all round to seal",
            f"Make the hole at most {pad_mm - 2 * wishes.pad_overlap_mm:.2f} mm wide, "
            "or ask for a larger pad cup.",
        )
    ]


def check_against_row(
    wishes: FitWishes, part: Part, hole: ToneHole, row: SurveyRow
) -> list[Finding]:
    """Differences between a hole and the cup or ring that was measured for it."""
    key = f"{row.item} '{row.name}'"
    wanted = Cover.PAD if row.item is SurveyItem.CUP else Cover.RING
    if hole.cover is not wanted:
        return [
            _finding(
                part,
                hole,
                f"the hole is covered by a {hole.cover}, but the survey has the {key} over it",
                f"Set cover = '{wanted}' here, or correct the survey.",
            )
        ]
    found = _check_place(part, hole, row, key)
    if row.item is SurveyItem.CUP:
        found += _check_pad(wishes, part, hole, row, key)
    else:
        found += _check_ring(wishes, part, hole, row, key)
    return found


def _check_place(part: Part, hole: ToneHole, row: SurveyRow, key: str) -> list[Finding]:
    found = []
    off = hole.station_mm - row.station_mm
    room, way = (row.down_mm, "down") if off > 0 else (row.up_mm, "up")
    if abs(off) > room + _EXACT:
        found.append(
            _finding(
                part,
                hole,
                f"the hole's centre is {abs(off):.2f} mm {way} from the {key} at "
                f"{row.station_mm:g} mm; the key can be moved {room:g} mm that way",
                f"Move the hole to between {row.station_mm - row.up_mm:g} and "
                f"{row.station_mm + row.down_mm:g} mm and mend its note by diameter or chimney, "
                "or ask for the key further along.",
            )
        )
    turn = abs(hole.bearing_deg - row.bearing_deg) % 360
    turn = min(turn, 360 - turn)
    if turn > _SAME_DEG:
        found.append(
            _finding(
                part,
                hole,
                f"the hole points {turn:.1f}° beside the {key}; {_SAME_DEG:g}° is allowed",
                f"Set bearing_deg = {row.bearing_deg:g}.",
            )
        )
    return found


def _check_pad(
    wishes: FitWishes, part: Part, hole: ToneHole, row: SurveyRow, key: str
) -> list[Finding]:
    found = []
    pad = hole.pad
    if pad is None or row.pad_diameter_mm is None or row.lift_mm is None:
        return []
    for word, field, drawn, measured in (
        ("pad is", "diameter_mm", pad.diameter_mm, row.pad_diameter_mm),
        ("pad lifts", "lift_mm", pad.lift_mm, row.lift_mm),
    ):
        if abs(drawn - measured) > _SAME_MM + _EXACT:
            found.append(
                _finding(
                    part,
                    hole,
                    f"the drawn {word} {drawn:g} mm, that of the {key} {measured:g} mm; "
                    f"{_SAME_MM:g} mm of difference is allowed",
                    f"Set the pad's {field} = {measured:g}, or measure the key again.",
                )
            )
    if pad.rest is not row.rest:
        found.append(
            _finding(
                part,
                hole,
                f"the pad is drawn resting {pad.rest}, but the {key} rests {row.rest}",
                f"Set the pad's rest = '{row.rest}' and look at the fingerings again.",
            )
        )
    if row.pad_diameter_mm < pad.diameter_mm - _EXACT:
        found += _check_seal(wishes, part, hole, row.pad_diameter_mm, f"the {key}")
    return found


def _check_ring(
    wishes: FitWishes, part: Part, hole: ToneHole, row: SurveyRow, key: str
) -> list[Finding]:
    if row.ring_inside_mm is None:
        return []
    chimney = hole.diameter_mm + 2 * wishes.chimney_wall_mm
    if chimney > row.ring_inside_mm + _EXACT:
        return [
            _finding(
                part,
                hole,
                f"the hole with its chimney is {chimney:.2f} mm across, the inside of the {key} "
                f"{row.ring_inside_mm:g} mm",
                f"Make the hole at most {row.ring_inside_mm - 2 * wishes.chimney_wall_mm:.2f} mm "
                "wide, or ask for a larger ring.",
            )
        ]
    if chimney > row.ring_inside_mm - _RING_PLAY_MM + _EXACT:
        return [
            _finding(
                part,
                hole,
                f"the chimney of {chimney:.2f} mm leaves {row.ring_inside_mm - chimney:.2f} mm "
                f"of play in the {key} ({row.ring_inside_mm:g} mm); {_RING_PLAY_MM:g} mm is usual",
                "Turn the chimney a little thinner, or see that the ring does not stick.",
                "notice",
            )
        ]
    return []
