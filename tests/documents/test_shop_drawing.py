"""Shop drawings read back by independent libraries: PDFium for the paper, ezdxf for machines."""

from __future__ import annotations

import re
from dataclasses import replace
from importlib.resources import files
from pathlib import Path

import pytest

from borewright.documents import (
    GaugeTool,
    PostMark,
    SeatMark,
    ShopPart,
    TitleBlock,
    Tolerances,
    inspection_rows,
    inspection_sheets,
    plugs_to_turn,
    shop_sheets,
    write_inspection,
    write_sheet,
)
from borewright.documents.gauges import part_gauge_plan
from borewright.errors import DocumentsError, PlayingError
from borewright.model import Part, load
from borewright.playing import read_readings
from borewright.solids import outlines, voids
from borewright.words import Reader

EXAMPLE = Path(str(files("borewright") / "examples" / "loan-clarinet" / "clarinet.toml"))
POINT_MM = 25.4 / 72
BLOCK = TitleBlock("plain PLA", "2030-01-02", "clarinet.toml", "0123456789abcdef" * 4, 2, 4)
POSTS = (PostMark("P-1", 75.0, -50.0, 2.6, 14.64, 5.0),)


@pytest.fixture(scope="module")
def clarinet():
    return load(EXAMPLE)


def shop_part(instrument, name, posts=POSTS, tolerances=None):
    part = instrument.part(name)
    seats = [
        SeatMark(void.owner, 2 * void.radius_mm, void.low_mm)
        for void in voids(instrument, part)
        if void.kind == "seat"
    ]
    return ShopPart(part, *outlines(part, instrument), posts, seats, tolerances or Tolerances())


@pytest.fixture(scope="module")
def sheets(clarinet):
    """Each part's drawing, in English."""
    return {
        part.name: shop_sheets(clarinet, shop_part(clarinet, part.name), BLOCK)[0]
        for part in clarinet.parts
    }


def expected_sizes(part: Part) -> set[float]:
    """What must be dimensioned on a part, from the model alone (mm)."""
    found = {part.length_mm}
    for tenon in (part.tenon_top, part.tenon_bottom):
        found |= {tenon.length_mm, tenon.diameter_mm} if tenon else set()
    for socket in (part.socket_top, part.socket_bottom):
        found |= {socket.depth_mm, socket.diameter_mm} if socket else set()
    found |= {d for s, d in part.outside if s in (0, part.length_mm)}
    low = part.socket_top.depth_mm if part.socket_top else 0
    high = part.length_mm - (part.socket_bottom.depth_mm if part.socket_bottom else 0)
    found |= {d for s, d in part.bore if low + 8 < s < high - 8}
    return found | {s for s, _ in part.outside if 0 < s < part.length_mm}


def number(text: str) -> float:
    return float(re.search(r"\d+(?:[.,]\d+)?", text)[0].replace(",", "."))


@pytest.mark.parametrize("name", ["barrel", "upper joint", "lower joint", "bell"])
def test_every_dimension_says_what_the_model_is(clarinet, sheets, name):
    sheet = sheets[name]
    for each in sheet.dimensions:
        assert number(each.text) == pytest.approx(each.measured_mm, abs=0.0051), each
    said = {round(each.measured_mm, 2) for each in sheet.dimensions}
    assert {round(size, 2) for size in expected_sizes(clarinet.part(name))} <= said


@pytest.mark.parametrize("name", ["barrel", "upper joint", "lower joint"])
def test_the_dxf_measures_what_the_model_is(clarinet, sheets, name, tmp_path):
    import ezdxf

    drawing = ezdxf.readfile(write_sheet(sheets[name], tmp_path / "d.dxf"))
    assert not drawing.audit().errors
    space = drawing.modelspace()
    measured = []
    for each in space.query("DIMENSION[layer=='dimension']"):
        factor = each.override().get("dimlfac", 1.0)
        measured.append(each.get_measurement() * factor)
    for size in expected_sizes(clarinet.part(name)):
        assert any(found == pytest.approx(size, abs=0.01) for found in measured), size
    # The part itself is drawn 1:1, whatever the paper's scale: its outside and bore as circles.
    radii = {round(circle.dxf.radius, 3) for circle in space.query("CIRCLE[layer=='outline']")}
    outside, inside = outlines(clarinet.part(name), clarinet)
    assert round(max(radius for radius, _ in outside), 3) in radii
    assert round(min(inside[0][0], inside[-1][0]), 3) in radii
    assert len(space.query("LINE")) > 10
    assert {"outline", "hole", "centre", "dimension"} <= {
        layer.dxf.name for layer in drawing.layers
    }


def pdf_page(sheet, path):
    import pypdfium2

    return pypdfium2.PdfDocument(write_sheet(sheet, path).read_bytes())[0]


