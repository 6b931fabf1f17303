"""``borewright barrels`` and ``bells``: text, JSON, chart, and sizes that are none."""

from __future__ import annotations

import json

import pytest


def test_barrels_are_mapped_chosen_and_drawn(type_in, clarinet, tmp_path):
    words = ["barrels", clarinet, "--lengths", "62,63.5,65,66.5,68", "--shapes", "straight,waist"]
    result = type_in(*words, "--plot", tmp_path / "pictures", "--json")
    assert result.exit_code == 0, result.output
    found = json.loads(result.stdout)
    assert found["kind"] == "barrel"
    assert {member["length_mm"] for member in found["members"]} == {62, 63.5, 65, 66.5, 68}
    pitches = [found["members"][each["member"]]["pitch_cents"] for each in found["chosen"]]
    assert pitches == pytest.approx([-10, 0, 10], abs=2.0)
    assert (tmp_path / "pictures" / "barrels.png").stat().st_size > 10_000
    text = type_in(*words).stdout
    assert "in place" in text
    assert "twelfths" in text


def test_wrong_wishes_get_one_line(refused, clarinet, chalumeau):
    assert "is not a list of sizes" in refused("barrels", clarinet, "--lengths", "long")
    assert "'square' is unknown" in refused("bells", clarinet, "--shapes", "square")
    assert "has no bell" in refused("bells", chalumeau)
