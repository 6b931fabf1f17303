"""Shop drawings and drilling templates: true to scale in every format, and nothing left out."""

from __future__ import annotations

import itertools
import math
import re
import zlib
from importlib.resources import files
from pathlib import Path

import pytest

from borewright.documents import (
    GaugeTool,
    PostMark,
    ShopPart,
    gauge_plan,
    shop_sheets,
    template_sheet,
    write_gauge_plan,
    write_sheet,
)
from borewright.documents.unrolled import Unrolling, hole_curve
from borewright.errors import DocumentsError
from borewright.model import Part, ToneHole, load

EXAMPLE = Path(str(files("borewright") / "examples" / "loan-clarinet" / "clarinet.toml"))
POINT_MM = 25.4 / 72
POSTS = (PostMark("left post", 75.0, -50.0, 2.6, 14.5, 5.0),)


@pytest.fixture(scope="module")
def clarinet():
    return load(EXAMPLE)


@pytest.fixture(scope="module")
def template(clarinet):
    return template_sheet(clarinet, clarinet.part("upper joint"), POSTS)


def pdf_content(data: bytes) -> str:
    """All drawing commands of a PDF, inflated."""
    found = []
    for stream in re.findall(rb"stream\r?\n(.*?)\r?\nendstream", data, re.DOTALL):
        try:
            found.append(zlib.decompress(stream).decode("latin-1"))
        except zlib.error:
            continue
    return "\n".join(found)


def pdf_lines(data: bytes) -> list[tuple[float, float, float, float]]:
    """Straight lines of two points in a PDF, in mm of paper."""
    number = r"(-?[\d.]+)"
    pattern = rf"{number} {number} m\s+{number} {number} l\s+S"
    return [
        tuple(float(value) * POINT_MM for value in match)
        for match in re.findall(pattern, pdf_content(data))
    ]


def test_the_pdf_template_is_true_to_scale(clarinet, template, tmp_path):
    data = write_sheet(template, tmp_path / "t.pdf").read_bytes()
    box = re.search(rb"/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)\s*\]", data)
    # A4 across, ISO 216.
    assert float(box[1]) * POINT_MM == pytest.approx(297, abs=0.01)
    assert float(box[2]) * POINT_MM == pytest.approx(210, abs=0.01)
    lines = pdf_lines(data)
    level = [x1 - x0 for x0, y0, x1, y1 in lines if abs(y1 - y0) < 1e-3]
    upright = [y1 - y0 for x0, y0, x1, y1 in lines if abs(x1 - x0) < 1e-3]
    assert any(abs(length) == pytest.approx(100, abs=0.01) for length in level)
    assert any(abs(length) == pytest.approx(50, abs=0.01) for length in upright)
    # Crosses of two holes on one line: as far apart on paper as their stations.
    part = clarinet.part("upper joint")
    centres = {}
    for hole in part.holes:
        arm = max(2.0, hole.diameter_mm / 2 + 1.5)
        flat = Unrolling(part).at(hole.station_mm, hole.bearing_deg)
        for x0, y0, x1, y1 in lines:
            if abs(y1 - y0) < 1e-3 and abs(abs(x1 - x0) - 2 * arm) < 0.01:
                middle = ((x0 + x1) / 2, (y0 + y1) / 2)
                left = (297 - 180) / 2
                if abs(middle[0] - left - flat[0]) < 0.05:
                    centres[hole.name] = middle
    assert centres["L2"][0] - centres["L1"][0] == pytest.approx(139.0 - 109.5, abs=0.01)
    around = centres["S3"][1] - centres["A"][1]
    # 70° round a body of 29.6.
    assert around == pytest.approx(-math.radians(70) * 14.8, abs=0.01)


def test_the_svg_and_the_dxf_have_the_same_size(template, tmp_path):
    import ezdxf

    svg = write_sheet(template, tmp_path / "t.svg").read_text(encoding="utf-8")
    # Points of 1/72 inch: 297 mm are 841.89.
    width = float(re.search(r'width="([\d.]+)pt"', svg)[1])
    assert width * POINT_MM == pytest.approx(297, abs=0.01)
    drawing = ezdxf.readfile(write_sheet(template, tmp_path / "t.dxf"))
    assert drawing.units == ezdxf.units.MM
    assert not drawing.audit().errors
    bars = [line for line in drawing.modelspace().query("LINE[layer=='outline']")]
    lengths = [bar.dxf.start.distance(bar.dxf.end) for bar in bars]
    assert any(length == pytest.approx(100) for length in lengths)
    holes = drawing.modelspace().query("LWPOLYLINE[layer=='hole']")
    assert len(holes) == 15
    # For a drill on an index: true circles at station and arc length, one a hole and a post.
    drilled = drawing.modelspace().query("CIRCLE[layer=='drill']")
    assert len(drilled) == 16
    by_station = {round(circle.dxf.center.x, 3): circle for circle in drilled}
    left = (297 - 180) / 2
    for name, size in (("L2", 6.5), ("CG", 5.0)):
        circle = by_station[round(left + {"L2": 139.0, "CG": 169.5}[name], 3)]
        assert circle.dxf.radius == pytest.approx(size / 2)


