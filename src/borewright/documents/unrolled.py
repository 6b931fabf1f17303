"""The drilling template: a part's outside unrolled at 1:1, to be wrapped round the body."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

from borewright.documents.sheet import PAPERS, Layer, Point, Sheet
from borewright.errors import DocumentsError
from borewright.model import Instrument, Part, ToneHole
from borewright.words import ENGLISH, Reader, say, say_as

MARGIN_MM = 12.0
HEAD_MM = 16.0
FOOT_MM = 14.0
TAB_MM = 6.0
CHECK_MM = 100.0


@dataclass(frozen=True)
class PostMark:
    """A post on the template and in the schedule (mm, degrees)."""

    name: str
    station_mm: float
    bearing_deg: float
    hole_mm: float
    base_mm: float
    depth_mm: float


class Unrolling:
    """Turns (station, bearing) on a part's outside into flat paper, stretch by stretch.

    A straight stretch of the outside is a cylinder or a cone, and both unroll without
    stretching: a cone becomes a sector of a ring whose radius is the slant distance from its
    tip. All stretches are laid along the front line (bearing 0), which stays straight.
    """

    def __init__(self, part: Part) -> None:
        inside = [(s, d / 2) for s, d in part.outside if 0 < s < part.length_mm]
        ends = (
            (0.0, part.outside_diameter_at(0.0) / 2),
            (part.length_mm, part.outside_diameter_at(part.length_mm, -1) / 2),
        )
        self.profile = [ends[0], *inside, ends[1]]
        self.along = [0.0]
        for (s0, r0), (s1, r1) in itertools.pairwise(self.profile):
            self.along.append(self.along[-1] + math.hypot(s1 - s0, r1 - r0))

    def at(self, station_mm: float, bearing_deg: float) -> Point:
        """Flat place (mm): x along the front line from the top end, y towards the left."""
        index = 0
        for index in range(len(self.profile) - 1):
            if station_mm <= self.profile[index + 1][0]:
                break
        return self.on_stretch(index, station_mm, bearing_deg)

    def on_stretch(self, index: int, station_mm: float, bearing_deg: float) -> Point:
        """The same, as the given stretch of the outside sees it."""
        (s0, r0), (s1, r1) = self.profile[index], self.profile[index + 1]
        slant = math.hypot(s1 - s0, r1 - r0)
        share = (station_mm - s0) / (s1 - s0) if s1 > s0 else 0.0
        x, radius = self.along[index] + slant * share, r0 + (r1 - r0) * share
        turn = math.radians(bearing_deg)
        lean = (r1 - r0) / slant
        if abs(lean) < 1e-9:
            return x, radius * turn
        reach = radius / lean
        # Signed: a cone that narrows downwards has its tip below.
        return x + reach * (math.cos(turn * lean) - 1), reach * math.sin(turn * lean)


def paper_for(part: Part, paper: str | None = None) -> str:
    """The paper given, or the smallest that holds the template at 1:1.

    Raises DocumentsError where the largest is too small.
    """
    flat = Unrolling(part)
    girth = 2 * math.pi * max(radius for _, radius in flat.profile) + TAB_MM
    need = (flat.along[-1] + 2 * MARGIN_MM, girth + HEAD_MM + FOOT_MM + 12.0)
    names = [paper] if paper else list(PAPERS)
    for name in names:
        width, height = PAPERS[name]
        if need[0] <= width and need[1] <= height:
            return name
    raise DocumentsError(
        say(
            "its template at 1:1 needs {long_mm:.0f} by {wide_mm:.0f} mm of paper",
            long_mm=need[0],
            wide_mm=need[1],
        ),
        place=(
            say("part '{part}'", part=part.name),
            say("paper {paper}", paper=paper or list(PAPERS)[-1]),
        ),
        remedy=say("Choose larger paper; a template must not be scaled."),
    )


def template_sheet(
    instrument: Instrument,
    part: Part,
    posts: Sequence[PostMark] = (),
    paper: str | None = None,
    *,
    words: Reader = ENGLISH,
) -> Sheet:
    """The unrolled outside of a part at 1:1, with holes, posts, stations and bearings.

    Wrap it with the printed side out, the front line along the front and the top edge at
    the top shoulder: the broken edge then meets the full one.
    """
    size = paper_for(part, paper)
    width, height = PAPERS[size]
    title = words(
        "{instrument}: {part}, drilling template 1:1", instrument=instrument.name, part=part.name
    )
    sheet = Sheet(title, width, height)
    sheet.frame()
    flat = Unrolling(part)
    left = (width - flat.along[-1]) / 2
    middle = FOOT_MM + (height - HEAD_MM - FOOT_MM) / 2

    def place(point: Point) -> Point:
        return left + point[0], middle + point[1]

    _edges(sheet, part, flat, place, words)
    taken = [
        _box(*place(flat.at(h.station_mm, h.bearing_deg)), h.diameter_mm / 2) for h in part.holes
    ]
    taken += [_box(*place(flat.at(p.station_mm, p.bearing_deg)), 2.2) for p in posts]
    for hole in part.holes:
        _hole(sheet, flat, hole, place, taken, words)
    for post in posts:
        _post(sheet, flat, post, place, taken, words)
    _head(sheet, instrument, part, size, words)
    _check_bars(sheet, width)
    return sheet


def _edges(sheet: Sheet, part: Part, flat: Unrolling, place, words: Reader) -> None:  # type: ignore[no-untyped-def]
    stretches = range(len(flat.profile) - 1)
    for index in stretches:
        s0, s1 = flat.profile[index][0], flat.profile[index + 1][0]
        for bearing in (-180, -90, 0, 90, 180):
            layer = Layer.CENTRE
            if abs(bearing) == 180:
                layer = Layer.CUT if bearing < 0 else Layer.HIDDEN
            ends = [place(flat.on_stretch(index, s, bearing)) for s in (s0, s1)]
            sheet.line(ends, layer, name=f"bearing{bearing:+d}" if index == 0 else "")
    last = len(flat.profile) - 2
    for index, station in ((0, 0.0), (last, part.length_mm)):
        arc = [place(flat.on_stretch(index, station, b)) for b in range(-180, 181, 5)]
        sheet.line(arc, Layer.CUT, name="top edge" if station == 0.0 else "bottom edge")
    # A tab to paste the edges together, along the first to last stretch of the full edge.
    first, end = (place(flat.at(s, 180)) for s in (0.0, part.length_mm))
    if len(flat.profile) == 2:
        tab = [first, (first[0] + 2, first[1] + TAB_MM), (end[0] - 2, end[1] + TAB_MM), end]
        sheet.line(tab, Layer.HIDDEN)
    for station in range(0, int(part.length_mm) + 1, 10):
        x, y = place(flat.at(station, -180))
        sheet.line([(x, y), (x, y - (2.4 if station % 50 == 0 else 1.4))], Layer.DIMENSION)
        if station % 20 == 0:
            sheet.text(x, y - 4.0, str(station), height=1.7, align="center")
    for bearing, word in (
        (180, say_as("bearing", "back")),
        (90, say_as("bearing", "left")),
        (0, say_as("bearing", "front")),
        (-90, say_as("bearing", "right")),
    ):
        x, y = place(flat.at(0.0, bearing))
        told = f"{bearing:+d}° {words.tell(word)}" if bearing else f"0° {words.tell(word)}"
        sheet.text(x - 1.2, y, told, height=1.6, align="right", angle=0)


def hole_curve(flat: Unrolling, station: float, bearing: float, radius: float) -> list[Point]:
    """A radial hole's edge on the outside, unrolled: a little wider round the body than along."""
    index = 0
    for index in range(len(flat.profile) - 1):
        if station <= flat.profile[index + 1][0]:
            break
    (s0, r0), (s1, r1) = flat.profile[index], flat.profile[index + 1]
    points = []
    for step in range(72):
        angle = 2 * math.pi * step / 72
        here = station + radius * math.cos(angle)
        body = r0 + (r1 - r0) * (here - s0) / (s1 - s0)
        turn = math.degrees(math.asin(min(radius * math.sin(angle) / body, 1.0)))
        points.append(flat.on_stretch(index, here, bearing + turn))
    return points


