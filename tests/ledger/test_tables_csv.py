"""Every table goes out as CSV and comes in again as it was; formulas stay text."""

from __future__ import annotations

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from borewright.errors import LedgerError
from borewright.ledger import csv_text, import_csv
from borewright.ledger.fields import LONGEST_NOTE
from borewright.ledger.tables_csv import read_csv

ODD = [
    "=1+1",
    "-x",
    "+x",
    "@sum",
    "'quoted",
    "''two",
    'say "so"',
    "a,b;c",
    "🎷 שלום",
    "# no comment",
]


def test_odd_texts_come_back(ledger):
    rows = [{"code": text, "contact": text, "note": f"{text}\n\n second"} for text in ODD]
    ledger.add_many("source", rows, who="Ada")
    text = csv_text("source", ledger.records("source"))
    back = [row for _, row in read_csv("source", text, "x.csv")]
    assert [(r["code"], r["contact"], r["note"]) for r in back] == [
        (r["code"], r["contact"], r["note"]) for r in rows
    ]
    cells = [row[0] for row in csv.reader(io.StringIO(text))]
    assert not [cell for cell in cells if cell.startswith(("=", "+", "-", "@"))]


@given(
    st.text(st.characters(exclude_categories=("Cs", "Cc"), include_characters="\n\t"), max_size=40)
)
def test_any_note_comes_back(note):
    record = {"code": "A", "contact": None, "verdict": None, "note": note, "version": 1,
              "withdrawn": False}  # fmt: skip
    ((_, row),) = read_csv("source", csv_text("source", [record]), "x.csv")
    assert row["note"] == note


def test_semicolons_and_decimal_commas(ledger):
    text = "\ufeffcode;stuff;moisture_percent;unit_price;currency\r\nL1;filament;0,2;24,50;EUR\r\n"
    (row,) = import_csv(ledger, "lot", text, who="Ada", place="lots.csv")
    assert row["moisture_percent"] == 0.2
    assert str(row["unit_price"]) == "24.50"


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "line 1: there is no heading"),
        ("code,colour\nA,red\n", "'colour' is unknown"),
        ("code,code\nA,B\n", "there twice"),
        ("code,contact\nA,b,c\n", "line 2: has 3 cells"),
        ('code,contact\nA,"b\n', "is not a table"),
        ("code,contact\n", "no rows"),
        ("code,verdict\nA,open\nB,maybe\n", "line 3, source, verdict"),
        ("code,contact\nA,b\nA,c\n", "already a keywork source 'A'"),
    ],
)
def test_a_bad_table_is_refused_whole(ledger, text, words):
    with pytest.raises(LedgerError, match=words):
        import_csv(ledger, "source", text, who="Ada", place="x.csv")
    assert ledger.count("source") == 0


def test_checks_are_judged_on_the_way_in(ledger):
    sha256 = ledger.keep_file("d.toml", b"x")
    design = {"code": "D", "name": "n", "file": sha256, "file_name": "f", "parts": "barrel"}
    ledger.add("design", design, who="Ada")
    ledger.add("instrument", {"code": "1", "design": "D"}, who="Ada")
    text = "instrument,subject,feature,value,who\n1,leak,upper joint,4,Ada\n1,bore,top,0.02,Ada\n"
    leak, bore = import_csv(ledger, "check", text, who="Ada", place="checks.csv")
    assert (leak["passed"], bore["passed"]) == (False, True)
    wrong = "instrument,subject,value,passed,who\n1,leak,4,yes,Ada\n"
    with pytest.raises(LedgerError, match=r"line 2.*says passed=yes, but 4 lies outside"):
        import_csv(ledger, "check", wrong, who="Ada", place="checks.csv")


def test_cells_may_be_as_long_as_a_note_may_be():
    before = csv.field_size_limit()
    text = "code,note\nA," + "x" * 1_000_000 + "\n"
    ((_, row),) = read_csv("source", text, "x.csv")
    assert len(row["note"]) == 1_000_000 < LONGEST_NOTE
    assert csv.field_size_limit() == before


def test_a_table_of_checks_signs_nothing_off_too_early(ledger):
    sha256 = ledger.keep_file("d.toml", b"x")
    design = {"code": "D", "name": "n", "file": sha256, "file_name": "f",
              "parts": "upper", "sealed_parts": "upper"}  # fmt: skip
    ledger.add("design", design, who="Ada")
    ledger.add("instrument", {"code": "007", "design": "D"}, who="Ada")
    rows = ["instrument,subject,feature,value,passed,who"]
    rows += [
        "007,bore,,0.01,,Ada",
        "007,cork fit,,,yes,Ada",
        "007,springs,,,yes,Ada",
        "007,lifts,,,yes,Ada",
    ]
    rows += ["007,tuning,G4,-3.5,,Ada", "007,sign-off,,,yes,Ada"]
    with pytest.raises(LedgerError, match=r"line 7, check: signs '007' off.*leak, upper"):
        import_csv(ledger, "check", "\n".join(rows), who="Ada", place="checks.csv")
    assert ledger.count("check") == 0
    rows.insert(1, "007,leak,upper,20,,Ada")
    records = import_csv(ledger, "check", "\n".join(rows), who="Ada", place="checks.csv")
    assert [record["subject"] for record in records][-1] == "sign-off"
