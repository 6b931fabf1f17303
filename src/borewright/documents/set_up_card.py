"""The set-up card for the bench: what to set on each key, with room for the final value."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from borewright.documents._page import Block, Column, PaperPage, Paragraph, Table
from borewright.documents._paper_words import BOX, NONE, file_stem, number, signed
from borewright.words import Reader, Text, say_as


@dataclass(frozen=True)
class CardRow:
    """One key: lengths in mm, force in grams, pitch effect in cents; None where not known."""

    key: str
    hole: str
    least_lift_mm: float
    lift_mm: float | None
    pitch_effect_cents: float | None
    pitch_effect_note: str
    lever_ratio: float
    touch_travel_mm: float | None
    touch_force_g: float | None
    touch_height_mm: float | None
    end_play_mm: float | None
    remarks: Sequence[Text]
    wanted_lift_mm: float | None = None
    wanted_travel_mm: float | None = None
    wanted_force_g: float | None = None
    wanted_height_mm: float | None = None
    wanted_play_mm: float | None = None


@dataclass(frozen=True)
class SetUpCard:
    """The keys of one keywork set for one design."""

    sample: str
    design: str
    rows: Sequence[CardRow]

    @property
    def file_stem(self) -> str:
        """The files' name."""
        return file_stem("set-up", self.sample)

    @property
    def code(self) -> str:
        """The set's label."""
        return self.sample

    def page(self, words: Reader) -> PaperPage:
        """The card's page."""
        blocks: list[Block] = [
            Paragraph(
                words(
                    "A pad rises by at least a third of its hole's diameter; less flattens and "
                    "dulls. Cents tell what the lift as measured does against that least lift."
                )
            ),
            Table(
                words(
                    "Lengths in mm, force at the touch in grams; in brackets what the mechanism "
                    "gives on this body."
                ),
                [
                    Column("", False),
                    Column(words.tell(say_as("keywork", "Key")), True, 1.6),
                    Column(words("Hole")),
                    Column(words("Least lift")),
                    Column(words.tell(say_as("keywork", "Lift"))),
                    Column(words("Cents"), True, 1.1),
                    Column(words.tell(say_as("keywork", "Lever"))),
                    Column(words.tell(say_as("keywork", "Travel"))),
                    Column(words.tell(say_as("keywork", "Force"))),
                    Column(words.tell(say_as("keywork", "Height"))),
                    Column(words.tell(say_as("keywork", "Play"))),
                    Column(words("To do"), True, 2.6),
                ],
                [self._cells(words, row) for row in self.rows],
            ),
        ]
        return PaperPage(
            words("Set-up card {sample}", sample=self.sample),
            words("For design {design}", design=self.design),
            blocks,
        )

    def _cells(self, words: Reader, row: CardRow) -> tuple[str, ...]:
        effect = NONE
        if row.pitch_effect_cents is not None:
            effect = f"{signed(words, row.pitch_effect_cents)} {row.pitch_effect_note}"
        return (
            BOX,
            row.key,
            row.hole,
            number(words, row.least_lift_mm, ".2f"),
            _beside(words, row.lift_mm, row.wanted_lift_mm, ".2f"),
            effect,
            number(words, row.lever_ratio, ".2f"),
            _beside(words, row.touch_travel_mm, row.wanted_travel_mm, ".1f"),
            _beside(words, row.touch_force_g, row.wanted_force_g, ".0f"),
            _beside(words, row.touch_height_mm, row.wanted_height_mm, ".1f"),
            _beside(words, row.end_play_mm, row.wanted_play_mm, ".2f"),
            "; ".join(map(words.tell, row.remarks)) or NONE,
        )


def _beside(words: Reader, value: float | None, wanted: float | None, form: str) -> str:
    """A value, and in brackets what it should come to."""
    told = number(words, value, form)
    return told if wanted is None else f"{told} ({number(words, wanted, form)})"
