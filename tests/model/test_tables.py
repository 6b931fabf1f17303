"""CSV as spreadsheets and editors write it, in every locale."""

from __future__ import annotations

import csv
import io
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from borewright.errors import ModelError
from borewright.model import read_fingerings, read_survey
from borewright.model.files.tables import TableWriter, read_table

HEADING = ["item", "name", "part", "station_mm", "bearing_deg", "hole", "pad_diameter_mm"]
HEADING += ["rest", "lift_mm", "up_mm", "comment"]


def written(rows: list[list[str]], delimiter: str) -> str:
    stream = io.StringIO()
    csv.writer(stream, delimiter=delimiter, lineterminator="\n").writerows(rows)
    return stream.getvalue()


def cup(station: str, bearing: str = "0", comment: str = "") -> list[str]:
    return ["cup", "a cup", "joint", station, bearing, "A", "9.5", "open", "2.2", "0.5", comment]


def read_back(path, text: str, encoding: str = "utf-8"):
    path.write_bytes(text.encode(encoding))
    return read_survey(path).rows


@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
@pytest.mark.parametrize("comma", [False, True], ids=["point", "decimal comma"])
@pytest.mark.parametrize("ends", ["\n", "\r\n", "\r"], ids=["LF", "CRLF", "CR"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
def test_every_spreadsheet_writes_the_same_survey(tmp_path, delimiter, comma, ends, encoding):
    row = cup("85.5", "-20.25", 'felt, "soft"; ½ worn')
    if comma:
        row = [cell.replace(".", ",") for cell in row]
    text = written([HEADING, row], delimiter).replace("\n", ends)
    (found,) = read_back(tmp_path / "s.csv", text, encoding)
    assert (found.station_mm, found.bearing_deg) == (85.5, -20.25)
    assert (found.pad_diameter_mm, found.up_mm) == (9.5, 0.5)
    assert found.comment == 'felt, "soft"; ½ worn'


@given(
    station=st.floats(10, 400, allow_nan=False).map(lambda x: round(x, 4)),
    bearing=st.floats(-180, 180, allow_nan=False).map(lambda x: round(x, 3)),
    comment=st.text(st.characters(codec="utf-8", exclude_categories=("C",)), max_size=30),
    delimiter=st.sampled_from(",;\t"),
    comma=st.booleans(),
    encoding=st.sampled_from(["utf-8", "utf-8-sig", "utf-16"]),
)
def test_any_row_survives_any_locale(
    tmp_path_factory, station, bearing, comment, delimiter, comma, encoding
):
    numbers = [f"{station:.4f}", f"{bearing:.3f}"]
    if comma:
        numbers = [text.replace(".", ",") for text in numbers]
    text = written([HEADING, cup(*numbers, comment)], delimiter)
    (found,) = read_back(tmp_path_factory.mktemp("t") / "s.csv", text, encoding)
    assert (found.station_mm, found.bearing_deg) == (station, bearing)
    assert found.comment == comment.strip()


def test_comments_and_empty_lines_are_passed_over(tmp_path):
    lines = [
        "# format = 1",
        '  # an indented remark with a "quote',
        "",
        ",".join(HEADING),
        '#, a remark "between, rows',
        ",".join(cup("50")),
        ",,,,,,,,,,",
        '"# quoted by the spreadsheet, too"',
        "",
    ]
    assert len(read_back(tmp_path / "s.csv", "\n".join(lines))) == 1


def test_headings_as_a_spreadsheet_capitalises_them(tmp_path):
    text = written([[" Item ", *HEADING[1:]], cup("50")], ",")
    assert len(read_back(tmp_path / "s.csv", text)) == 1


def test_a_cell_over_two_lines_keeps_later_line_numbers_right(tmp_path):
    wrong = cup("fifty")
    wrong[1] = "another"
    text = written([HEADING, cup("50", comment="two\nlines"), wrong], ",")
    with pytest.raises(ModelError) as caught:
        read_back(tmp_path / "s.csv", text)
    assert "line 4" in str(caught.value)


@pytest.mark.parametrize(
    "typed", ["12,5 mm", "abc", "nan", "inf", "1e999", "1_0", "1.234,5", "1,2,3", "٣", "0x10"]
)
def test_what_is_not_a_number_is_refused_with_its_place(tmp_path, typed):
    with pytest.raises(ModelError) as caught:
        read_back(tmp_path / "s.csv", written([HEADING, cup(typed)], ";"))
    assert "line 2" in str(caught.value)
    assert "station_mm" in str(caught.value)
    assert typed in str(caught.value.cause)


@pytest.mark.parametrize(
    ("typed", "value"), [("−12.5", -12.5), ("+12,5", 12.5), ("1e2", 100.0), (".5", 0.5)]
)
def test_numbers_as_people_and_programs_write_them(tmp_path, typed, value):
    (row,) = read_back(tmp_path / "s.csv", written([HEADING, cup(typed)], ";"))
    assert row.station_mm == value


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", ("heading",)),
        ("\n\n# nothing\n", ("heading",)),
        (",".join(HEADING), ("no rows",)),
        ("item,name\ncup,a", ("part", "missing")),
        ("item|name|part|station_mm|bearing_deg\n", ("semicolon",)),
        (",".join([*HEADING, "colour"]) + "\n", ("colour", "unknown")),
        (",".join([*HEADING, "hole"]) + "\n", ("hole", "twice")),
        (written([HEADING, [*cup("50"), "more"]], ","), ("line 2", "12 cells")),
        (",".join(HEADING) + "\n" + ",".join(cup("50")).replace("a cup", '"a cup'), ("line 2",)),
        ("cup,a cup,joint,50,0\n", ("columns",)),
    ],
)
def test_tables_that_are_none(tmp_path, text, words):
    with pytest.raises(ModelError) as caught:
        read_back(tmp_path / "s.csv", text)
    message = str(caught.value)
    assert "s.csv" in message
    assert caught.value.remedy
    for word in words:
        assert word in message


