"""The assembled instrument in longitudinal section, to scale, with its dimensions."""

from __future__ import annotations

import math
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from borewright.documents._figure import new_figure, sheet_axes, write, write_picture
from borewright.documents._labels import spread
from borewright.documents._look import (
    BLUE,
    FINE_PT,
    HAIR,
    INK,
    LINE_PT,
    MUTED,
    SMALL_TEXT_PT,
    TEXT_PT,
    TITLE_PT,
)
from borewright.documents._names import short
from borewright.documents._rows import (
    MARGIN_MM,
    Frame,
    Row,
    choose_scale,
    placed_parts,
    plan_rows,
    scale_words,
)
from borewright.documents._section_body import (
    PAD_THICKNESS_MM,
    draw_bodies,
    projected_height_mm,
    side_of_section,
)
from borewright.model import Instrument
from borewright.words import ENGLISH, Reader

LETTER_MM = 1.62  # width of a letter of SMALL_TEXT_PT, with its share of the gap
TITLE_LETTER_MM = 2.15  # the same of a bold letter of TITLE_PT
LINE_MM = 2.7
LEADER_MM = 5.0
TIER_MM = 3 * LINE_MM + 1.2


@dataclass(frozen=True)
class _Label:
    """A label: the lines, where its leader starts (station, height in mm) and its colour."""

    lines: tuple[str, ...]
    station: float
    height: float
    colour: str

    @property
    def width_mm(self) -> float:
        return max(len(line) for line in self.lines) * LETTER_MM + 1.0


def section_drawing(
    instrument: Instrument,
    path: Path | str,
    *,
    paper_width_mm: float = 390.0,
    scale: float | None = None,
    rows: int | None = None,
    words: Reader = ENGLISH,
) -> Path:
    """Write the section drawing as SVG or PNG, by the suffix of ``path``.

    Parameters
    ----------
    instrument
        What to draw.
    path
        The file; its folder is made if missing.
    paper_width_mm
        Width of the sheet; 390 is A3 across, less its margins.
    scale
        Paper over reality, 0.5 for 1:2; None takes the largest usual scale that fits.
    rows
        1 or 2; None cuts a long instrument in two at a joint near its middle.
    words
        Who reads it.

    Raises
    ------
    DocumentsError
        For a suffix other than .svg and .png, or paper too narrow for any usual scale.
    """
    return write_picture(
        path,
        lambda: section_figure(instrument, paper_width_mm, scale, rows, words),
        words("{instrument}: longitudinal section", instrument=instrument.name),
        words,
    )


def section_figure(
    instrument: Instrument,
    paper_width_mm: float = 390.0,
    scale: float | None = None,
    rows: int | None = None,
    words: Reader = ENGLISH,
) -> Any:
    """The section drawing as a figure of matplotlib."""
    planned = plan_rows(instrument, rows)
    factor = scale or choose_scale(planned, paper_width_mm)
    longest = max(row.drawn_to - row.drawn_from for row in planned)
    width = max(longest * factor + 2 * MARGIN_MM, 120.0)
    layouts = [_RowLayout(instrument, row, factor, width, words) for row in planned]
    height = 18.0 + sum(layout.height for layout in layouts)
    figure = new_figure(width, height)
    axes = sheet_axes(figure)
    _title(axes, instrument, factor, width, height, words)
    top = height - 15.0
    for layout in layouts:
        layout.draw(axes, top)
        top -= layout.height
    return figure


def _title(
    axes: Any, instrument: Instrument, scale: float, width: float, height: float, words: Reader
) -> None:
    invented = " " + words("(invented example)") if instrument.invented else ""
    reference = next(mm for mm in (100.0, 50.0, 20.0, 10.0, 5.0) if mm * scale <= width * 0.3)
    length = reference * scale
    letters = int((width - length - 22.0) / TITLE_LETTER_MM) - len(invented)
    name = short(instrument.name, max(letters, 8)) + invented
    write(axes, MARGIN_MM, height - 5, name, fontsize=TITLE_PT, fontweight="bold", va="center")
    write(
        axes, MARGIN_MM, height - 9.5,
        words(
            "Longitudinal section, front upwards, seen from the player's right. mm from the top "
            "of the first part. Scale {scale}", scale=scale_words(scale, words),
        ), fontsize=SMALL_TEXT_PT, color=MUTED,
        va="center",
    )  # fmt: skip
    write(
        axes, MARGIN_MM, height - 12.7,
        words(
            "Near front and back: holes turned into the section. At the sides: full line far "
            "side, dashed near side."
        ), fontsize=SMALL_TEXT_PT, color=MUTED, va="center",
    )  # fmt: skip
    right = width - MARGIN_MM
    bar = axes.plot([right - length, right], [height - 4.5] * 2, color=INK, linewidth=1.4)[0]
    bar.set_gid(f"check-bar-{reference:g}-mm")
    bar.set_solid_capstyle("butt")
    write(
        axes, right - length - 1.5, height - 4.6, f"{reference:g} mm",
        fontsize=SMALL_TEXT_PT, ha="right", va="center",
    )  # fmt: skip


