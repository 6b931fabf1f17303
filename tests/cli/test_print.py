"""``borewright print``, ``coupon`` and ``drawings``: what they write, say and refuse."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest

from borewright.model import load
from borewright.printing import Fault, FeatureKind, SimulatedPrinter, coupon_sheet
from borewright.solids import bore_diameter_mm, hole_measure, read_mesh

FAULTS = {kind: Fault(-0.15, 0.001, 0.02) for kind in FeatureKind}


@pytest.fixture
def measured(tmp_path):
    file = tmp_path / "measured.csv"
    file.write_text(coupon_sheet(SimulatedPrinter(FAULTS, 4).measured), encoding="utf-8")
    return file


@pytest.mark.slow
def test_print_writes_everything_and_compensates(type_in, chalumeau, measured, tmp_path):
    folder = tmp_path / "job"
    words = ("print", chalumeau, "--output", folder, "--measured", measured, "--ream-bore", 0.2)
    result = type_in(*words, "--json")
    assert result.exit_code in (0, 1), result.output
    data = json.loads(result.stdout)
    files = [data["assembly"], *data["files"]]
    files += [part[kind] for part in data["parts"] for kind in ("step", "stl", "3mf")]
    assert all(Path(file).is_file() for file in files)
    assert {Path(file).suffix for file in files} >= {".pdf", ".svg", ".dxf", ".png", ".csv", ".stl"}
    sizes = data["compensation"]["sizes"]
    holes = [one for one in sizes if one["kind"] == "side hole"]
    # Hollows come out 0.15 mm small, so they are drawn that much larger.
    assert all(0.1 < one["drawn_mm"] - one["designed_mm"] < 0.2 for one in holes)
    assert _drawn_and_meshed(chalumeau, data) >= 10
    assert data["estimate"]["mass_g"] > 0
    assert any("ream" in step for step in data["reaming"])


def _drawn_and_meshed(design, data):
    """Compare the files for the printer with the sizes that the report says were drawn."""
    checked = 0
    meshes = {part["part"]: read_mesh(Path(part["stl"])) for part in data["parts"]}
    drawn = {
        (one["part"], one["feature"]): one["drawn_mm"] for one in data["compensation"]["sizes"]
    }
    for part in load(design).parts:
        for hole in part.holes:
            found = hole_measure(meshes[part.name], part, hole)
            assert found.diameter_mm == pytest.approx(
                drawn[part.name, f"hole {hole.name}"], abs=0.03
            )
            checked += 1
        ends = {station for station, _ in part.bore}
        sizes = [drawn[part.name, f"bore at {station:g}"] for station in sorted(ends)]
        for station in np.linspace(min(ends) + 20, max(ends) - 20, 5):
            found = bore_diameter_mm(meshes[part.name], station)
            expected = np.interp(station, sorted(ends), sizes)
            assert found == pytest.approx(expected, abs=0.03)
            checked += 1
    return checked


@pytest.mark.slow
def test_a_small_printer_gets_its_parts_in_two(type_in, clarinet, tmp_path):
    profile = tmp_path / "little.toml"
    profile.write_text('name = "little"\nbuild_mm = [180, 180, 180]\n', encoding="utf-8")
    words = ("--output", tmp_path / "job", "--printer", profile, "--no-drawings", "--json")
    result = type_in("print", clarinet, *words)
    assert result.exit_code == 0, result.output
    data = json.loads(result.stdout)
    assert data["printer"] == "little"
    # The lower joint has 7 mm between the F hinge's post and the F-sharp hole, and no more within
    # reach of both ends: it comes in three, with joints of 12 mm.
    cuts = [(split["part"], split["upper"], split["lower"]) for split in data["splits"]]
    assert cuts == [
        ("upper joint", "upper joint A", "upper joint B"),
        ("lower joint", "lower joint A", "lower joint B"),
        ("lower joint", "lower joint B", "lower joint C"),
    ]
    assert min(split["tenon_length_mm"] for split in data["splits"]) >= 8
    assert all(standing["fits"] for standing in data["standings"])
    assert all(part["watertight"] and part["valid"] for part in data["parts"])
    assert len(data["parts"]) == 7


def test_a_part_that_cannot_be_made_keeps_nothing_back_of_the_rest(type_in, chalumeau, tmp_path):
    profile = tmp_path / "tiny.toml"
    profile.write_text('name = "tiny"\nbuild_mm = [90, 90, 90]\n', encoding="utf-8")
    words = ("--output", tmp_path / "job", "--printer", profile, "--no-drawings", "--json")
    result = type_in("print", chalumeau, *words)
    assert result.exit_code == 1, result.output
    data = json.loads(result.stdout)
    assert [part["part"] for part in data["parts"]] == ["head"]
    assert Path(data["parts"][0]["3mf"]).is_file()
    assert Path(data["assembly"]).is_file()
    assert not list((tmp_path / "job").glob("body*"))
    first = data["findings"][0]
    assert first["severity"] == "fault"
    assert "part 'body'" in first["place"]
    assert "no file is written for it" in first["what"]
    assert "2.5 mm of wall" in first["what"]
    # 160 mm and a tenon, with the printer's margin of 2 mm at both ends.
    assert "177 mm tall" in first["remedy"]


def test_a_printer_too_small_for_everything_is_refused(refused, chalumeau, tmp_path):
    profile = tmp_path / "dwarf.toml"
    profile.write_text('name = "dwarf"\nbuild_mm = [40, 40, 40]\nmargin_mm = 8\n', encoding="utf-8")
    words = refused("print", chalumeau, "--output", tmp_path / "job", "--printer", profile)
    assert "more than the printer's bed" in words
    assert not list(tmp_path.glob("job/*"))


def test_a_bed_too_small_for_the_coupon_is_refused(refused, tmp_path):
    profile = tmp_path / "little.toml"
    profile.write_text('name = "little"\nbuild_mm = [120, 120, 120]\n', encoding="utf-8")
    words = refused("coupon", "--output", tmp_path / "c", "--printer", profile)
    assert "'coupon tube' is 156 mm tall" in words
    assert not list(tmp_path.glob("c/*"))


def test_drawings_are_written_for_every_part(type_in, chalumeau, tmp_path):
    result = type_in("drawings", chalumeau, "--output", tmp_path / "d", "--json")
    assert result.exit_code == 0, result.output
    names = {Path(path).name for path in json.loads(result.stdout)["files"]}
    assert {"body.pdf", "body-template.pdf", "body-template.dxf", "head.svg"} <= names
    assert "gauge-plan.csv" in names


def test_a_measured_coupon_is_shown(type_in, measured):
    data = json.loads(type_in("coupon", "--measured", measured, "--json").stdout)
    assert {line["kind"] for line in data["kinds"]} == {kind.value for kind in FeatureKind}
    text = type_in("coupon", "--measured", measured).stdout
    assert "hole upright" in text
    assert "scatter" in text


def test_what_is_refused(refused, type_in, chalumeau, measured, tmp_path):
    out = ("--output", tmp_path / "job")
    assert "tall frame" in refused("print", chalumeau, *out, "--printer", "vast")
    assert "wood-filled PLA" in refused("print", chalumeau, *out, "--material", "lead")
    text = measured.read_text(encoding="utf-8").replace("tube bore,bore", "tube bole,bore")
    measured.write_text(text, encoding="utf-8")
    words = refused("print", chalumeau, *out, "--measured", measured)
    assert "line 9, column 'feature'" in words
    bad = tmp_path / "bad.toml"
    bad.write_text('name = "x"\nbuild_mm = [150, 150]\n', encoding="utf-8")
    assert "build_mm" in refused("print", chalumeau, *out, "--printer", bad)
    assert not (tmp_path / "job").exists()
    assert type_in("coupon").exit_code == 2
    assert type_in("drawings", chalumeau, *out, "--paper", "A0").exit_code == 2


def standing(bed):
    """{part: its vertices as they stand on the bed}, by 3MF's reference library."""
    import lib3mf

    model = lib3mf.get_wrapper().CreateModel()
    model.QueryReader("3mf").ReadFromFile(bed)
    items, found = model.GetBuildItems(), {}
    while items.MoveNext():
        item = items.GetCurrent()
        body = model.GetMeshObjectByID(item.GetObjectResource().GetResourceID())
        fields = np.array([list(row) for row in item.GetObjectTransform().Fields])
        points = np.array([list(point.Coordinates) for point in body.GetVertices()])
        found[body.GetName()] = points @ fields[:3] + fields[3]
    return found