def test_unquoted_decimal_commas_between_commas_are_explained(tmp_path):
    row = ",".join(cup("50,5"))
    with pytest.raises(ModelError, match="semicolons") as caught:
        read_back(tmp_path / "s.csv", ",".join(HEADING) + "\n" + row)
    assert "line 2" in str(caught.value)


@pytest.mark.parametrize(
    "raw", [bytes(range(256)), b"\x00" * 50, b"\xff\xfe\x00", b"PK\x03\x04\x00", b"x" * 6_000_000]
)
@pytest.mark.parametrize("read", [read_survey, read_fingerings])
def test_files_that_hold_no_table(tmp_path, raw, read):
    path = tmp_path / "odd.csv"
    path.write_bytes(raw)
    with pytest.raises(ModelError) as caught:
        read(path)
    assert "odd.csv" in str(caught.value)


def test_a_very_long_cell_is_refused_with_its_line(tmp_path):
    with pytest.raises(ModelError) as caught:
        read_back(tmp_path / "s.csv", written([HEADING, cup("50", comment="x" * 200_000)], ","))
    assert "line 2" in str(caught.value)


@pytest.mark.parametrize(
    "line", ["# format = 1", "#format=1", "# format = 1,,,,", '"# format = 1"', "# format: 1"]
)
def test_the_format_line_as_spreadsheets_keep_it(tmp_path, line):
    text = f"{line}\n" + written([HEADING, cup("50")], ",")
    assert len(read_back(tmp_path / "s.csv", text)) == 1


@pytest.mark.parametrize("version", ["99", "0", "-1"])
def test_a_format_this_version_does_not_know(tmp_path, version):
    text = f"# format = {version}\n" + written([HEADING, cup("50")], ",")
    with pytest.raises(ModelError, match=version) as caught:
        read_back(tmp_path / "s.csv", text)
    assert "line 1" in str(caught.value)


@given(
    st.text(
        st.characters(exclude_categories=("Cs", "Cc", "Zl", "Zp")), min_size=1, max_size=30
    ).filter(lambda text: text.strip() == text and not text.startswith("#")),
    st.sampled_from(["", "=", "+", "-", "@", "'", "'=", "=cmd|' /C calc'!A0"]),
)
def test_no_spreadsheet_runs_what_a_table_holds_and_it_reads_back(tmp_path_factory, text, start):
    """Formula-like texts carry an apostrophe in the file (OWASP, "CSV injection"), only there."""
    cell = start + text
    path = tmp_path_factory.mktemp("tables") / "table.csv"
    stream = io.StringIO()
    writer = TableWriter(stream)
    writer.writerow(["item", "value"])
    writer.writerow([cell, "-12.5"])
    path.write_text(stream.getvalue(), encoding="utf-8")
    written = next(csv.reader(stream.getvalue().splitlines()[1:]))
    assert not written[0].startswith(("=", "+", "-", "@")) or re.fullmatch(r"[-+]?[\d.]+", cell)
    assert written[1] == "-12.5"
    assert read_table(path, ("item", "value"), ()) == [(2, {"item": cell, "value": "-12.5"})]
