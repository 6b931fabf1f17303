"""The section drawing: parts in outline, true to scale, readable names."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ElementTree
from pathlib import Path
from types import ModuleType

import pytest

from borewright.documents import developed_drawing, section_drawing
from borewright.documents._profile import inner_line, outer_line, wall_outline
from borewright.errors import DocumentsError
from borewright.model import Part, Socket, Tenon

POINTS_PER_MM = 72 / 25.4
SVG = "{http://www.w3.org/2000/svg}"


def _xs(root: ElementTree.Element, gid: str) -> list[float]:
    """Abscissae (points of paper) of the path with that identifier."""
    group = next(element for element in root.iter(f"{SVG}g") if element.get("id") == gid)
    path = next(group.iter(f"{SVG}path"))
    return [float(x) for x, _ in re.findall(r"[ML] (-?[\d.]+) (-?[\d.]+)", path.get("d") or "")]


@pytest.mark.parametrize(("paper_mm", "scale"), [(186.0, 0.5), (390.0, 1.0), (150.0, 0.4)])
def test_a_hundred_millimetres_measure_a_hundred_times_the_scale(
    invented: ModuleType, tmp_path: Path, paper_mm: float, scale: float
) -> None:
    path = section_drawing(invented.clarinet(), tmp_path / "s.svg", paper_width_mm=paper_mm)
    root = ElementTree.parse(path).getroot()
    width_pt = float((root.get("width") or "").removesuffix("pt"))
    view_box = [float(value) for value in (root.get("viewBox") or "").split()]
    assert view_box[2] == pytest.approx(width_pt)  # a unit of the drawing is a point of paper
    # SVG coordinates are written with six decimals, so 1e-3 mm is ample.
    for gid_a, gid_b in (("ruler-100-mm", "ruler-200-mm"), ("ruler-400-mm", "ruler-500-mm")):
        distance = (_xs(root, gid_b)[0] - _xs(root, gid_a)[0]) / POINTS_PER_MM
        assert distance == pytest.approx(100 * scale, abs=1e-3)
    bar = next(
        element.get("id") or ""
        for element in root.iter(f"{SVG}g")
        if (element.get("id") or "").startswith("check-bar")
    )
    stated = float(bar.split("-")[2])
    ends = _xs(root, bar)
    assert (ends[-1] - ends[0]) / POINTS_PER_MM == pytest.approx(stated * scale, abs=1e-3)


def test_walls_are_drawn_at_their_stations(invented: ModuleType, tmp_path: Path) -> None:
    path = section_drawing(invented.pipe(), tmp_path / "pipe.svg", scale=1.0)
    root = ElementTree.parse(path).getroot()
    wall = _xs(root, "wall-1-front-from-0")
    assert (max(wall) - min(wall)) / POINTS_PER_MM == pytest.approx(120.0, abs=1e-3)


def test_names_and_dimensions_of_every_hole_are_in_the_drawing(
    invented: ModuleType, tmp_path: Path
) -> None:
    instrument = invented.clarinet()
    text = section_drawing(instrument, tmp_path / "s.svg").read_text(encoding="utf-8")
    for _, hole, station in instrument.placed_holes():
        for words in (hole.name, f"⌀{hole.diameter_mm:.1f}", f"{station:.1f}"):
            assert f"<!-- {words} -->" in text
    assert "Scale 1:1" in text


def test_names_do_not_cover_each_other(invented: ModuleType) -> None:
    from borewright.documents._figure import drawing_settings
    from borewright.documents.section import section_figure

    with drawing_settings():
        figure = section_figure(invented.clarinet(), 186.0)
        figure.draw_without_rendering()
        texts = [text for axes in figure.axes for text in axes.texts if text.get_text()]
        boxes = [(t.get_text(), t.get_window_extent()) for t in texts]
    sheet = figure.bbox
    for index, (words, box) in enumerate(boxes):
        assert box.x0 >= sheet.x0 - 1e-6, words
        assert box.x1 <= sheet.x1 + 1e-6, words
        for other_words, other in boxes[index + 1 :]:
            assert not box.overlaps(other), f"{words!r} covers {other_words!r}"


@pytest.mark.parametrize("draw", [section_drawing, developed_drawing])
@pytest.mark.parametrize("kind", ["clarinet", "pipe"])
def test_drawings_are_the_same_every_time_and_come_as_png_too(
    invented: ModuleType, tmp_path: Path, draw: object, kind: str
) -> None:
    assert callable(draw)
    instrument = getattr(invented, kind)()
    first = draw(instrument, tmp_path / "a.svg").read_bytes()
    assert draw(instrument, tmp_path / "b.svg").read_bytes() == first
    assert draw(instrument, tmp_path / "a.png").read_bytes().startswith(b"\x89PNG")


def test_an_instrument_without_holes_is_drawn(invented: ModuleType, tmp_path: Path) -> None:
    pipe = invented.pipe()
    bare = pipe.model_copy(update={"parts": [pipe.parts[0].model_copy(update={"holes": []})]})
    for draw in (section_drawing, developed_drawing):
        ElementTree.parse(draw(bare, tmp_path / "bare.svg"))


def test_a_foreign_suffix_is_refused_with_a_remedy(invented: ModuleType, tmp_path: Path) -> None:
    with pytest.raises(DocumentsError, match=r"\.svg or \.png"):
        section_drawing(invented.pipe(), tmp_path / "pipe.bmp")
    assert list(tmp_path.iterdir()) == []


def test_paper_too_narrow_is_refused(invented: ModuleType, tmp_path: Path) -> None:
    with pytest.raises(DocumentsError, match="wider paper"):
        section_drawing(invented.clarinet(), tmp_path / "s.svg", paper_width_mm=20)


def test_outlines_follow_tenon_and_socket() -> None:
    part = Part(
        name="joint",
        length_mm=100,
        bore=[(0, 15), (100, 14)],
        outside=[(0, 30), (100, 30)],
        socket_top=Socket(depth_mm=10, diameter_mm=22),
        tenon_bottom=Tenon(length_mm=20, diameter_mm=23),
    )
    assert outer_line(part) == [(0, 15), (100, 15), (100, 11.5), (120, 11.5)]
    # The bore at the socket's floor: 15 less a tenth of the fall to 14, as a radius.
    assert inner_line(part) == [(0, 11), (10, 11), (10, 7.45), (100, 7.0), (120, 7.0)]
    assert wall_outline(part)[0] == (0, 15)
    assert wall_outline(part)[-1] == (0, 11)