def test_a_cylinder_unrolls_to_its_girth():
    part = straight()
    flat = Unrolling(part)
    assert flat.at(30, 180) == pytest.approx((30, math.pi * 15))
    assert flat.at(30, -90) == pytest.approx((30, -math.pi * 7.5))


def straight(bottom=30.0):
    return Part(
        name="p", length_mm=100, bore=[(0, 15), (100, 15)], outside=[(0, 30), (100, bottom)]
    )


@pytest.mark.parametrize("bottom", [24.0, 36.0])
def test_a_cone_unrolls_without_stretching(bottom):
    """Neighbouring points keep their distance on the body, wherever they are."""
    flat = Unrolling(straight(bottom))

    def on_body(station, bearing):
        radius = (30 + (bottom - 30) * station / 100) / 2
        turn = math.radians(bearing)
        return radius * math.cos(turn), radius * math.sin(turn), station

    for station, bearing in ((10, 0), (50, 90), (80, -170)):
        for ds, db in ((0.01, 0), (0, 0.01), (0.01, 0.02)):
            real = math.dist(on_body(station, bearing), on_body(station + ds, bearing + db))
            paper = math.dist(flat.at(station, bearing), flat.at(station + ds, bearing + db))
            assert paper == pytest.approx(real, rel=1e-4)


def test_a_holes_edge_is_wider_round_the_body():
    curve = hole_curve(Unrolling(straight()), 50.0, 0.0, 5.0)
    xs, ys = zip(*curve, strict=True)
    assert max(xs) - min(xs) == pytest.approx(10, abs=0.02)
    assert max(ys) - min(ys) == pytest.approx(2 * 15 * math.asin(5 / 15), abs=0.02)


def test_paper_grows_and_a_template_is_never_scaled(clarinet):
    lower = clarinet.part("lower joint")
    assert template_sheet(clarinet, lower).width_mm == 297
    long = Part(
        name="p", length_mm=350, bore=[(0, 15), (350, 15)], outside=[(0, 30), (350, 30)],
        holes=[ToneHole(name="h", station_mm=50, diameter_mm=6)],
    )  # fmt: skip
    assert template_sheet(clarinet, long).width_mm == 420
    with pytest.raises(DocumentsError, match="must not be scaled"):
        template_sheet(clarinet, long, paper="A4")


def test_the_shop_drawing_lists_everything(clarinet):
    part = clarinet.part("upper joint")
    outside = [(14.8, 0.0), (14.8, 180.0)]
    (sheet,) = shop_sheets(clarinet, ShopPart(part, outside, [(7.3, 0.0), (7.3, 180.0)], POSTS))
    words = {text.text for text in sheet.texts}
    for hole in part.holes:
        assert hole.name in words
        assert f"{hole.station_mm:.2f}" in words
        assert f"{part.tube_height_mm(hole):.2f}" in words
    assert {"left post", "top tenon", "bottom tenon", "cork 11 by 0.7 deep"} <= words
    assert "Bore by features, ⌀ ±0.05" in words
    assert "(invented" in " ".join(words)
    for text in sheet.texts:
        assert 0 < text.at[0] < sheet.width_mm
        assert 0 < text.at[1] < sheet.height_mm


def test_gauges_follow_the_bore(clarinet, tmp_path):
    rows = [row for row in gauge_plan(clarinet) if row.part == "lower joint"]
    straight_row = next(row for row in rows if row.least_depth_mm is None)
    assert straight_row.no_go_mm - straight_row.go_mm == pytest.approx(0.1)
    cone = next(row for row in rows if row.station_mm > 200 and row.least_depth_mm is not None)
    lower = clarinet.part("lower joint")
    for depth in (cone.least_depth_mm, cone.most_depth_mm):
        assert abs(lower.bore_diameter_at(depth) - cone.nominal_mm) == pytest.approx(0.05, abs=1e-6)
    assert max(b.station_mm - a.station_mm for a, b in itertools.pairwise(rows)) <= 40
    # The bell opens 1 mm of diameter per mm at its rim: no plug's depth says anything there.
    rim = gauge_plan(clarinet)[-1]
    assert rim.tool is GaugeTool.CALLIPER
    assert rim.least_depth_mm is None
    text = write_gauge_plan(clarinet, tmp_path / "g.csv").read_text(encoding="utf-8")
    assert len(text.splitlines()) == 1 + len(gauge_plan(clarinet))


def test_another_suffix_is_refused(template, tmp_path):
    with pytest.raises(DocumentsError, match="not a drawing format"):
        write_sheet(template, tmp_path / "t.docx")