@pytest.mark.parametrize("name", ["barrel", "upper joint"])
def test_the_pdf_is_true_on_paper(clarinet, sheets, name, tmp_path):
    sheet = sheets[name]
    page = pdf_page(sheet, tmp_path / "d.pdf")
    assert page.get_width() * POINT_MM == pytest.approx(420, abs=0.01)  # A3, ISO 216
    uprights = []
    for each in page.get_objects():
        left, _, right, _ = (value * POINT_MM for value in each.get_bounds())
        if right - left < 1.0:
            uprights.append((left + right) / 2)
    for each in sheet.dimensions:
        if not each.upright and each.ratio == sheet.unit and each.measured_mm > 10:
            found = [
                min(uprights, key=lambda x, at=end[0]: abs(x - at))
                for end in (each.start, each.end)
            ]
            size = abs(found[1] - found[0]) * each.ratio
            assert size == pytest.approx(each.measured_mm, abs=0.01), each
    text = page.get_textpage().get_text_range()
    for each in sheet.dimensions:
        assert each.text in text
    for hole in clarinet.part(name).holes:
        assert hole.name in text
        assert f"{hole.station_mm:.2f}" in text
    for said in ("plain PLA", "2030-01-02", "clarinet.toml", "01234567", "2 / 4", "Datum A"):
        assert said in text


def test_the_upper_joint_has_views_details_and_tables(clarinet, sheets):
    words = {text.text for text in sheets["upper joint"].texts}
    assert {"Tone holes", "Posts, station ±0.1, bearing ±0.5°", "Parts list"} <= words
    assert {"Bore and gauge plan", "seen from the top end", "A", "B"} <= words
    assert any(told.startswith("seat and crown, S4") for told in words)
    assert any(told.startswith("cork groove, bottom tenon") for told in words)
    assert any(told.startswith("post, P-1") for told in words)
    # All holes at one bearing under one label: front, thumb and left hand as on the bench.
    assert "A L1 L2 L3 +0.0°" in words
    assert "SV +70.0°" in words


def test_no_wall_is_told_that_is_not_there(clarinet, sheets):
    # At the sockets the barrel's wall is (31 - 22.4) / 2 at its ends, and nowhere thinner.
    words = [text.text for text in sheets["barrel"].texts]
    assert words.count("4.30") == 2
    assert not any("Wall" in told or "8.0" in told for told in words)


@pytest.mark.parametrize(
    ("bottom_mm", "form"),
    [(15.12, "cylinder within the limits, ream ⌀15.13"), (14.65, "taper 1:128.0")],
)
def test_a_taper_that_no_gauge_can_tell_is_no_taper(clarinet, bottom_mm, form):
    """Over 64 mm: 0.03 mm lies within a bore's ±0.05, half a millimetre does not."""
    barrel = clarinet.part("barrel")
    bored = barrel.model_copy(update={"length_mm": 65.0, "bore": [(0.0, 15.15), (64.0, bottom_mm)]})
    shop = replace(shop_part(clarinet, "barrel"), part=bored)
    words = {text.text for text in shop_sheets(clarinet, shop, BLOCK)[0].texts}
    assert form in words


def test_many_posts_get_a_sheet_of_their_own(clarinet):
    many = [replace(POSTS[0], name=f"P-{n}", station_mm=10 + 3.0 * n) for n in range(50)]
    drawn = shop_sheets(clarinet, shop_part(clarinet, "upper joint", many), BLOCK)
    assert len(drawn) == 2
    words = {text.text for text in drawn[1].texts}
    assert {"P-0", "P-49", "Tone holes"} <= words
    for sheet in drawn:
        for text in sheet.texts:
            assert 10 < text.at[0] < sheet.width_mm
            assert 9 < text.at[1] < sheet.height_mm
    crowd = [replace(POSTS[0], name=f"P-{n}") for n in range(200)]
    with pytest.raises(DocumentsError, match="no room on A3"):
        shop_sheets(clarinet, shop_part(clarinet, "upper joint", crowd), BLOCK)


def test_german_sheets_have_german_words_and_commas(clarinet, tmp_path):
    import ezdxf

    shop = shop_part(clarinet, "upper joint")
    (sheet,) = shop_sheets(clarinet, shop, BLOCK, words=Reader("de"))
    assert "⌀14,65" in {each.text for each in sheet.dimensions}
    assert "Tonlöcher" in {text.text for text in sheet.texts}
    drawing = ezdxf.readfile(write_sheet(sheet, tmp_path / "d.dxf"))
    one = drawing.modelspace().query("DIMENSION").first
    assert chr(one.override().get("dimdsep")) == ","


