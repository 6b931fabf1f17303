"""The invented loan clarinet with everything a workshop needs, measured back from its files."""

from __future__ import annotations

import math
from importlib.resources import files
from pathlib import Path

import numpy as np
import pytest

from borewright.model import (
    BodyFeatures,
    Instrument,
    Part,
    PostBase,
    PostHole,
    SeatShape,
    Socket,
    SurveyItem,
    SurveyRow,
    Tenon,
    ThumbRest,
    ToneHole,
    load,
    read_survey,
)
from borewright.solids import (
    Material,
    body_volume_mm3,
    bore_diameter_mm,
    export_solids,
    feature_findings,
    hole_measure,
    part_body,
    plan_posts,
    read_mesh,
)

EXAMPLE = Path(str(files("borewright") / "examples" / "loan-clarinet"))
#: What the project promises of bodies measured back (mm, degrees).
BACK_MM, BACK_DEG = 0.03, 0.2


@pytest.fixture(scope="session")
def full(tmp_path_factory):
    """The example with serial number and thumb rest: (instrument, posts, report)."""
    plain = load(EXAMPLE / "clarinet.toml")
    parts = [
        part.model_copy(update={"thumb_rest": ThumbRest(station_mm=105)})
        if part.name == "lower joint"
        else part
        for part in plain.parts
    ]
    instrument = plain.model_copy(update={"parts": parts, "serial": "LP-0017"})
    posts = plan_posts(instrument, read_survey(EXAMPLE / "keywork.csv"))
    folder = tmp_path_factory.mktemp("full")
    report = export_solids(
        instrument, folder, posts=posts, material=Material("plain PLA (invented lot)")
    )
    return instrument, posts, report


def test_acoustic_dimensions_come_back_from_the_meshes(full):
    instrument, _, report = full
    for part, files_ in zip(instrument.parts, report.parts, strict=True):
        assert files_.watertight
        assert files_.valid
        mesh = read_mesh(files_.stl)
        top = part.socket_top.depth_mm if part.socket_top else 0.0
        bottom = part.length_mm - (part.socket_bottom.depth_mm if part.socket_bottom else 0.0)
        for station in np.linspace(top + 0.3, bottom - 0.3, 50):
            found = bore_diameter_mm(mesh, station)
            assert found == pytest.approx(part.bore_diameter_at(station), abs=BACK_MM)
        for hole in part.holes:
            found = hole_measure(mesh, part, hole)
            turn = (found.bearing_deg - hole.bearing_deg + 180) % 360 - 180
            assert turn == pytest.approx(0, abs=BACK_DEG)
            assert found.station_mm == pytest.approx(hole.station_mm, abs=BACK_MM)
            assert found.diameter_mm == pytest.approx(hole.diameter_mm, abs=BACK_MM)
            height = part.tube_height_mm(hole)
            assert found.tube_height_mm == pytest.approx(height, abs=BACK_MM)


def test_posts_are_drilled_where_the_survey_says(full):
    instrument, posts, report = full
    assert len(posts) == 14
    for part, files_ in zip(instrument.parts, report.parts, strict=True):
        mesh = read_mesh(files_.stl)
        for post in (one for one in posts if one.part == part.name):
            assert post.hole_mm == pytest.approx(3.0 - 0.4)
            # A post's hole is a tone hole to the gauge: no chimney, in a thick "bore".
            depth = part.outside_diameter_at(post.station_mm) - 2 * post.floor_mm
            assert depth == pytest.approx(10.0)
            straight = part.model_copy(
                update={
                    "bore": [(-50.0, 2 * post.floor_mm), (part.length_mm + 50, 2 * post.floor_mm)]
                }
            )
            like = ToneHole(
                name="post",
                station_mm=post.station_mm,
                bearing_deg=post.bearing_deg,
                diameter_mm=post.hole_mm,
                chimney_mm=post.base_mm - part.outside_diameter_at(post.station_mm) / 2,
            )
            with_floor = _hole_at(mesh, straight, like)
            assert with_floor[0] == pytest.approx(post.station_mm, abs=BACK_MM)
            assert with_floor[1] == pytest.approx(post.hole_mm, abs=BACK_MM)


