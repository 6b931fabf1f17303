"""Parts on the bed: laid out apart and inside it, and standing so in the files themselves."""

from __future__ import annotations

import itertools
import math
import xml.etree.ElementTree as ElementTree
import zipfile
from pathlib import Path

import numpy as np
import pytest

from borewright.printing import (
    PRINTERS,
    MaterialProfile,
    PrinterProfile,
    plan_layout,
    standings,
)
from borewright.solids import export_solids

CORE = "{http://schemas.microsoft.com/3dmanufacturing/core/2015/02}"


@pytest.fixture(scope="module")
def best(clarinet):
    return [standings(clarinet, part, PRINTERS["tall frame"])[0] for part in clarinet.parts]


def test_neighbours_keep_apart_and_inside_the_bed(best):
    printer = PRINTERS["tall frame"]
    layout = plan_layout(best, printer, {})
    across = {one.part: one.across_mm for one in best}
    (bed,) = layout.beds
    assert {one.part for one in bed.places} == set(across)
    for one in bed.places:
        for at, side in ((one.x_mm, printer.build_mm[0]), (one.y_mm, printer.build_mm[1])):
            assert at - across[one.part] / 2 >= printer.margin_mm
            assert at + across[one.part] / 2 <= side - printer.margin_mm
    for a, b in itertools.combinations(bed.places, 2):
        between = math.hypot(a.x_mm - b.x_mm, a.y_mm - b.y_mm)
        assert between - (across[a.part] + across[b.part]) / 2 >= 8


def test_a_small_bed_takes_fewer_and_a_lone_part_needs_no_bed_file(best):
    narrow = PRINTERS["tall frame"].model_copy(update={"build_mm": (110.0, 70.0, 300.0)})
    layout = plan_layout(best, narrow, {})
    placed = [one.part for bed in layout.beds for one in bed.places]
    assert len(placed) == len(set(placed))
    assert all(len(bed.places) > 1 for bed in layout.beds)
    assert [one.part for one in layout.alone] == [one.part for one in best]


def items(path: Path) -> dict[str, tuple[np.ndarray, np.ndarray]]:
    """{part: (vertices as placed, the same as drawn)} read from the file's own XML."""
    with zipfile.ZipFile(path) as archive:
        root = ElementTree.fromstring(archive.read("3D/3dmodel.model"))
    drawn = {}
    for each in root.iter(f"{CORE}object"):
        corners = [[float(v.get(a)) for a in "xyz"] for v in each.iter(f"{CORE}vertex")]
        drawn[each.get("id")] = (each.get("name"), np.array(corners))
    found = {}
    for item in root.iter(f"{CORE}item"):
        name, corners = drawn[item.get("objectid")]
        rows = np.array([float(v) for v in item.get("transform").split()]).reshape(4, 3)
        # 3MF core specification 3.3: points are rows, multiplied from the left.
        found[name] = (corners @ rows[:3] + rows[3], corners)
    return found


@pytest.mark.slow
def test_the_files_stand_as_planned(one_part, tmp_path):
    from borewright.model import Tenon, ToneHole

    part = one_part(
        ToneHole(name="h", station_mm=20, diameter_mm=6),
        tenon_top=Tenon(length_mm=12, diameter_mm=22),
    )
    other = part.parts[0].model_copy(update={"name": "other", "holes": []})
    design = part.model_copy(update={"parts": [part.parts[0], other]})
    printer = PRINTERS["tall frame"]
    best = [standings(design, each, printer)[0] for each in design.parts]
    assert {one.down.value for one in best} == {"bottom"}
    layout = plan_layout(best, printer, {"joint": "No support in the bore."})
    report = export_solids(design, tmp_path, layout=layout)
    alone = items(Path(report.parts[0].three_mf))["joint"][0]
    (bed,) = report.beds
    together = items(Path(bed))
    assert set(together) == {"joint", "other"}
    for standing in (alone, *(placed for placed, _ in together.values())):
        assert standing[:, 2].min() == pytest.approx(0, abs=1e-4)
        assert standing[:, 2].max() == pytest.approx(112, abs=1e-3)
        # The tenon is 22 mm wide and uppermost; the foot is the body's 30 mm.
        foot = standing[standing[:, 2] < 0.01]
        tip = standing[standing[:, 2] > 111.99]
        assert np.ptp(foot[:, 0]) == pytest.approx(30, abs=0.05)
        assert np.ptp(tip[:, 0]) == pytest.approx(22, abs=0.05)
    assert alone[:, 0].mean() == pytest.approx(printer.build_mm[0] / 2, abs=2.0)
    # Turned, not mirrored: the hole at the front, -y as drawn, is at +y, its x unchanged.
    placed, drawn = together["joint"]
    middle = next(one for one in layout.beds[0].places if one.part == "joint")
    assert placed[:, 0] - middle.x_mm == pytest.approx(drawn[:, 0], abs=1e-4)
    assert placed[:, 1] - middle.y_mm == pytest.approx(-drawn[:, 1], abs=1e-4)
    with zipfile.ZipFile(report.parts[0].three_mf) as archive:
        assert b"No support in the bore." in archive.read("3D/3dmodel.model")


def test_every_key_of_a_profile_is_in_the_manual():
    page = (Path(__file__).parents[2] / "docs" / "printing.md").read_text(encoding="utf-8")
    for profile in (PrinterProfile, MaterialProfile):
        for key in profile.model_fields:
            assert f"`{key}`" in page, key