def test_tolerances_follow_the_pitch_within_the_process():
    limits = Tolerances(holes={"tight": 0.001, "fair": 0.055, "loose": 3.0})
    assert limits.hole("tight") == 0.03
    assert limits.hole("fair") == 0.05
    assert limits.hole("loose") == 0.1
    assert limits.hole("unknown") == 0.1
    assert Tolerances(bores={"p": 0.04}).bore("p") == 0.04
    assert Tolerances().length("p") == 0.2


def stepped() -> Part:
    return Part.model_validate(
        {
            "name": "p", "length_mm": 100, "bore": [(0, 15), (50, 15), (50, 14), (100, 14)],
            "outside": [(0, 30), (100, 30)],
            "tenon_top": {"length_mm": 16, "diameter_mm": 22},
        }
    )  # fmt: skip


def test_gauges_see_both_sides_of_a_step_and_into_tenons():
    rows = part_gauge_plan(stepped())
    assert [(r.nominal_mm, r.side) for r in rows if r.station_mm == 50] == [(15, -1), (14, 1)]
    assert rows[0].station_mm == -16
    assert rows[0].nominal_mm == 15
    assert plugs_to_turn(rows) == [13.95, 14.05, 14.95, 15.05]


def test_a_wide_bore_behind_narrow_ends_takes_no_plug():
    part = stepped().model_copy(
        update={"bore": [(0, 14), (40, 14), (40, 15), (60, 15), (60, 14), (100, 14)]}
    )
    rows = {(row.station_mm, row.side): row for row in part_gauge_plan(part)}
    assert rows[40, 1].tool is GaugeTool.BORE_GAUGE
    assert rows[60, -1].tool is GaugeTool.BORE_GAUGE
    # A no-go plug never comes to the end of a cylinder: it would not find it too wide.
    assert rows[40, -1].tool is GaugeTool.BORE_GAUGE
    assert rows[-16, 0].tool is GaugeTool.PLUGS
    assert rows[40, 1].plugs_mm == ()


def test_the_inspection_table_is_read_back_as_readings(clarinet, tmp_path):
    limits = Tolerances(holes={"L1": 0.05})
    rows = inspection_rows(clarinet.part("upper joint"), limits)
    l1 = next(row for row in rows if (row.item, row.hole) == ("diameter", "L1"))
    assert (l1.nominal_mm, l1.lower_mm, l1.upper_mm) == pytest.approx((6.5, 6.45, 6.55))
    path = write_inspection(rows, tmp_path / "i.csv")
    with pytest.raises(PlayingError, match="nothing in it was measured"):
        read_readings(path)
    lines = path.read_text(encoding="utf-8").splitlines()
    filled = [line[: -len(",,,,,")] + "6.48,,,,," if "diameter,upper joint,L1," in line else line
              for line in lines]  # fmt: skip
    path.write_text("\n".join(filled), encoding="utf-8")
    (reading,) = read_readings(path)
    assert (reading.item.value, reading.hole, reading.value) == ("diameter", "L1", 6.48)


def test_the_inspection_sheet_has_a_box_for_everything(clarinet, tmp_path):
    part = clarinet.part("lower joint")
    rows = inspection_rows(part, Tolerances())
    drawn = inspection_sheets(clarinet, part, Tolerances(), BLOCK)
    text = "".join(
        pdf_page(sheet, tmp_path / "i.pdf").get_textpage().get_text_range() for sheet in drawn
    )
    for row in rows:
        assert f"{row.nominal_mm:.2f}" in text
        assert f"{row.lower_mm:.2f}" in text
    assert "Plugs to turn" in text


@pytest.mark.slow
def test_one_cents_worth_moves_the_worst_note_by_one_cent(tmp_path):
    """The drawing's column against the tuning itself, computed again with the size changed."""
    import borewright
    from borewright.tasks.printing.tolerances import pitch_tolerances

    file = Path(str(files("borewright") / "examples" / "class-chalumeau" / "chalumeau.toml"))
    design = load(file)
    table = borewright.read_fingerings(file.parent / design.fingerings)
    limits = pitch_tolerances(design, file)
    part = max(design.parts, key=lambda part: len(part.holes))
    hole = part.holes[-1]
    by = limits.holes[hole.name] / 2
    wider = hole.model_copy(update={"diameter_mm": hole.diameter_mm + by})
    parts = [
        one.model_copy(update={"holes": [wider if h is hole else h for h in one.holes]})
        for one in design.parts
    ]
    changed = design.model_copy(update={"parts": parts})
    before, after = (borewright.tuning(each, table) for each in (design, changed))
    moved = [
        abs(b.cents - a.cents)
        for a, b in zip(before.notes, after.notes, strict=True)
        if a.cents is not None and b.cents is not None
    ]
    assert max(moved) == pytest.approx(0.5, abs=0.1)