def _hole_at(mesh, part, like):
    """Station and diameter of a blind hole in a cut across it half way down."""
    from borewright.solids.axes import bearing_direction

    out = np.array([*bearing_direction(like.bearing_deg), 0.0])
    side = np.array([*bearing_direction(like.bearing_deg + 90), 0.0])
    level = part.bore_diameter_at(like.station_mm) / 2 + 2.0
    section = mesh.section(plane_origin=level * out, plane_normal=out)
    loops = [loop for loop in section.discrete]
    centres = [(loop @ side, loop[:, 2]) for loop in loops]
    for aside, along in centres:
        width = np.ptp(along)
        if abs(aside.mean()) < 0.1 and abs(width - like.diameter_mm) < 0.5:
            return (along.max() + along.min()) / 2, width
    raise AssertionError(f"no post's hole at {like.station_mm}")


def test_the_assembly_holds_all_parts_in_place(full):
    from build123d import import_step

    instrument, posts, report = full
    whole = import_step(report.assembly)
    pads = sum(hole.pad is not None for _, hole, _ in instrument.placed_holes())
    solids = whole.solids()
    assert len(solids) == 4 + pads + len(posts)
    volume = sum(part.volume_mm3 for part in report.parts)
    bodies = sorted((body_volume_mm3(solid) for solid in solids), reverse=True)[:4]
    assert sum(bodies) == pytest.approx(volume, rel=1e-4)
    text = Path(report.assembly).read_text(encoding="utf-8")
    assert "'pad EB'" in text
    assert "'post F hinge post'" in text


def test_step_read_back_has_the_same_volume(full):
    from build123d import import_step

    for part in full[2].parts:
        # The promise is 0.01 %; STEP keeps 15 digits.
        assert body_volume_mm3(import_step(part.step)) == pytest.approx(part.volume_mm3, rel=1e-5)


def test_three_mf_is_read_back_without_a_warning_and_names_the_material(full):
    import lib3mf

    wrapper = lib3mf.get_wrapper()
    for part in full[2].parts:
        model = wrapper.CreateModel()
        reader = model.QueryReader("3mf")
        reader.SetStrictModeActive(True)
        reader.ReadFromFile(part.three_mf)
        assert reader.GetWarningCount() == 0
        assert model.GetUnit() == lib3mf.ModelUnit.MilliMeter
        groups = model.GetBaseMaterialGroups()
        assert groups.MoveNext()
        group = groups.GetCurrentBaseMaterialGroup()
        names = [group.GetName(number) for number in group.GetAllPropertyIDs()]
        assert names == ["plain PLA (invented lot)"]


def _one(holes=(), **changes):
    body = changes.pop("body", BodyFeatures.plain())
    part = {
        "name": "joint",
        "length_mm": 100,
        "bore": [(0, 15), (100, 15)],
        "outside": [(0, 30), (100, 30)],
        "holes": [hole.model_dump() for hole in holes],
    }
    return Instrument(parts=[Part.model_validate(part | changes)], body=body)


def _volume(instrument, posts=()):
    return body_volume_mm3(part_body(instrument, "joint", posts))


def test_a_tenons_root_edge_and_groove_have_their_closed_forms():
    tenon = Tenon(length_mm=16, diameter_mm=22, cork_length_mm=10, cork_depth_mm=1)
    sharp = _volume(_one(tenon_bottom=tenon))
    edged = BodyFeatures.plain().model_copy(update={"edge_mm": 0.5})
    # A 45° edge of 0.5 on radius 11: a triangle turned about the axis (Pappus).
    edge = 2 * math.pi * (11 - 0.5 / 3) * 0.5**2 / 2
    assert sharp - _volume(_one(tenon_bottom=tenon, body=edged)) == pytest.approx(edge, rel=1e-4)
    rooted = BodyFeatures.plain().model_copy(update={"tenon_fillet_mm": 0.5})
    # The hollow is drawn by four chords: the square of the radius less four triangles.
    area = 0.5**2 * (1 - 2 * math.sin(math.pi / 8))
    # Its centroid is near that of the arc's spandrel, 0.2234 of the radius from the corner.
    root = 2 * math.pi * (11 + 0.2234 * 0.5) * area
    more = _volume(_one(tenon_bottom=tenon, body=rooted)) - sharp
    assert more == pytest.approx(root, rel=0.005)


