import re
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

from borewright.model import Instrument
from borewright.solids import body_volume_mm3, export_solids, part_body, read_mesh
from borewright.solids._file_names import file_names


def test_every_part_is_valid_and_watertight(clarinet, exported):
    _, report = exported
    assert [part.part for part in report.parts] == [part.name for part in clarinet.parts]
    for part in report.parts:
        assert part.valid
        assert part.watertight
        assert part.volume_mm3 > 0
    # Tenons of 16 and 21 mm beyond 180; the bell's rim is its widest.
    assert report.parts[1].bounding_box_mm[2] == pytest.approx(217, abs=1e-3)
    assert report.parts[3].bounding_box_mm[:2] == pytest.approx((63.5, 63.5), abs=1e-3)


def test_stl_is_one_closed_body_of_the_right_volume(exported):
    for part in exported[1].parts:
        mesh = read_mesh(part.stl)
        assert mesh.is_watertight
        assert mesh.is_winding_consistent
        assert mesh.body_count == 1
        # Chords of 0.004 mm on walls of some mm: under 0.05 %.
        assert mesh.volume == pytest.approx(part.volume_mm3, rel=5e-4)
        assert Path(part.stl).read_bytes()[:10] == b"binary STL"


def test_step_read_back_has_the_same_volume_and_name(exported):
    from build123d import import_step

    for part in exported[1].parts:
        body = import_step(part.step)
        # STEP keeps 15 digits, and both integrals are good to a millionth.
        assert body_volume_mm3(body) == pytest.approx(part.volume_mm3, rel=3e-6)
        assert body.is_valid
        assert f"PRODUCT('{part.part}'" in Path(part.step).read_text(encoding="utf-8")


def test_step_text_repeats_but_for_its_time(one_part, tmp_path):
    texts = []
    for folder in ("first", "second"):
        report = export_solids(one_part(), tmp_path / folder)
        text = Path(report.parts[0].step).read_text(encoding="utf-8")
        texts.append(re.sub(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d", "", text))
    assert texts[0] == texts[1]


def test_3mf_reads_back_in_millimetres_with_its_names(exported):
    import lib3mf

    for part in exported[1].parts:
        model = lib3mf.get_wrapper().CreateModel()
        reader = model.QueryReader("3mf")
        reader.SetStrictModeActive(True)
        reader.ReadFromFile(part.three_mf)
        assert [reader.GetWarning(i) for i in range(reader.GetWarningCount())] == []
        assert model.GetUnit() == lib3mf.ModelUnit.MilliMeter
        bodies = model.GetMeshObjects()
        assert bodies.Count() == 1
        assert bodies.MoveNext()
        body = bodies.GetCurrentMeshObject()
        assert body.GetName() == part.part
        assert body.IsManifoldAndOriented()
        assert body.IsValid()
        assert model.GetBuildItems().Count() == 1
        group = model.GetMetaDataGroup()
        marking = {
            item.GetName(): item.GetValue()
            for item in map(group.GetMetaData, range(group.GetMetaDataCount()))
        }
        assert marking["Title"] == f"invented clarinet – {part.part}"
        assert marking["Application"] == "Borewright"
        assert "Invented demonstration data" in marking["Description"]
        stl = read_mesh(part.stl)
        points = np.array([list(p.Coordinates) for p in body.GetVertices()])
        assert body.GetTriangleCount() == len(stl.faces)
        # Both files hold the same single-precision points.
        assert np.ptp(points, axis=0) == pytest.approx(stl.extents, abs=1e-4)


def test_nothing_but_the_files_is_left(exported):
    folder, report = exported
    named = {Path(p).name for part in report.parts for p in (part.step, part.stl, part.three_mf)}
    named.add(Path(report.assembly).name)
    assert {file.name for file in folder.iterdir()} == named
    assert "upper-joint.step" in named
    assert report.model_dump(mode="json", by_alias=True)["parts"][0]["3mf"].endswith("barrel.3mf")


def test_names_that_would_meet_are_numbered():
    names = ["Bell", "bell", "upper joint", "upper/joint", "bell-2", "aux", "../..", "Tête"]
    assert file_names(names) == [
        "Bell",
        "bell-2",
        "upper-joint",
        "upper-joint-2",
        "bell-2-2",
        "part-aux",
        "part",
        "Tête",
    ]
    # The same accent, composed and decomposed, is one name to some file systems.
    assert file_names(["T\u00eate", "Te\u0302te"]) == ["Tête", "Tête-2"]


def test_parts_with_meeting_names_both_get_files(one_part, tmp_path):
    part = one_part().parts[0]
    shorter = part.model_copy(update={"name": "JOINT", "length_mm": 60.0})
    progress = []
    report = export_solids(
        Instrument(parts=[part, shorter]), tmp_path, lambda *step: progress.append(step)
    )
    heights = [read_mesh(p.stl).extents[2] for p in report.parts]
    assert heights == pytest.approx([100, 60], abs=1e-4)
    assert len(list(tmp_path.iterdir())) == 7
    assert progress == [("joint", 0, 2), ("JOINT", 1, 2), ("", 2, 2)]


def test_mesh_and_solid_lie_in_the_same_place(clarinet, exported):
    box = part_body(clarinet, "upper joint").bounding_box()
    bounds = read_mesh(exported[1].parts[1].stl).bounds
    # Chimneys at the back and side make the box lopsided: a mirrored mesh would show.
    for corner, side in zip(bounds, (box.min, box.max), strict=True):
        assert corner == pytest.approx((side.X, side.Y, side.Z), abs=0.01)


def test_the_room_is_light_until_it_works():
    code = (
        "import sys, borewright.solids as room; "
        "heavy = {'build123d', 'OCP', 'trimesh', 'lib3mf', 'scipy'} & set(sys.modules); "
        "missing = [name for name in room.__all__ if not hasattr(room, name)]; "
        "print(sorted(heavy), missing)"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "[] []"
