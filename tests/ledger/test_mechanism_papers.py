"""Set-up card, traveller and keywork order take their figures from the kept key survey."""

from __future__ import annotations

import re
from html import unescape
from pathlib import Path

import pytest

import borewright
from borewright.errors import LedgerError
from borewright.tasks.ledger.designs import set_up_rows, surveyed_figures, values_with_file
from borewright.tasks.ledger.papers import PaperKind, PaperWishes, write_ledger_paper
from borewright.words import Reader

EXAMPLE = Path(borewright.__file__).parent / "examples" / "loan-clarinet"


@pytest.fixture
def book(ledger):
    """A sample with its key survey, one lever measured, a design and an instrument of it."""
    made = values_with_file(ledger, "design", {"code": "D"}, EXAMPLE / "clarinet.toml")
    ledger.add("design", made, who="Ada")
    ledger.add("source", {"code": "Q"}, who="Ada")
    sample = values_with_file(ledger, "sample", {"code": "S", "source": "Q"}, EXAMPLE / "keys.csv")
    ledger.add("sample", sample, who="Ada")
    lever = {"sample": "S", "key": "F key", "hole": "FC", "touch_arm_mm": 20, "pad_arm_mm": 40,
             "lift_mm": 4.5, "spring_at_pad_g": 25, "rest": "open"}  # fmt: skip
    ledger.add("lever", lever, who="Ada")
    quote = {"code": "K", "source": "Q", "plating": "silver", "unit_price": "190.00",
             "currency": "EUR", "minimum_order": 1}  # fmt: skip
    ledger.add("quote", quote, who="Ada")
    reading = {"sample": "S", "feature": "FC", "measure": "station", "nominal_mm": 136,
               "value_mm": 136.1}  # fmt: skip
    ledger.add("measurement", reading, who="Ada")
    ledger.add("instrument", {"code": "001", "design": "D"}, who="Ada")
    return ledger


def printed(book, kind, code, folder, wishes=None, language="en"):
    made = write_ledger_paper(
        book, kind, code, folder, who="Ada", words=Reader(language), wishes=wishes
    )
    html = made.html.read_text(encoding="utf-8")
    return re.sub(
        r"\s+", " ", unescape(re.sub(r"<(style|svg).*?</\1>|<[^>]+>", " ", html, flags=re.S))
    )


def test_a_set_up_sheet_knows_what_the_mechanism_gives(book, tmp_path):
    rows = {row.hole: row for row in set_up_rows(book, "S", "D", None)}
    assert len(rows) == 17
    # Drawn lifts of the invented set: FC 3.9 and A 2.3 mm; its weights at the touch 35 and 50 g.
    assert rows["FC"].wanted_lift_mm == pytest.approx(3.9, abs=0.01)
    assert rows["A"].wanted_lift_mm == pytest.approx(2.3, abs=0.01)
    assert rows["A"].lift_mm is None
    told = [str(each) for each in rows["FC"].remarks]
    assert told == [
        "set the lift to 3.90 mm, as the keys give",
        "its spring should give 35 g at the touch",
    ]
    card = printed(book, PaperKind.SET_UP, "S", tmp_path, PaperWishes(design="D"))
    assert "4.50 (3.90)" in card
    assert "(2.30)" in card
    # RV's touch lies 24.0 from the axis over a body of 14.8, its tube has 0.03 between its posts.
    assert rows["RV"].wanted_height_mm == pytest.approx(9.2, abs=0.05)
    assert rows["RV"].wanted_play_mm == pytest.approx(0.03, abs=2e-3)
    assert "(9.2)" in card
    assert "(0.03)" in card


def test_a_traveller_says_what_lifts_and_springs_are_checked_against(book, tmp_path):
    told = printed(book, PaperKind.TRAVELLER, "001", tmp_path)
    assert "within 0.2 mm of RV 1.50, S4 2.30" in told
    assert re.search(r"grams at the touch within 15 % of RV 50, .*EB 30", told)


def test_an_order_holds_the_source_to_what_seats_and_sounds(book, tmp_path):
    wishes = PaperWishes(quantity=2, design="D")
    told = printed(book, PaperKind.KEYWORK_ORDER, "K", tmp_path, wishes)
    # TP: arm 17.25 over a hole of 5.5, so its hinge may be 0.05 × 17.25 / 5.5 = 0.157 off.
    assert re.search(r"TP hinge to pad's middle 17\.25", told)
    assert re.search(r"TP hinge below pad's face 7\.0\d ±0\.16", told)
    assert re.search(r"TP tube length 28\.97 ±0\.015", told)
    assert "How to measure: key shut" in told
    assert "−" not in told.split("What every set must measure")[1].split("Please")[0]
    without = printed(book, PaperKind.KEYWORK_ORDER, "K", tmp_path, PaperWishes(quantity=2))
    assert "tube length" not in without
    assert "How to measure" not in without


def test_a_survey_of_another_body_is_named_or_passed_over(book):
    other = EXAMPLE.parent / "class-chalumeau" / "chalumeau.toml"
    made = values_with_file(book, "design", {"code": "C"}, other)
    book.add("design", made, who="Ada")
    with pytest.raises(LedgerError, match="lacks"):
        set_up_rows(book, "S", "C", None)
    assert surveyed_figures(book, "C") == []