@pytest.mark.slow
def test_the_coupon_comes_with_its_sheet(type_in, tmp_path):
    folder = tmp_path / "c"
    result = type_in("coupon", "--output", folder, "--label", "lot 7", "--json")
    assert result.exit_code == 0, result.output
    data = json.loads(result.stdout)
    assert [part["part"] for part in data["parts"]] == [
        "coupon tube",
        "coupon block",
        "coupon ring",
    ]
    assert all(part["watertight"] and part["valid"] for part in data["parts"])
    (bed,) = data["beds"]
    stood = standing(bed)
    assert set(stood) == {"coupon tube", "coupon block", "coupon ring"}
    assert all(points[:, 2].min() == pytest.approx(0.0, abs=1e-4) for points in stood.values())
    # The block stands on its plain end, 30 mm about a bore of 3.2; its tenon is uppermost.
    heights = stood["coupon block"][:, 2]
    foot, tip = (stood["coupon block"][heights < 1e-3], stood["coupon block"][heights > 71.99])
    assert np.ptp(foot[:, 0]) == pytest.approx(30.0, abs=0.05)
    assert np.ptp(tip[:, 0]) == pytest.approx(22.0, abs=0.05)
    sheet = Path(data["sheet"])
    assert sheet.read_text(encoding="utf-8") == coupon_sheet(lot="lot 7")
    sheet.write_text("mine", encoding="utf-8")
    assert type_in("coupon", "--output", folder).exit_code == 0
    assert sheet.read_text(encoding="utf-8") == "mine"
