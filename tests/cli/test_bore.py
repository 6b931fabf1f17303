"""``borewright bore``: measure, overlay, blend and perturb from file to file."""

from __future__ import annotations

import json

import pytest

from borewright.model import load
from borewright.tasks.examples import Example, copy_example


@pytest.fixture
def wide(tmp_path):
    return copy_example(Example.WIDE_BORE, tmp_path / "wide")[0]


def test_measure_smooths_draws_and_puts_the_bore_in_place(type_in, wide, tmp_path):
    readings, new = wide.with_name("measured-bore.csv"), tmp_path / "new.toml"
    words = ["bore", "measure", readings, "--part", "lower joint", "--into", wide]
    result = type_in(*words, "--output", new, "--plot", tmp_path / "pictures", "--json")
    assert result.exit_code == 0, result.output
    found = json.loads(result.stdout)
    [part] = found["parts"]
    starts = [each for each in part["breaks"] if each["kind"] == "flare start"]
    # The example's flare starts at 140 mm.
    assert starts[0]["station_mm"]["low"] <= 140 <= starts[0]["station_mm"]["high"]
    assert load(new).part("lower joint").bore_diameter_at(100.0) == pytest.approx(14.75, abs=0.03)
    assert load(new).part("upper joint") == load(wide).part("upper joint")
    assert "# No real maker" in new.read_text(encoding="utf-8")
    made = sorted(path.name for path in (tmp_path / "pictures").iterdir())
    assert made == ["bore-lower-joint.png", "bore-lower-joint.svg"]
    text = type_in("bore", "measure", readings, "--part", "lower joint").stdout
    assert "flare start at" in text


def test_overlay_of_an_instrument_and_a_measured_bore(type_in, wide, clarinet, tmp_path):
    readings = wide.with_name("measured-bore.csv")
    words = ["bore", "overlay", clarinet, wide, readings, "--part", "lower joint"]
    result = type_in(*words, "--plot", tmp_path, "--json")
    table = json.loads(result.stdout)
    assert table["bores"] == [
        "clarinet/clarinet", "wide/clarinet", "wide/measured-bore",
    ]  # fmt: skip
    [row] = [row for row in table["rows"] if row["station_mm"] == 100.0]
    assert row["wider_mm"] == pytest.approx([0.1, 0.1], abs=0.03)
    assert (tmp_path / "bores.png").stat().st_size > 10_000
    assert "mean" in type_in(*words).stdout


def test_blend_without_a_fit(type_in, wide, clarinet, tmp_path):
    new = tmp_path / "blend" / "half.toml"
    words = ["bore", "blend", clarinet, wide, "--no-refit", "--bell", "0"]
    result = type_in(*words, "--output", new, "--plot", tmp_path / "pictures", "--json")
    assert result.exit_code == 0, result.output
    found = json.loads(result.stdout)
    assert found["fractions"]["bell"] == 0
    assert found["fractions"]["throat"] == 0.5
    assert found["refitted"] is None
    made = load(new)
    assert made.part("bell").bore == load(clarinet).part("bell").bore
    assert made.part("upper joint").bore_diameter_at(150.0) == pytest.approx(14.70)
    # Its tables are named from where it lies now.
    assert type_in("check", new).exit_code in (0, 1)
    assert len(found["pictures"]) == 4
    assert "shares of the second" in type_in(*words).stdout


def test_perturb_gives_a_curve_a_fingering(type_in, chalumeau, tmp_path):
    words = ["bore", "perturb", chalumeau, "--every", "20"]
    found = json.loads(type_in(*words, "--plot", tmp_path, "--json").stdout)
    assert len(found["cents"]) == len(found["fingerings"])
    assert len(found["cents"][0]) == len(found["stations"])
    assert (tmp_path / "bore-curves.svg").is_file()
    assert "0.05 mm wider" in type_in(*words).stdout


def test_wrong_input_gets_one_line(refused, wide, clarinet, chalumeau, tmp_path):
    readings = wide.with_name("measured-bore.csv")
    assert "there is no part 'bell'" in refused("bore", "measure", readings, "--part", "bell")
    assert "go together" in refused("bore", "measure", readings, "--into", wide)
    assert "nothing to compare" in refused("bore", "overlay", wide)
    assert "2 parts were measured" in refused("bore", "overlay", wide, readings)
    assert "not made of the same parts" in refused("bore", "blend", clarinet, chalumeau)
    assert "is there already" in refused("bore", "blend", clarinet, wide, "--output", wide)
    assert "does not exist" in refused("bore", "measure", tmp_path / "none.csv")