class _RowLayout:
    """One row of the drawing: heights first, so that the sheet's size is known, then ink."""

    def __init__(
        self, instrument: Instrument, row: Row, scale: float, width: float, words: Reader
    ) -> None:
        self.words = words
        self.instrument, self.row, self.scale, self.width = instrument, row, scale, width
        self.left = (width - (row.drawn_to - row.drawn_from) * scale) / 2
        self.up, self.down = self._extent()
        self.above = sorted(self._hole_labels(front=True), key=lambda label: label.station)
        below = self._hole_labels(front=False) + self._bore_labels()
        self.below = sorted(below, key=lambda label: label.station)
        self.above_tiers = self._tiers(self.above)
        self.below_tiers = self._tiers(self.below)
        self.height = (
            (self.up + self.down) * scale
            + (LEADER_MM + self.above_tiers * TIER_MM if self.above else 0)
            + (LEADER_MM + self.below_tiers * TIER_MM if self.below else 0)
            + 16.5
        )

    def _tiers(self, labels: list[_Label]) -> int:
        return max(spread(*self._wanted(labels))[1], default=0) + 1

    def _wanted(self, labels: list[_Label]) -> tuple[list[float], list[float], float, float]:
        frame = Frame(self.row, self.scale, self.left, 0.0)
        wanted = [frame.x(label.station) for label in labels]
        widths = [label.width_mm for label in labels]
        return wanted, widths, 1.0, self.width - 1.0

    def _extent(self) -> tuple[float, float]:
        """How far material, chimneys and lifted pads reach above and below the axis (mm)."""
        up = down = 0.0
        for part, offset in placed_parts(self.instrument):
            radii = [
                diameter / 2
                for station, diameter in part.outside
                if self.row.drawn_from <= offset + station <= self.row.drawn_to
            ]
            up, down = max([up, *radii]), max([down, *radii])
        if self.instrument.mouthpiece and self.row.drawn_from < 0:
            up, down = max(up, 14.0), max(down, 14.0)
        for part, hole, station in self.instrument.placed_holes():
            if self.row.owns(station) and side_of_section(hole):
                reached = part.outside_diameter_at(hole.station_mm) / 2 + hole.chimney_mm
                reached += hole.pad.lift_mm + PAD_THICKNESS_MM if hole.pad else 0.0
                if side_of_section(hole) > 0:
                    up = max(up, reached)
                else:
                    down = max(down, reached)
        return up + 1.0, down + 1.0

    def _hole_labels(self, *, front: bool) -> list[_Label]:
        labels = []
        for part, hole, station in self.instrument.placed_holes():
            side = side_of_section(hole)
            if not self.row.owns(station) or (side >= 0) is not front:
                continue
            if side:
                height = side * (part.outside_diameter_at(hole.station_mm) / 2 + hole.chimney_mm)
            else:
                half = hole.diameter_mm / 2 * abs(math.sin(math.radians(hole.bearing_deg)))
                height = projected_height_mm(part, hole) + half
            lines = (
                short(hole.name, 10),
                "⌀" + self._tenth(hole.diameter_mm),
                self._tenth(station),
            )
            labels.append(_Label(lines, station, height, INK))
        return labels

    def _tenth(self, value: float) -> str:
        return self.words.number(value, ".1f")

    def _bore_labels(self) -> list[_Label]:
        """Bore diameters at the listed stations; both sides of a step stand in one label."""
        found: dict[float, list[float]] = {}
        for part, offset in placed_parts(self.instrument):
            for station, diameter in part.bore:
                if 0 <= station <= part.length_mm:
                    found.setdefault(round(offset + station, 3), []).append(diameter)
        labels = []
        for station, diameters in found.items():
            if self.row.owns(station):
                different = list(dict.fromkeys(self.words.number(d, ".2f") for d in diameters))
                lines = ("⌀" + "|".join(different), self._tenth(station))
                labels.append(_Label(lines, station, -diameters[-1] / 2, BLUE))
        return labels

    def draw(self, axes: Any, top: float) -> None:
        """Draw the row below ``top`` (mm from the sheet's lower edge)."""
        from matplotlib.patches import Rectangle

        label_room = LEADER_MM + self.above_tiers * TIER_MM if self.above else 0.0
        axis = top - label_room - self.up * self.scale
        frame = Frame(self.row, self.scale, self.left, axis)
        window = Rectangle(
            (frame.x(self.row.drawn_from) - 0.3, frame.y(-self.down)),
            (self.row.drawn_to - self.row.drawn_from) * self.scale + 0.6,
            (self.up + self.down) * self.scale,
            transform=axes.transData,
        )
        for artist in draw_bodies(axes, frame, self.instrument):
            artist.set_clip_path(window)
        self._axis_line(axes, frame)
        self._labels(axes, frame, self.above, frame.y(self.up), 1)
        self._labels(axes, frame, self.below, frame.y(-self.down), -1)
        foot = frame.y(-self.down)
        foot -= LEADER_MM + self.below_tiers * TIER_MM if self.below else 0.0
        self._ruler(axes, frame, foot - 0.5)
        self._part_lengths(axes, frame, foot - 8.5)

    def _axis_line(self, axes: Any, frame: Frame) -> None:
        ends = [frame.x(self.row.drawn_from) - 2, frame.x(self.row.drawn_to) + 2]
        axes.plot(
            ends, [frame.axis] * 2, color=MUTED, linewidth=FINE_PT, linestyle=(0, (12, 3, 2, 3))
        )

    def _labels(self, axes: Any, frame: Frame, labels: list[_Label], edge: float, way: int) -> None:
        centres, tiers = spread(*self._wanted(labels))
        for label, centre, tier in zip(labels, centres, tiers, strict=True):
            x = frame.x(label.station)
            start = edge + way * (LEADER_MM + tier * TIER_MM)
            axes.plot(
                [x, x, centre, centre],
                [frame.y(label.height), edge + way * 0.6, edge + way * (LEADER_MM - 0.8), start],
                color=MUTED if label.colour == INK else label.colour, linewidth=FINE_PT,
            )  # fmt: skip
            for index, line in enumerate(label.lines):
                up = len(label.lines) - 1 - index if way > 0 else -index
                is_name = index == 0 and label.colour == INK
                write(
                    axes, centre, start + way * 1.4 + up * LINE_MM, line, color=label.colour,
                    ha="center", va="center", fontsize=TEXT_PT if is_name else SMALL_TEXT_PT,
                    fontweight="bold" if is_name else "normal",
                )  # fmt: skip

    def _ruler(self, axes: Any, frame: Frame, y: float) -> None:
        first = math.ceil(self.row.drawn_from / 10) * 10
        ends = [frame.x(self.row.drawn_from), frame.x(self.row.drawn_to)]
        axes.plot(ends, [y] * 2, color=INK, linewidth=FINE_PT)
        step = 50 if self.scale <= 0.5 else 20
        for station in range(first, math.floor(self.row.drawn_to) + 1, 10):
            labelled = station % step == 0
            tick = axes.plot(
                [frame.x(station)] * 2, [y, y - (1.8 if labelled else 1.0)],
                color=INK, linewidth=FINE_PT,
            )[0]  # fmt: skip
            if self.row.owns(station):
                tick.set_gid(f"ruler-{station}-mm")
            if labelled:
                write(
                    axes, frame.x(station), y - 3.2, str(station),
                    fontsize=SMALL_TEXT_PT, ha="center", va="center", color=MUTED,
                )  # fmt: skip

    def _part_lengths(self, axes: Any, frame: Frame, y: float) -> None:
        spans = [(part.name, o, o + part.length_mm) for part, o in placed_parts(self.instrument)]
        if self.instrument.mouthpiece:
            spans.insert(0, (self.words("mouthpiece"), -self.instrument.mouthpiece.shown_mm, 0.0))
        for name, start, end in spans:
            low = max(start, self.row.first, self.row.drawn_from)
            high = min(end, self.row.last, self.row.drawn_to)
            if high - low < 2.0:
                continue
            low_x, high_x = frame.x(low), frame.x(high)
            axes.annotate(
                "", (high_x, y), (low_x, y),
                arrowprops={"arrowstyle": "<|-|>,head_width=0.1,head_length=0.3", "color": MUTED,
                            "linewidth": LINE_PT, "shrinkA": 0, "shrinkB": 0},
            )  # fmt: skip
            for x in (low_x, high_x):
                axes.plot([x, x], [y - 1.2, y + 1.2], color=HAIR, linewidth=LINE_PT)
            letters = max(4, int((high_x - low_x) / 1.75) - 7)
            write(
                axes, (low_x + high_x) / 2, y - 2.6,
                f"{short(name, letters)}  {self._tenth(end - start)}", fontsize=TEXT_PT,
                ha="center", va="center",
            )  # fmt: skip