def _shown(bearing: float, radius: float) -> list[float]:
    """Bearings at which a mark is drawn: also beyond the other edge where it crosses one."""
    back = 180.0 - abs(bearing) < 12.0 + radius
    return [bearing, bearing - math.copysign(360.0, bearing)] if back else [bearing]


_Box = tuple[float, float, float, float]


def _box(x: float, y: float, half: float) -> _Box:
    return x - half, y - half, x + half, y + half


def _label(
    sheet: Sheet, at: Point, away: float, text: str, height: float, taken: list[_Box], bold: bool
) -> None:
    """A name on the first side of its mark where it covers nothing."""
    x, y = at
    wide, high = 0.37 * height * len(text) + 0.5, 0.75 * height
    places = [
        (x, y + away + high),
        (x, y - away - high),
        (x + away + wide, y),
        (x - away - wide, y),
        (x + away + wide, y + away),
        (x + away + wide, y - away),
        (x - away - wide, y + away),
        (x - away - wide, y - away),
    ]
    boxes = [(px - wide, py - high, px + wide, py + high) for px, py in places]
    free = [
        not any(b[0] < t[2] and t[0] < b[2] and b[1] < t[3] and t[1] < b[3] for t in taken)
        for b in boxes
    ]
    chosen = free.index(True) if any(free) else 0
    taken.append(boxes[chosen])
    sheet.text(*places[chosen], text, height=height, align="center", bold=bold)


