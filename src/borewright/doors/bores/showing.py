"""Bores and families as lines of plain text."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

from borewright.doors.columns import columns, signed
from borewright.doors.showing import finding_lines, summary_words
from borewright.model import BorePerturbation
from borewright.model.bores import OverlayTable, SmoothedBore
from borewright.model.bores.families import FamilyTable, Member
from borewright.model.results.campaign import Interval
from borewright.tasks.bores.blending import Blended
from borewright.tasks.bores.measuring import SmoothedParts


def smoothed_lines(done: SmoothedParts) -> Iterator[str]:
    """Lengths, breaks and notices of every smoothed part."""
    for part in done.parts:
        yield from _part_lines(part)
        yield ""
    if done.output:
        yield f"saved   {done.output}"
    yield from _picture_lines(done.pictures)


def _part_lines(part: SmoothedBore) -> Iterator[str]:
    yield f"{part.name}: {len(part.readings)} readings, scatter {part.scatter_mm:.3f} mm"
    yield "mm, with 95 % intervals"
    rows = [
        (
            segment.kind.value,
            f"{segment.from_mm:.1f}",
            f"{segment.to_mm:.1f}",
            _within(segment.top_diameter_mm, 3),
            _within(segment.bottom_diameter_mm, 3),
        )
        for segment in part.segments
    ]
    headings = ("length of bore", "from", "to", "diameter at its top", "at its bottom")
    yield from columns(headings, rows, right=(1, 2))
    for each in part.breaks:
        step = f", by {_within(each.step_mm, 3)}" if each.step_mm else ""
        yield f"  {each.kind.value} at {_within(each.station_mm, 1)}{step}"
    for notice in part.notices:
        yield f"  {notice}"


def _within(interval: Interval, digits: int) -> str:
    low, high = f"{interval.low:.{digits}f}", f"{interval.high:.{digits}f}"
    return f"{interval.value:.{digits}f} ({low} to {high})"


def overlay_lines(table: OverlayTable, pictures: Sequence[Path]) -> Iterator[str]:
    """Deviations at common stations."""
    first, *others = table.bores
    yield f"diameter of {first}, and how much wider the others are (mm)"
    rows = [
        (
            f"{row.station_mm:.1f}",
            f"{row.diameter_mm:.2f}",
            *(signed(each, 3) for each in row.wider_mm),
        )
        for row in table.rows
    ]
    rows.append(("mean", "", *(signed(each, 3) for each in table.mean_wider_mm)))
    rows.append(("most", "", *(signed(each, 3) for each in table.most_wider_mm)))
    yield from columns(("station", first, *others), rows, right=range(len(table.bores) + 1))
    yield from _picture_lines(pictures)


def blend_lines(done: Blended) -> Iterator[str]:
    """Features, tuning, twelfths, the holes that pay, character, files."""
    result = done.result
    yield f"{result.first} and {result.second}, blended"
    shares = result.fractions.model_dump()
    yield "shares of the second: " + ", ".join(
        f"{name.replace('_', ' ')} {share:g}" for name, share in shares.items()
    )
    yield ""
    rows = [
        (row.feature, f"{row.first:.2f}", f"{row.second:.2f}", f"{row.blend:.2f}")
        for row in result.features
    ]
    yield from columns(("feature, mm", "first", "second", "blend"), rows, right=(1, 2, 3))
    yield ""
    tables = [
        ("first", result.first_table),
        ("second", result.second_table),
        ("blended", result.blended),
        *([("holes fitted", result.refitted)] if result.refitted else []),
    ]
    for name, table in tables:
        yield f"{name.ljust(13)} {summary_words(table.summary)}"
    yield from _twelfth_lines(done)
    if result.paying:
        yield ""
        yield "holes that pay, the dearest first (mm moved by the fit)"
        rows = [
            (
                each.hole,
                each.part,
                ", ".join(f"{move.measure} {signed(move.by_mm, 2)}" for move in each.moves),
                each.limit,
            )
            for each in result.paying
        ]
        yield from columns(("hole", "part", "moved", "limit"), rows)
    for note in result.out_of_reach:
        yield f"out of reach: {note.fingering}, {signed(note.cents)} cents. {note.advice}"
    yield from finding_lines(result.findings)
    yield from map(str, result.notices)
    if done.character:
        yield ""
        yield "character, the blend against the first"
        yield from map(str, done.character.sentences)
    if done.output:
        yield f"saved   {done.output}"
    yield from _picture_lines(done.pictures)


def _twelfth_lines(done: Blended) -> Iterator[str]:
    result = done.result
    tables = [result.first_table, result.second_table, result.refitted or result.blended]
    columns_of = [{each.low: each.stretch_cents for each in table.twelfths} for table in tables]
    rows = [
        (low, *(signed(column[low]) if low in column else "-" for column in columns_of))
        for low in columns_of[0]
    ]
    if rows:
        yield ""
        yield "twelfths, cents wide"
        yield from columns(("low note", "first", "second", "blend"), rows, right=(1, 2, 3))


def perturbation_lines(curves: BorePerturbation, pictures: Sequence[Path]) -> Iterator[str]:
    """Mean cents of every register at every station."""
    way = "wider" if curves.widening_mm > 0 else "narrower"
    yield (
        f"{curves.instrument}: cents where the bore is {abs(curves.widening_mm):g} mm {way} at "
        "one station, mean of a register"
    )
    registers = list(dict.fromkeys(curves.registers))
    rows = []
    for number, station in enumerate(curves.stations):
        means = []
        for register in registers:
            own = [
                row[number]
                for row, other in zip(curves.cents, curves.registers, strict=True)
                if other == register
            ]
            means.append(signed(sum(own) / len(own), 2))
        rows.append((station.part, f"{station.station_mm:.1f}", *means))
    right = range(1, 2 + len(registers))
    yield from columns(("part", "station", *registers), rows, right=right)
    yield "every note is in --json"
    yield from _picture_lines(pictures)


def family_lines(table: FamilyTable, pictures: Sequence[Path]) -> Iterator[str]:
    """The chosen members, what each does, and the reach of the family."""
    yield f"{table.instrument}: {len(table.members)} {table.kind}s against {table.in_place.name}"
    yield (
        f"{table.by} from {signed(table.reach_cents[0])} to {signed(table.reach_cents[1])} cents; "
        f"wanted {signed(table.low_cents)} to {signed(table.high_cents)}"
    )
    yield ""
    registers = list(table.in_place.by_register)
    headings = ("chosen", "wanted", "pitch", *registers, "twelfths", "rms")
    rows = [
        (
            table.members[each.member].name,
            signed(each.wanted_cents),
            *_figures(table.members[each.member], registers),
        )
        for each in table.chosen
    ]
    rows.append(("in place", "", *_figures(table.in_place, registers)))
    yield from columns(headings, rows, right=range(1, len(headings)))
    yield "cents against the one in place; rms about the instrument's own mean pitch"
    for each in table.chosen:
        if each.sentences:
            yield ""
            yield f"character of {table.members[each.member].name}"
            yield from each.sentences
    yield from table.notices
    yield "all members are in --json"
    yield from _picture_lines(pictures)


def _figures(member: Member, registers: Sequence[str]) -> list[str]:
    return [
        signed(member.pitch_cents),
        *(signed(member.by_register[register]) for register in registers),
        signed(member.twelfths_cents),
        f"{member.rms_cents:.1f}",
    ]


def _picture_lines(pictures: Sequence[Path]) -> Iterator[str]:
    yield from (f"picture {path}" for path in pictures)
