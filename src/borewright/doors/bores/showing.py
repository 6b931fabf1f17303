"""Bores and families as lines of plain text."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

from borewright.doors.columns import columns, figure, signed, told
from borewright.doors.showing import finding_lines, register_words, summary_words
from borewright.model import BorePerturbation
from borewright.model.bores import OverlayTable, SmoothedBore
from borewright.model.bores.families import FamilyTable, Member
from borewright.model.dimensions import MEASURES
from borewright.model.results.campaign import Interval
from borewright.tasks.bores.blending import Blended
from borewright.tasks.bores.measuring import SmoothedParts
from borewright.words import Reader

#: Notes that are shown in any case (the lowest and its twelfth), and what counts as moved.
_ALWAYS_SHOWN, _MOVED_CENTS = 2, 1.0


def smoothed_lines(words: Reader, done: SmoothedParts) -> Iterator[str]:
    """Lengths, breaks and notices of every smoothed part."""
    for part in done.parts:
        yield from _part_lines(words, part)
        yield ""
    yield from _file_lines(words, done.output, done.pictures)


def _part_lines(words: Reader, part: SmoothedBore) -> Iterator[str]:
    yield words(
        "{part}: {count} readings, scatter {scatter_mm:.3f} mm",
        part=part.name,
        count=len(part.readings),
        scatter_mm=part.scatter_mm,
    )
    yield words("mm, with 95 % intervals")
    rows = [
        (
            told(words, segment.kind),
            figure(words, segment.from_mm),
            figure(words, segment.to_mm),
            _within(words, segment.top_diameter_mm, 3),
            _within(words, segment.bottom_diameter_mm, 3),
        )
        for segment in part.segments
    ]
    headings = (
        words("length of bore"),
        words("from"),
        words("to"),
        words("diameter at its top"),
        words("at its bottom"),
    )
    yield from columns(headings, rows, right=(1, 2))
    for each in part.breaks:
        kind, station = told(words, each.kind), _within(words, each.station_mm, 1)
        if each.step_mm:
            step = _within(words, each.step_mm, 3)
            yield words("  {kind} at {station}, by {step}", kind=kind, station=station, step=step)
        else:
            yield words("  {kind} at {station}", kind=kind, station=station)
    for notice in part.notices:
        yield f"  {told(words, notice)}"


def _within(words: Reader, interval: Interval, digits: int) -> str:
    value, low, high = (
        figure(words, each, digits) for each in (interval.value, interval.low, interval.high)
    )
    return words("{value} ({low} to {high})", value=value, low=low, high=high)


def overlay_lines(words: Reader, table: OverlayTable, pictures: Sequence[Path]) -> Iterator[str]:
    """Deviations at common stations."""
    first, *others = table.bores
    yield words("diameter of {bore}, and how much wider the others are (mm)", bore=first)
    rows = [
        (
            figure(words, row.station_mm),
            figure(words, row.diameter_mm, 2),
            *(signed(words, each, 3) for each in row.wider_mm),
        )
        for row in table.rows
    ]
    rows.append((words("mean"), "", *(signed(words, each, 3) for each in table.mean_wider_mm)))
    rows.append((words("most"), "", *(signed(words, each, 3) for each in table.most_wider_mm)))
    headings = (words("station"), first, *others)
    yield from columns(headings, rows, right=range(len(table.bores) + 1))
    yield from _file_lines(words, None, pictures)


def _share_words(words: Reader) -> dict[str, str]:
    """Features that may have a share of their own."""
    return {
        "barrel": words("barrel"),
        "throat": words("throat"),
        "cylinder": words("cylinder"),
        "flare_start": words("flare start"),
        "flare": words("flare"),
        "bell": words("bell"),
        "holes": words("holes"),
    }


def blend_lines(words: Reader, done: Blended) -> Iterator[str]:
    """Features, tuning, twelfths, the holes that pay, character, files."""
    result = done.result
    yield words("{first} and {second}, blended", first=result.first, second=result.second)
    names = _share_words(words)
    shares = ", ".join(
        f"{names.get(name, name)} {words.number(share, 'g')}"
        for name, share in result.fractions.model_dump().items()
    )
    yield words("shares of the second: {shares}", shares=shares)
    yield ""
    rows = [
        (
            told(words, row.feature),
            *(figure(words, each, 2) for each in (row.first, row.second, row.blend)),
        )
        for row in result.features
    ]
    headings = (words("feature, mm"), words("first"), words("second"), words("blend"))
    yield from columns(headings, rows, right=(1, 2, 3))
    yield ""
    tables = [
        (words("first"), result.first_table),
        (words("second"), result.second_table),
        (words("blended"), result.blended),
        *([(words("holes fitted"), result.refitted)] if result.refitted else []),
    ]
    for name, table in tables:
        yield f"{name.ljust(13)} {summary_words(words, table.summary)}"
    yield from _twelfth_lines(words, done)
    if result.paying:
        yield ""
        yield words("holes that pay, the dearest first (mm moved by the fit)")
        rows = [
            (
                each.hole,
                each.part,
                ", ".join(
                    f"{told(words, MEASURES[move.measure])} {signed(words, move.by_mm, 2)}"
                    for move in each.moves
                ),
                told(words, each.limit),
            )
            for each in result.paying
        ]
        yield from columns((words("hole"), words("part"), words("moved"), words("limit")), rows)
    for note in result.out_of_reach:
        yield words(
            "out of reach: {note}, {cents} cents. {advice}",
            note=note.fingering,
            cents=signed(words, note.cents),
            advice=note.advice,
        )
    yield from finding_lines(words, result.findings)
    yield from (told(words, notice) for notice in result.notices)
    if done.character:
        yield ""
        yield words("character, the blend against the first")
        yield from (told(words, sentence) for sentence in done.character.sentences)
    yield from _file_lines(words, done.output, done.pictures)


def _twelfth_lines(words: Reader, done: Blended) -> Iterator[str]:
    result = done.result
    tables = [result.first_table, result.second_table, result.refitted or result.blended]
    columns_of = [{each.low: each.stretch_cents for each in table.twelfths} for table in tables]
    rows = [
        (low, *(signed(words, column.get(low)) for column in columns_of)) for low in columns_of[0]
    ]
    if rows:
        yield ""
        yield words("twelfths, cents wide")
        headings = (words("low note"), words("first"), words("second"), words("blend"))
        yield from columns(headings, rows, right=(1, 2, 3))


def perturbation_lines(
    words: Reader, curves: BorePerturbation, pictures: Sequence[Path]
) -> Iterator[str]:
    """Mean cents of every register at every station."""
    if curves.widening_mm > 0:
        yield words(
            "{instrument}: cents where the bore is {by_mm:g} mm wider at one station, mean of a "
            "register",
            instrument=curves.instrument,
            by_mm=curves.widening_mm,
        )
    else:
        yield words(
            "{instrument}: cents where the bore is {by_mm:g} mm narrower at one station, mean of "
            "a register",
            instrument=curves.instrument,
            by_mm=-curves.widening_mm,
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
            means.append(signed(words, sum(own) / len(own), 2))
        rows.append((station.part, figure(words, station.station_mm), *means))
    headings = (
        words("part"),
        words("station"),
        *(register_words(words, register) for register in registers),
    )
    yield from columns(headings, rows, right=range(1, 2 + len(registers)))
    yield words("every note is in --json")
    yield from _file_lines(words, None, pictures)


def _by_note(words: Reader, table: FamilyTable) -> Iterator[str]:
    """The lowest note and its twelfth, then every note that one of the chosen moves."""
    members = [table.members[each.member] for each in table.chosen]
    moved = [
        number
        for number in range(len(table.in_place.notes))
        if number < _ALWAYS_SHOWN
        or any(abs(member.notes[number].by_cents) >= _MOVED_CENTS for member in members)
    ]
    if not moved or not members:
        return
    yield ""
    yield words(
        "note by note: cents now, and by how much each of the chosen moves it; all others move by "
        "less than {least:g} cent",
        least=_MOVED_CENTS,
    )
    headings = (words("note"), words("in place"), *(member.name for member in members))
    rows = [
        (
            table.in_place.notes[number].fingering,
            signed(words, table.in_place.notes[number].cents),
            *(signed(words, member.notes[number].by_cents) for member in members),
        )
        for number in moved
    ]
    yield from columns(headings, rows, right=range(1, len(headings)))


def family_lines(words: Reader, table: FamilyTable, pictures: Sequence[Path]) -> Iterator[str]:
    """The chosen members, what each does, and the reach of the family."""
    count, in_place = len(table.members), table.in_place.name
    if table.kind == "barrel":
        yield words(
            "{instrument}: {count} barrels against {in_place}",
            instrument=table.instrument,
            count=count,
            in_place=in_place,
        )
    else:
        yield words(
            "{instrument}: {count} bells against {in_place}",
            instrument=table.instrument,
            count=count,
            in_place=in_place,
        )
    low, high = table.reach_cents
    span = {
        "low": signed(words, low),
        "high": signed(words, high),
        "wanted_low": signed(words, table.low_cents),
        "wanted_high": signed(words, table.high_cents),
    }
    if table.by == "pitch":
        yield words(
            "pitch from {low} to {high} cents; wanted {wanted_low} to {wanted_high}", **span
        )
    else:
        yield words(
            "twelfths from {low} to {high} cents; wanted {wanted_low} to {wanted_high}", **span
        )
    yield ""
    registers = list(table.in_place.by_register)
    headings = (
        words("chosen"),
        words("wanted"),
        words("pitch"),
        *(register_words(words, register) for register in registers),
        words("twelfths"),
        words("rms"),
    )
    rows = [
        (
            table.members[each.member].name,
            signed(words, each.wanted_cents),
            *_figures(words, table.members[each.member], registers),
        )
        for each in table.chosen
    ]
    rows.append((words("in place"), "", *_figures(words, table.in_place, registers)))
    yield from columns(headings, rows, right=range(1, len(headings)))
    yield words("cents against the one in place; rms about the instrument's own mean pitch")
    yield from _by_note(words, table)
    for each in table.chosen:
        if each.sentences:
            yield ""
            yield words("character of {member}", member=table.members[each.member].name)
            yield from (told(words, sentence) for sentence in each.sentences)
    yield from (told(words, notice) for notice in table.notices)
    yield words("all members are in --json")
    yield from _file_lines(words, None, pictures)


def _figures(words: Reader, member: Member, registers: Sequence[str]) -> list[str]:
    return [
        signed(words, member.pitch_cents),
        *(signed(words, member.by_register[register]) for register in registers),
        signed(words, member.twelfths_cents),
        figure(words, member.rms_cents),
    ]


def _file_lines(words: Reader, saved: Path | None, pictures: Sequence[Path]) -> Iterator[str]:
    if saved:
        yield words("saved   {path}", path=saved)
    yield from (words("picture {path}", path=path) for path in pictures)
