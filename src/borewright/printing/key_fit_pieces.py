"""A key-fit slice that is taller than the printer, in pieces with bonded joints."""

from __future__ import annotations

from dataclasses import replace

from borewright.model import KeyworkSurvey, SurveyItem, SurveyRow
from borewright.printing.key_fit import Blank, Blanks
from borewright.printing.profiles import MaterialProfile, PrinterProfile
from borewright.printing.splitting import Split, apply_splits, propose_splits


def blanks_that_fit(made: Blanks, printer: PrinterProfile, material: MaterialProfile) -> Blanks:
    """Slices cut until each can stand in the printer, clear of posts and seats, and all round.

    Raises PrintingError where no place is found for a joint.
    """
    room = printer.build_mm[2] - 2 * printer.margin_mm
    parts, posts, blanks = [], made.posts, []
    for blank in made.blanks:
        part = made.instrument.part(blank.name)
        if part.length_mm <= room:
            blanks.append(blank)
            parts.append(part)
            continue
        own = [post for post in posts if post.part == blank.name]
        survey = KeyworkSurvey(
            rows=[
                SurveyRow(
                    item=SurveyItem.POST,
                    name=post.name,
                    part=post.part,
                    station_mm=post.station_mm,
                    bearing_deg=(post.bearing_deg + 180) % 360 - 180,
                    thread_mm=post.thread_mm or None,
                )
                for post in own
            ]
        )
        splits = propose_splits(made.instrument, part, printer, material, survey)
        # By itself: two slices may carry one and the same hole.
        alone = made.instrument.model_copy(update={"parts": [part]})
        cut, parted = apply_splits(alone, survey, splits)
        parts += cut.parts
        assert parted is not None
        rows = {row.name: row for row in parted.rows}
        posts = [
            replace(post, part=rows[post.name].part, station_mm=rows[post.name].station_mm)
            if post.part == blank.name
            else post
            for post in posts
        ]
        blanks += _pieces(blank, splits)
    return Blanks(made.instrument.model_copy(update={"parts": parts}), posts, blanks)


def _pieces(blank: Blank, splits: list[Split]) -> list[Blank]:
    cuts = [0.0, *(split.station_mm for split in splits), blank.end_mm - blank.start_mm]
    names = [splits[0].upper, *(split.lower for split in splits)]
    return [
        replace(
            blank,
            name=name,
            start_mm=blank.start_mm + low,
            end_mm=blank.start_mm + high,
            middle_deg=0.0,
            arc_deg=360.0,
            jigs=blank.jigs if low == 0.0 else (),
        )
        for name, low, high in zip(names, cuts, cuts[1:], strict=False)
    ]