def test_sockets_open_and_rings_sit_on_a_turned_seat():
    socket = Socket(depth_mm=16, diameter_mm=22, ring_length_mm=8, ring_inside_mm=28)
    bare = Socket(depth_mm=16, diameter_mm=22)
    step = math.pi * 8 * (15**2 - 14**2)
    assert _volume(_one(socket_top=bare)) - _volume(_one(socket_top=socket)) == pytest.approx(
        step, rel=1e-6
    )
    open_ = BodyFeatures.plain().model_copy(update={"socket_chamfer_mm": 0.8})
    mouth = 2 * math.pi * (11 + 0.8 / 3) * 0.8**2 / 2
    less = _volume(_one(socket_top=bare)) - _volume(_one(socket_top=bare, body=open_))
    assert less == pytest.approx(mouth, rel=1e-4)


@pytest.mark.parametrize("seat", list(SeatShape))
def test_a_sunk_seat_keeps_its_land_and_drops_beside_it(seat):
    hole = ToneHole(
        name="h", station_mm=50, diameter_mm=6, chimney_mm=-0.8, cover="pad",
        pad={"diameter_mm": 10, "lift_mm": 2, "rest": "open"},
    )  # fmt: skip
    body = BodyFeatures.plain().model_copy(update={"seat": seat, "seat_relief_mm": 0.4})
    less = _volume(_one([hole])) - _volume(_one([hole], body=body))
    # Columns over the floor: from it up to the old seat plane or the round body below that.
    aside, along = np.meshgrid(*[(np.arange(2200) + 0.5) / 200 - 5.5] * 2)
    off = np.hypot(aside, along)
    old = np.minimum(np.sqrt(15**2 - aside**2), 14.2)
    new = 13.8 + (np.clip(4.0 - off, 0, None) if seat is SeatShape.CROWNED else 0.0)
    columns = np.where((off > 3.6) & (off < 5.5), np.clip(old - new, 0, None), 0.0)
    # The old ring of wall, up to 4.2, stood at the seat plane all round.
    columns += np.where((off > 3.6) & (off < 4.2), np.clip(14.2 - np.maximum(old, new), 0, None), 0)
    assert less == pytest.approx(columns.sum() / 200**2, rel=2e-3)


def _post(**changes):
    row = {
        "item": SurveyItem.POST, "name": "p", "part": "joint", "station_mm": 30,
        "bearing_deg": 20, "thread_mm": 3,
    }  # fmt: skip
    from borewright.model import KeyworkSurvey

    return KeyworkSurvey(rows=[SurveyRow.model_validate(row | changes)])


@pytest.mark.parametrize(
    ("hole", "changes", "diameter"),
    [
        (PostHole.PILOT, {}, 2.6),
        (PostHole.PILOT, {"thread_pitch_mm": 0.5}, 2.5),
        (PostHole.INSERT, {}, 4.0),
        (PostHole.BONDED, {}, 3.4),
    ],
)
def test_a_posts_hole_has_the_volume_of_its_cylinder(hole, changes, diameter):
    body = BodyFeatures.plain().model_copy(update={"post_hole": hole})
    instrument = _one(body=body)
    posts = plan_posts(instrument, _post(**changes))
    assert posts[0].hole_mm == pytest.approx(diameter)
    less = _volume(instrument) - _volume(instrument, posts)
    # Below the crown the round body lacks r²/(8R) of height on average over the hole.
    radius = diameter / 2
    assert less == pytest.approx(math.pi * radius**2 * (5.0 - radius**2 / (8 * 15)), rel=1e-4)


