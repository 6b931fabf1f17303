"""``borewright check``: findings, and an exit code that a script can rely on."""

from __future__ import annotations

import json
import re

import pytest


def answer(result, code: int) -> dict:
    assert result.exit_code == code, result.output
    data = json.loads(result.stdout)
    assert set(data) == {"findings", "faults", "notices"}
    assert data["faults"] + data["notices"] == len(data["findings"])
    for finding in data["findings"]:
        # A finding about keys says further which check it is and how far off.
        assert {"severity", "place", "what", "remedy"} <= set(finding)
        assert finding["remedy"]
    return data


def test_a_sound_instrument(type_in, chalumeau):
    assert answer(type_in("check", chalumeau, "--json"), 0)["faults"] == 0
    result = type_in("check", chalumeau)
    assert result.exit_code == 0
    assert "chalumeau.toml: no faults" in result.stdout


def test_two_fingerings_of_one_open_set_are_a_fault(type_in, chalumeau):
    table = chalumeau.with_name("fingerings.csv")
    table.write_text(
        "written,register,open_holes\nF4,chalumeau,\nG4,chalumeau,R4\nA4,chalumeau,R4\n",
        encoding="utf-8",
    )
    data = answer(type_in("check", chalumeau, "--json"), 1)
    [fault] = [finding for finding in data["findings"] if finding["severity"] == "fault"]
    assert "fingerings.csv, line 3 and line 4" in fault["place"]
    assert "'G4' and 'A4'" in fault["what"]
    result = type_in("check", chalumeau)
    assert result.exit_code == 1
    assert fault["what"] in result.stdout
    assert fault["remedy"] in result.stdout
    assert "1 fault," in result.stdout


def test_one_open_set_on_two_resonances_is_no_fault(type_in, chalumeau):
    table = chalumeau.with_name("fingerings.csv")
    table.write_text(
        "written,register,open_holes,resonance\nF4,chalumeau,,\nC6,chalumeau,,2\n",
        encoding="utf-8",
    )
    assert answer(type_in("check", chalumeau, "--json"), 0)["faults"] == 0


def test_a_wall_that_is_too_thin_is_a_fault(type_in, chalumeau):
    # Two neighbours with 0.2 mm between them: fit.wall_between_holes_mm asks for more.
    text = chalumeau.read_text(encoding="utf-8")
    first = text.index("[[part.hole]]")
    second = text.index("[[part.hole]]", first + 1)
    block = text[first:second]
    assert 'name = "L1"' in block
    crowded = block.replace('"L1"', '"extra"').replace("station_mm = 8.0", "station_mm = 13.2")
    assert crowded != block
    chalumeau.write_text(text[:second] + crowded + text[second:], encoding="utf-8")
    data = answer(type_in("check", chalumeau, "--json"), 1)
    assert any("extra" in finding["place"] + finding["what"] for finding in data["findings"])


def test_a_file_without_tables_is_told_so(type_in, clarinet):
    text = clarinet.read_text(encoding="utf-8")
    for name in ("keywork", "keys", "fingerings"):
        text, found = re.subn(rf"(?m)^{name} = .*\n", "", text)
        assert found == 1
    clarinet.write_text(text, encoding="utf-8")
    data = answer(type_in("check", clarinet, "--json"), 0)
    notices = " ".join(finding["what"] for finding in data["findings"])
    assert "no keywork survey is named" in notices
    assert "no fingering table is named" in notices


@pytest.mark.parametrize("example", ["chalumeau", "clarinet"])
def test_tables_given_go_before_those_named(type_in, request, example):
    file = request.getfixturevalue(example)
    other = file.with_name("other.csv")
    other.write_text(
        "written,register,open_holes\nF4,chalumeau,\nG4,chalumeau,\n", encoding="utf-8"
    )
    data = answer(type_in("check", file, "--fingerings", other, "--json"), 1)
    assert any("other.csv" in finding["place"] for finding in data["findings"])
