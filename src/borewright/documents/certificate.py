"""The certificate: what was measured on one instrument, with its own tuning chart."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from borewright.documents._figure import axes_mm, new_figure, svg_text, tick_labels, write
from borewright.documents._look import (
    BAND,
    BLUE,
    FINE_PT,
    INK,
    ORANGE,
    SMALL_TEXT_PT,
    TEXT_PT,
)
from borewright.documents._page import (
    Block,
    Column,
    Facts,
    Heading,
    Page,
    Paragraph,
    Picture,
    Table,
)
from borewright.documents._paper_words import file_stem
from borewright.documents._words import signed

CHART_WIDTH_MM, CHART_HEIGHT_MM = 172.0, 62.0


@dataclass(frozen=True)
class Reading:
    """One check as measured: subject, feature, value with unit and its limits in words."""

    subject: str
    feature: str
    value: str
    limits: str
    passed: bool


@dataclass(frozen=True)
class Certificate:
    """What one instrument is, and what was measured on it.

    ``tuning`` are notes with the cents measured on this very instrument, in playing order;
    ``temperature_c`` is the air's when they were taken.
    """

    serial: str
    instrument: str
    design: str
    design_sha256: str
    signed_by: str
    signed_on: str
    readings: Sequence[Reading]
    tuning: Sequence[tuple[str, float]]
    temperature_c: float | None
    lots: Sequence[tuple[str, str]] = ()
    tolerance_cents: float = 10.0

    @property
    def file_stem(self) -> str:
        """The files' name."""
        return file_stem("certificate", self.serial)

    @property
    def code(self) -> str:
        """The serial number and the start of the design's content hash."""
        return f"{self.serial} {self.design_sha256[:12]}"

    def page(self) -> Page:
        """The certificate's page."""
        rows = [
            (r.subject, r.feature or "–", r.value, r.limits or "–", "yes" if r.passed else "no")
            for r in self.readings
        ]
        blocks: list[Block] = [
            Facts(
                [
                    ("Serial number", self.serial),
                    ("Design revision", self.design),
                    ("Content of the design", self.design_sha256),
                    *self.lots,
                    ("Signed off", f"{self.signed_by}, {self.signed_on}"),
                ]
            )
        ]
        if self.tuning:
            blocks += [
                Heading("Tuning as measured"),
                Paragraph(self._tuning_words()),
                self._chart(),
            ]
        blocks += [
            Heading("Checks"),
            Table(
                "The newest reading of every check on this instrument.",
                [
                    Column("Check", True),
                    Column("Feature", True),
                    Column("Reading", True),
                    Column("Limits", True),
                    Column("Passed", True, 0.5),
                ],
                rows,
            ),
            Paragraph(
                "These are readings of one instrument on the day, made in the workshop's own way; "
                "they are no approval by any authority."
            ),
        ]
        return Page(f"Certificate {self.serial}", self.instrument, blocks)

    def _tuning_words(self) -> str:
        cents = [value for _, value in self.tuning]
        rms = math.sqrt(sum(value**2 for value in cents) / len(cents))
        inside = sum(abs(value) <= self.tolerance_cents for value in cents)
        where = "" if self.temperature_c is None else f" at {self.temperature_c:g} °C"
        return (
            f"{inside} of {len(cents)} notes lie within ±{self.tolerance_cents:g} cents{where}; "
            f"root mean square {rms:.1f} cents."
        )

    def _chart(self) -> Picture:
        said = ", ".join(f"{name} {signed(value)}" for name, value in self.tuning)
        title = "Cents from the target of each note, measured on this instrument"
        svg = svg_text(lambda: measured_figure(self.tuning, self.tolerance_cents), title)
        return Picture(svg, CHART_WIDTH_MM, f"{title}: {said}.", f"{title}. Upwards is sharp.")


def measured_figure(tuning: Sequence[tuple[str, float]], tolerance_cents: float) -> Any:
    """The chart of measured notes as a figure of matplotlib."""
    figure = new_figure(CHART_WIDTH_MM, CHART_HEIGHT_MM)
    axes = axes_mm(figure, 13, 7, CHART_WIDTH_MM - 15, CHART_HEIGHT_MM - 9)
    most = max(abs(value) for _, value in tuning)
    limit = 1.25 * max(tolerance_cents * 1.3, most)
    axes.set_xlim(-0.7, len(tuning) - 0.3)
    axes.set_ylim(-limit, limit)
    axes.axhspan(-tolerance_cents, tolerance_cents, color=BAND, linewidth=0)
    axes.axhline(0, color=INK, linewidth=FINE_PT)
    for index, (_, value) in enumerate(tuning):
        sharp = value >= 0
        colour = ORANGE if sharp else BLUE
        axes.plot([index, index], [0, value], color=colour, linewidth=2.0, solid_capstyle="butt")
        axes.plot([index], [value], marker="^" if sharp else "v", color=colour, markersize=4.5)
        if len(tuning) <= 26:
            off = 0.09 * limit if sharp else -0.09 * limit
            write(
                axes, index, value + off, signed(value, 0), fontsize=SMALL_TEXT_PT,
                ha="center", va="center",
            )  # fmt: skip
    for side in ("top", "right", "bottom"):
        axes.spines[side].set_visible(False)
    axes.tick_params(length=0, labelsize=TEXT_PT)
    turned = {"rotation": 90} if len(tuning) > 26 else {}
    names = [name for name, _ in tuning]
    tick_labels(axes.xaxis, [float(index) for index in range(len(names))], names, **turned)
    axes.set_ylabel("cents", fontsize=TEXT_PT)
    return figure