def _hole(  # type: ignore[no-untyped-def]
    sheet: Sheet, flat: Unrolling, hole: ToneHole, place, taken: list[_Box], words: Reader
) -> None:
    for bearing in _shown(hole.bearing_deg, hole.diameter_mm / 2):
        curve = hole_curve(flat, hole.station_mm, bearing, hole.diameter_mm / 2)
        own = bearing == hole.bearing_deg
        sheet.line([place(p) for p in curve], Layer.HOLE if own else Layer.HIDDEN, closed=True)
        x, y = place(flat.at(hole.station_mm, bearing))
        arm = max(2.0, hole.diameter_mm / 2 + 1.5)
        name = f"centre {hole.name}" if own else ""
        sheet.line([(x - arm, y), (x + arm, y)], Layer.CENTRE, name=name)
        sheet.line([(x, y - arm), (x, y + arm)], Layer.CENTRE)
        if own:
            # What a drill on an index makes; the curve is that circle's edge, unrolled.
            sheet.circle((x, y), hole.diameter_mm / 2, Layer.DRILL, name=f"drill {hole.name}")
            text = f"{hole.name} ⌀{words.number(hole.diameter_mm, '.2f')}"
            _label(sheet, (x, y), arm, text, 1.7, taken, True)


def _post(  # type: ignore[no-untyped-def]
    sheet: Sheet, flat: Unrolling, post: PostMark, place, taken: list[_Box], words: Reader
) -> None:
    radius = max(post.hole_mm / 2, 0.6)
    for bearing in _shown(post.bearing_deg, radius):
        curve = hole_curve(flat, post.station_mm, bearing, radius)
        sheet.line([place(p) for p in curve], Layer.POST, closed=True)
        x, y = place(flat.at(post.station_mm, bearing))
        sheet.line([(x - 2.2, y), (x + 2.2, y)], Layer.POST)
        sheet.line([(x, y - 2.2), (x, y + 2.2)], Layer.POST)
        if bearing == post.bearing_deg:
            sheet.circle((x, y), radius, Layer.DRILL, name=f"drill {post.name}")
            text = f"{post.name} ⌀{words.number(post.hole_mm, '.2f')}"
            _label(sheet, (x, y), 2.4, text, 1.4, taken, False)


def head_lines(sheet: Sheet, instrument: Instrument, part: Part, told: str, words: Reader) -> float:
    """The part's name and what the sheet is, on top of it; returns the lower line's place (y)."""
    top = sheet.height_mm - 11.0
    name = f"{instrument.name}: {part.name}"
    if instrument.invented:
        name = f"{name} {words('(invented example)')}"
    sheet.text(MARGIN_MM, top, name, height=2.8, bold=True)
    if instrument.serial:
        told = f"{told} {words('Serial {serial}.', serial=instrument.serial)}"
    sheet.text(MARGIN_MM, top - 4.6, told, height=1.8)
    return top - 4.6


def _head(sheet: Sheet, instrument: Instrument, part: Part, paper: str, words: Reader) -> None:
    told = words(
        "Drilling template 1:1, {paper}. Print at 100 %, check both bars, wrap printed side out: "
        "front line to the front, left end at the top shoulder.",
        paper=paper,
    )
    line = head_lines(sheet, instrument, part, told, words)
    if len(part.outside) > 2:
        told = words(
            "Where the body changes its slope, slit the paper from both edges to the front line."
        )
        sheet.text(MARGIN_MM, line - 3.6, told, height=1.8)


def _check_bars(sheet: Sheet, width: float) -> None:
    y = 10.0
    left = width - MARGIN_MM - CHECK_MM
    sheet.line([(left, y), (left + CHECK_MM, y)], Layer.OUTLINE, name="check-bar-across")
    sheet.text(left - 1.5, y, "100 mm", height=1.8, align="right")
    x = width - 9.0
    sheet.line([(x, 12.0), (x, 12.0 + 50.0)], Layer.OUTLINE, name="check-bar-up")
    sheet.text(x - 1.0, 14.0, "50 mm", height=1.8, angle=90)
