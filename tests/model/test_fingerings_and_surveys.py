"""Fingering tables and keywork surveys: what a row must hold."""

from __future__ import annotations

import pytest

from borewright.errors import ModelError
from borewright.model import Register, Rest, SurveyItem, Use, read_fingerings, read_survey

FINGERINGS = """\
# format = 1
written,register,open_holes,use,label,comment
E3,chalumeau,,,,all closed
Bb3,chalumeau,L1 L2,standard,,
Bb3,chalumeau,L2,alternate,fork,
B4,clarion,RV,,,
"""

SURVEY = """\
item;name;part;station_mm;bearing_deg;hole;up_mm;down_mm;pad_diameter_mm;rest;lift_mm;ring_inside_mm;thread_mm
cup;vent cup;joint;13,0;180;RV;0,5;0,5;9,0;closed;1,5;;
ring;first ring;joint;111,5;0;L1;;;;;;10,2;
post;post 1;joint;20;-90;;;;;;;;3
"""


def table(tmp_path, text):
    path = tmp_path / "f.csv"
    path.write_text(text, encoding="utf-8")
    return read_fingerings(path)


def keywork(tmp_path, text):
    path = tmp_path / "k.csv"
    path.write_text(text, encoding="utf-8")
    return read_survey(path)


def test_fingerings_are_read(tmp_path, clarinet):
    found = table(tmp_path, FINGERINGS)
    found.check_against(clarinet)
    assert [fingering.name for fingering in found.fingerings] == ["E3", "Bb3", "Bb3 (fork)", "B4"]
    assert found.fingerings[0].open_holes == ()
    assert found.fingerings[1].open_holes == ("L1", "L2")
    assert found.fingerings[2].use is Use.ALTERNATE
    assert found.fingerings[3].register_ is Register.CLARION
    assert found.fingerings[3].register_.resonance == 2


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("E3,", "H3,", ("line 3", "'H3'", "not a note")),
        ("E3,", "C99,", ("line 3", "C99")),
        ("E3,", ",", ("line 3", "written", "missing")),
        ("Bb3,chalumeau,L2", "Bb3,low,L2", ("line 5", "'low'", "chalumeau")),
        ("L1 L2", "L1 L1", ("line 4", "L1", "twice")),
        ("alternate,fork", "sometimes,fork", ("line 5", "'sometimes'", "alternate")),
        ("alternate,fork", "alternate,", ("line 5", "Bb3", "twice", "label")),
    ],
)
def test_a_wrong_fingering_is_refused_with_its_line(tmp_path, old, new, words):
    with pytest.raises(ModelError) as caught:
        table(tmp_path, FINGERINGS.replace(old, new, 1))
    for word in words:
        assert word in str(caught.value)
    assert caught.value.remedy


def test_an_unknown_hole_is_refused_with_its_line(tmp_path, clarinet):
    found = table(tmp_path, FINGERINGS.replace("L1 L2", "L1 L9", 1))
    with pytest.raises(ModelError) as caught:
        found.check_against(clarinet)
    assert "line 4" in str(caught.value)
    assert "'L9'" in str(caught.value.cause)
    assert "L2" in str(caught.value.remedy)


def test_many_fingerings_are_checked_quickly_enough_to_finish(tmp_path):
    rows = "".join(f"E3,chalumeau,,alternate,a{i},\n" for i in range(20_000))
    assert len(table(tmp_path, FINGERINGS + rows).fingerings) == 20_004


def test_a_survey_is_read(tmp_path, clarinet):
    found = keywork(tmp_path, SURVEY)
    found.check_against(clarinet)
    vent = found.for_hole("RV")
    assert (vent.item, vent.rest, vent.pad_diameter_mm) == (SurveyItem.CUP, Rest.CLOSED, 9.0)
    assert found.for_hole("L1").ring_inside_mm == 10.2
    assert found.for_hole("L2") is None
    assert [post.name for post in found.posts()] == ["post 1"]


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("cup;vent", "cap;vent", ("line 2", "'cap'", "cup")),
        (";180;RV", ";190;RV", ("line 2", "bearing_deg", "180")),
        (";180;RV", ";180;", ("line 2", "hole")),
        ("closed;1,5", "closed;", ("line 2", "lift_mm")),
        ("closed;1,5", "shut;1,5", ("line 2", "'shut'", "closed")),
        ("0,5;0,5", "-0,5;0,5", ("line 2", "up_mm")),
        ("10,2", "", ("line 3", "ring_inside_mm")),
        (";L1;", ";RV;", ("RV", "two rows", "line 3")),
        ("first ring", "", ("line 3", "name", "missing")),
        (";;3\n", ";;\n", ("line 4", "thread_mm")),
        (";;3\n", ";;3\npost;post 1;joint;40;-90;;;;;;;;3\n", ("line 5", "post 1", "twice")),
    ],
)
def test_a_wrong_survey_row_is_refused_with_its_line(tmp_path, old, new, words):
    with pytest.raises(ModelError) as caught:
        keywork(tmp_path, SURVEY.replace(old, new, 1))
    for word in words:
        assert word in str(caught.value)
    assert caught.value.remedy
