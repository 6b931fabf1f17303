"""Inches for millimetres, a part ten times too large: noticed at the door, in one message."""

from __future__ import annotations

import re

import pytest

from borewright.errors import ModelError
from borewright.model import Instrument, KeyworkSurvey, Part, load, read_survey

MM_PER_INCH = 25.4
PLAIN = {
    "name": "tube",
    "length_mm": 100.0,
    "bore": [(0.0, 15.0), (100.0, 15.0)],
    "outside": [(0.0, 30.0), (100.0, 30.0)],
}


def scaled_text(text: str, factor: float) -> str:
    """An instrument's text with every length multiplied, as if measured in another unit."""

    def multiply(match: re.Match[str]) -> str:
        return f"{float(match.group()) * factor:.5g}"

    lines = []
    for line in text.splitlines():
        if "_mm" in line or line.lstrip().startswith(("bore", "outside", "[0,", "[65,")):
            line = re.sub(r"(?<![\w.])\d+(\.\d+)?", multiply, line)
        lines.append(line)
    return "\n".join(lines)


def test_a_file_in_inches_gets_one_message_that_says_so(tmp_path, clarinet_text):
    path = tmp_path / "inches.toml"
    path.write_text(scaled_text(clarinet_text, 1 / MM_PER_INCH), encoding="utf-8")
    with pytest.raises(ModelError) as caught:
        load(path)
    error = caught.value
    assert "inches, not millimetres" in str(error)
    assert "25.4" in str(error.remedy)
    assert "2.55" in str(error.cause)  # the barrel's 65 mm
    assert "more finding" not in str(error)


def test_one_length_in_inches(refused):
    error = refused("length_mm = 65.0", "length_mm = 2.56")
    assert "inches, not millimetres" in str(error)
    assert "barrel" in str(error)
    assert "65.02" in str(error)


def test_one_bore_in_inches(refused):
    error = refused("[0, 15.0]", "[0, 0.59]")
    assert "inches, not millimetres" in str(error)
    assert "0.59" in str(error)


def test_one_hole_in_inches(refused):
    error = refused("diameter_mm = 6.2", "diameter_mm = 0.244")
    assert "inches, not millimetres" in str(error)
    assert "L1" in str(error)


def test_a_part_ten_times_too_large(tmp_path, clarinet_text):
    path = tmp_path / "large.toml"
    path.write_text(scaled_text(clarinet_text, 10), encoding="utf-8")
    with pytest.raises(ModelError) as caught:
        load(path)
    assert "lost decimal point" in str(caught.value)
    assert "(mm)" in str(caught.value)


@pytest.mark.parametrize("length", [10.0, 1000.0])
def test_the_limits_of_length_are_inside(length):
    ends = {"bore": [(0, 15), (length, 15)], "outside": [(0, 30), (length, 30)]}
    assert Part.model_validate({**PLAIN, **ends, "length_mm": length}).length_mm == length


@pytest.mark.parametrize("diameter", [3.0, 120.0])
def test_the_limits_of_bore_are_inside(diameter):
    ends = {"bore": [(0, diameter), (100, diameter)], "outside": [(0, 150), (100, 150)]}
    assert Part.model_validate({**PLAIN, **ends}).bore_diameter_at(50) == diameter


@pytest.mark.parametrize(
    "change",
    [
        {"length_mm": 9.9, "bore": [(0, 15), (9.9, 15)], "outside": [(0, 30), (9.9, 30)]},
        {"length_mm": 1001, "bore": [(0, 15), (1001, 15)], "outside": [(0, 30), (1001, 30)]},
        {"bore": [(0, 2.9), (100, 2.9)]},
        {"bore": [(0, 121), (100, 121)], "outside": [(0, 150), (100, 150)]},
    ],
)
def test_beyond_the_limits(change):
    with pytest.raises(ValueError, match="millimetres"):
        Part.model_validate({**PLAIN, **change})


SURVEY_HEADING = "item,name,part,station_mm,bearing_deg,hole,pad_diameter_mm,rest,lift_mm"


def survey(tmp_path, factor: float, pad: float = 9.5) -> KeyworkSurvey:
    rows = [
        f"cup,vent cup,joint,{13 * factor},180,RV,{pad},closed,1.5",
        f"cup,first cup,joint,{111.5 * factor},0,L1,{pad},open,2",
        f"cup,second cup,joint,{139.5 * factor},0,L2,{pad},open,2",
    ]
    path = tmp_path / "survey.csv"
    path.write_text("\n".join([SURVEY_HEADING, *rows]), encoding="utf-8")
    return read_survey(path)


def test_a_survey_that_agrees(tmp_path, clarinet: Instrument):
    survey(tmp_path, 1.0).check_against(clarinet)
    survey(tmp_path, 1.02).check_against(clarinet)


@pytest.mark.parametrize(
    ("factor", "words"), [(1 / MM_PER_INCH, "inches"), (0.1, "centimetres"), (10.0, "ten times")]
)
def test_a_survey_in_another_unit(tmp_path, clarinet, factor, words):
    with pytest.raises(ModelError, match=words) as caught:
        survey(tmp_path, factor).check_against(clarinet)
    assert "survey.csv" in str(caught.value)
    assert caught.value.remedy


def test_a_pad_in_inches(tmp_path):
    with pytest.raises(ModelError, match="inches, not millimetres") as caught:
        survey(tmp_path, 1.0, pad=0.374)
    assert "line 2" in str(caught.value)


@pytest.mark.parametrize(
    ("row", "words"),
    [
        ("cup,c,bell,50,0,L1,9.5,open,2", ("bell", "barrel", "joint")),
        ("cup,c,joint,50,0,XX,9.5,open,2", ("XX", "RV")),
        ("cup,c,joint,250,0,L1,9.5,open,2", ("250", "180")),
        ("cup,c,barrel,50,0,L1,9.5,open,2", ("L1", "barrel", "joint")),
    ],
)
def test_a_survey_of_another_instrument(tmp_path, clarinet, row, words):
    path = tmp_path / "survey.csv"
    path.write_text(f"# a comment\n{SURVEY_HEADING}\n{row}\n", encoding="utf-8")
    with pytest.raises(ModelError) as caught:
        read_survey(path).check_against(clarinet)
    assert "line 3" in str(caught.value)
    for word in words:
        assert word in str(caught.value)