def test_flats_and_bosses_of_posts_are_cut_and_raised():
    plain = BodyFeatures.plain()
    flat = _one(body=plain.model_copy(update={"post_base": PostBase.FLAT}))
    boss = _one(body=plain.model_copy(update={"post_base": PostBase.BOSS}))
    bare = _volume(_one())
    assert plan_posts(flat, _post())[0].base_mm == pytest.approx(math.sqrt(15**2 - 3**2))
    assert 0 < bare - _volume(flat, plan_posts(flat, _post())) < math.pi * 9 * 0.31
    raised = _volume(boss, plan_posts(boss, _post())) - bare
    # 0.6 above the crown; below it the boss fills what the round body lacks: 9/(8·15).
    assert raised == pytest.approx(math.pi * 9 * (0.6 + 9 / 120), rel=2e-3)


def test_iso_tapping_drills_agree_for_coarse_threads():
    """ISO 2306 tapping drills for coarse metric threads, from the usual shop table."""
    from borewright.solids import pilot_diameter_mm

    table = {(2.0, 0.4): 1.6, (2.5, 0.45): 2.05, (3.0, 0.5): 2.5, (4.0, 0.7): 3.3, (5.0, 0.8): 4.2}
    for (thread, pitch), drill in table.items():
        assert pilot_diameter_mm(thread, pitch, 0.4) == pytest.approx(drill, abs=1e-9)


def test_clearance_holes_are_those_of_iso_273():
    """ISO 273:1979, medium series, from the usual shop table: it is a list of its own here."""
    from borewright.solids import clearance_diameter_mm

    table = {1.6: 1.8, 2: 2.4, 2.5: 2.9, 3: 3.4, 4: 4.5, 5: 5.5}
    for thread, hole in table.items():
        assert clearance_diameter_mm(thread) == pytest.approx(hole)
    assert 3.4 < clearance_diameter_mm(3.5) < 4.5
    assert clearance_diameter_mm(1.0) == pytest.approx(1.2)


def test_text_without_room_is_told():
    long = _one(body=BodyFeatures.plain().model_copy(update={"text_height_mm": 12.0}))
    long = long.model_copy(update={"serial": "A-SERIAL-NUMBER-TOO-LONG"})
    assert "finds no room" in str(feature_findings(long)[0].what)
    short = long.model_copy(update={"serial": "A-1"})
    assert feature_findings(short) == []


def test_a_thumb_rest_is_a_flat_with_two_pilots():
    rest = ThumbRest(station_mm=50, length_mm=24, width_mm=9, screw_depth_mm=4)
    less = _volume(_one()) - _volume(_one(thumb_rest=rest))
    floor = math.sqrt(15**2 - 4.5**2)
    half = math.asin(4.5 / 15)
    segment = 15**2 * half - 4.5 * floor
    assert less == pytest.approx(24 * segment + 2 * math.pi * 4, rel=1e-3)
    boss = rest.model_copy(update={"boss_mm": 2.0})
    more = _volume(_one(thumb_rest=boss)) - _volume(_one())
    assert more == pytest.approx(
        24 * (9 * (2.0 + 15) - 9 * floor - segment) - 8 * math.pi, rel=0.01
    )


def test_marks_and_text_take_a_little_away_and_keep_off_holes():
    marked = BodyFeatures.plain().model_copy(
        update={"alignment_marks": True, "orientation_text": True}
    )
    tenon = Tenon(length_mm=10, diameter_mm=22)
    hole = ToneHole(name="h", station_mm=20, diameter_mm=7, bearing_deg=180, chimney_mm=0.8)
    bare = _volume(_one([hole], tenon_bottom=tenon))
    less = bare - _volume(_one([hole], tenon_bottom=tenon, body=marked))
    # One groove of 5 by 0.8 by 0.4 at most, and five letters of some mm².
    assert 1.6 < less < 20.0
