"""The certificate: what was measured on one instrument, with its own tuning chart."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from borewright.documents._figure import axes_mm, new_figure, svg_text, tick_labels, write
from borewright.documents._look import BAND, BLUE, FINE_PT, INK, ORANGE, SMALL_TEXT_PT, TEXT_PT
from borewright.documents._page import (
    Block,
    Column,
    Facts,
    Heading,
    PaperPage,
    Paragraph,
    Picture,
    Table,
)
from borewright.documents._paper_words import NONE, file_stem, number, signed
from borewright.words import Reader, Text

CHART_WIDTH_MM, CHART_HEIGHT_MM = 172.0, 62.0


@dataclass(frozen=True)
class CheckedReading:
    """One check as measured: subject, feature, value (None where somebody looked) and limits."""

    subject: Text
    feature: str
    value: float | None
    unit: Text
    limits: Text
    passed: bool


@dataclass(frozen=True)
class Certificate:
    """What one instrument is, and what was measured on it.

    ``tuning`` are notes with the cents measured on this very instrument, in playing order;
    ``temperature_c`` is the air's when they were taken.
    """

    serial: str
    number: str
    issued_on: date
    instrument: str
    design: str
    design_sha256: str
    signed_by: str
    signed_on: date
    readings: Sequence[CheckedReading]
    tuning: Sequence[tuple[str, float]]
    temperature_c: float | None
    lots: Sequence[tuple[Text, str]] = ()
    tolerance_cents: float = 10.0

    @property
    def file_stem(self) -> str:
        """The files' name."""
        return file_stem("certificate", self.serial)

    @property
    def code(self) -> str:
        """The serial number and the start of the design's content hash."""
        return f"{self.serial} {self.design_sha256[:12]}"

    def page(self, words: Reader) -> PaperPage:
        """The certificate's page."""
        blocks: list[Block] = [
            Facts(
                [
                    (words("Serial number"), self.serial),
                    (
                        words("Certificate"),
                        words("{number}, issued {day}", number=self.number, day=self.issued_on),
                    ),
                    (words("Design revision"), self.design),
                    (words("Content of the design"), self.design_sha256),
                    *[(words.tell(name), lot) for name, lot in self.lots],
                    (
                        words("Signed off"),
                        words("{who}, {day}", who=self.signed_by, day=self.signed_on),
                    ),
                ]
            )
        ]
        if self.tuning:
            blocks += [
                Heading(words("Tuning as measured")),
                Paragraph(self._tuning_words(words)),
                self._chart(words),
            ]
        blocks += [
            Heading(words("Checks")),
            Table(
                words("The newest reading of every check on this instrument."),
                [
                    Column(words("Check"), True),
                    Column(words("Feature"), True),
                    Column(words("Reading"), True),
                    Column(words("Limits"), True),
                    Column(words("Passed"), True, 0.5),
                ],
                [self._cells(words, reading) for reading in self.readings],
            ),
            Paragraph(
                words(
                    "These are readings of one instrument on the day, made in the workshop's own "
                    "way; they are no approval by any authority. A check that fails later makes "
                    "this certificate void; the workshop's ledger says whether it holds."
                )
            ),
        ]
        return PaperPage(words("Certificate {serial}", serial=self.serial), self.instrument, blocks)

    def _cells(self, words: Reader, reading: CheckedReading) -> tuple[str, ...]:
        value = words("seen")
        if reading.value is not None:
            value = f"{number(words, reading.value)} {words.tell(reading.unit)}".strip()
        return (
            words.tell(reading.subject),
            reading.feature or NONE,
            value,
            words.tell(reading.limits).replace("-", "−") or NONE,
            words("yes") if reading.passed else words("no"),
        )

    def _tuning_words(self, words: Reader) -> str:
        cents = [value for _, value in self.tuning]
        told = words(
            "{inside} of {count} notes lie within ±{limit:g} cents; root mean square {rms:.1f} "
            "cents.",
            inside=sum(abs(value) <= self.tolerance_cents for value in cents),
            count=len(cents),
            limit=self.tolerance_cents,
            rms=math.sqrt(sum(value**2 for value in cents) / len(cents)),
        )
        if self.temperature_c is None:
            return told
        air = words("The air was at {air_c:g} °C.", air_c=self.temperature_c)
        return f"{told} {air}"

    def _chart(self, words: Reader) -> Picture:
        said = ", ".join(f"{name} {signed(words, value)}" for name, value in self.tuning)
        title = words("Cents from the target of each note, measured on this instrument")
        svg = svg_text(lambda: measured_figure(self.tuning, self.tolerance_cents, words), title)
        caption = words("{title}. Upwards is sharp.", title=title)
        return Picture(svg, CHART_WIDTH_MM, f"{title}: {said}.", caption)


def measured_figure(
    tuning: Sequence[tuple[str, float]], tolerance_cents: float, words: Reader
) -> Any:
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
                axes, index, value + off, signed(words, value, 0), fontsize=SMALL_TEXT_PT,
                ha="center", va="center",
            )  # fmt: skip
    for side in ("top", "right", "bottom"):
        axes.spines[side].set_visible(False)
    axes.tick_params(length=0, labelsize=TEXT_PT)
    turned = {"rotation": 90} if len(tuning) > 26 else {}
    names = [name for name, _ in tuning]
    tick_labels(axes.xaxis, [float(index) for index in range(len(names))], names, **turned)
    axes.set_ylabel(words("cents"), fontsize=TEXT_PT)
    return figure
