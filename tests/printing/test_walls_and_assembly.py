import math

import pytest

from borewright.model import KeyworkSurvey, Pad, Socket, SurveyItem, SurveyRow, Tenon, ToneHole
from borewright.printing import MATERIALS, assembly_findings, joint_findings, wall_findings
from borewright.printing.walls import wall_mm, wall_to_bore_mm
from borewright.solids import PostPlan, Void
from borewright.words import Reader

PLA = MATERIALS["plain PLA"]


def void(station=0.0, bearing=0.0, radius=2.0, low=7.0, high=15.0, **named):
    return Void(
        named.get("kind", "hole"), named.get("owner", "a"), station, bearing, radius, low, high
    )


def test_parallel_cylinders_have_their_closed_form():
    # 0.3 mm of spacing on radius 2: chords of 0.0056 mm on each side at most.
    assert wall_mm(void(), void(station=9.0)) == pytest.approx(5.0, abs=0.01)
    assert wall_mm(void(), void(station=3.0)) == 0.0


def test_opposite_and_skewed_cylinders():
    # Thin rods a quarter turn apart are nearest at their inner ends: 7 √2.
    found = wall_mm(void(radius=0.01), void(radius=0.01, bearing=90))
    assert found == pytest.approx(7 * math.sqrt(2), abs=0.03)


@pytest.mark.parametrize("bearing", [0, 40, 180])
def test_walls_to_a_bore_and_a_cone(bearing):
    straight = [(6.0, -50.0), (6.0, 50.0)]
    assert wall_to_bore_mm(void(low=8.5, bearing=bearing), straight) == pytest.approx(2.5, abs=1e-9)
    cone = [(6.0, 0.0), (8.0, 20.0)]
    near = wall_to_bore_mm(void(station=10, radius=0.001, low=9.0, bearing=bearing), cone)
    assert near == pytest.approx(2.0 * math.cos(math.atan(0.1)), abs=2e-3)
    assert wall_to_bore_mm(void(low=5.0), straight) == 0.0


def post(**changes):
    row = {
        "item": SurveyItem.POST, "name": "p", "part": "joint", "station_mm": 50,
        "bearing_deg": 0, "thread_mm": 3,
    }  # fmt: skip
    return SurveyRow.model_validate(row | changes)


def pilots(instrument):
    return instrument.model_copy(
        update={"body": instrument.body.model_copy(update={"post_hole": "pilot"})}
    )


def findings(instrument, *rows):
    return assembly_findings(instrument, KeyworkSurvey(rows=list(rows)), PLA)


def test_a_thin_wall_names_both_and_the_distance(one_part):
    instrument = pilots(one_part(ToneHole(name="L1", station_mm=55, diameter_mm=6)))
    found = findings(instrument, post(station_mm=50.3))
    # 4.7 between the axes, less 3 and 1.3.
    assert len(found) == 1
    assert found[0].severity == "fault"
    assert "hole 'L1' and post 'p'" in str(found[0].what)
    assert "0.40 mm" in str(found[0].what)
    assert findings(instrument, post(station_mm=49.0)) == []


def test_a_post_and_a_hole_of_one_name_are_two(one_part):
    instrument = pilots(one_part(ToneHole(name="L1", station_mm=55, diameter_mm=6)))
    found = findings(instrument, post(name="L1", station_mm=50.3))
    assert ["hole 'L1' and post 'L1'" in str(one.what) for one in found] == [True]


def test_names_stay_as_they_are_in_german(one_part):
    instrument = pilots(one_part(ToneHole(name="bore", station_mm=55, diameter_mm=6), name="bell"))
    found = findings(instrument, post(name="hole or post", part="bell", station_mm=50.3))
    assert [Reader("de").place(one.place) for one in found] == ["Teil „bell“"]
    assert [Reader("de").tell(one.what) for one in found] == [
        "Loch „bore“ und Säulchen „hole or post“: dazwischen 0,40 mm Wand; mindestens 1,2 mm sind "
        "nötig"
    ]


def test_a_post_too_deep_names_the_bore(one_part):
    instrument = pilots(one_part())
    deep = instrument.model_copy(
        update={"body": instrument.body.model_copy(update={"post_depth_mm": 6.8})}
    )
    found = findings(deep, post())
    assert "post 'p' and the bore or socket" in str(found[0].what)
    assert "0.70 mm" in str(found[0].what)
    assert findings(instrument, post()) == []


def test_a_tenon_thin_under_its_cork(one_part):
    tenon = Tenon(length_mm=16, diameter_mm=20.5, cork_length_mm=11, cork_depth_mm=1)
    instrument = one_part(tenon_bottom=tenon)
    found = wall_findings(instrument, instrument.parts[0], PLA)
    assert "under its cork" in str(found[0].what)
    # (20.5 - 15)/2 - 1
    assert "1.75 mm" in str(found[0].what)
    socketed = one_part(socket_top=Socket(depth_mm=16, diameter_mm=22))
    assert wall_findings(socketed, socketed.parts[0], PLA) == []


@pytest.mark.parametrize(
    ("changes", "between", "wall"),
    [
        # A waist of 16.6 round a bore of 15, told where it is.
        (
            {"outside": [(0, 30), (40, 30), (42, 16.6), (44, 16.6), (46, 30), (100, 30)]},
            ("the bore", "the outside at 4"),
            0.8,
        ),
        ({"bore": [(0, 15), (60, 15), (100, 28)]}, ("the bore", "the outside at 100.0"), 1.0),
        (
            {"socket_bottom": Socket(depth_mm=16, diameter_mm=28.4)},
            ("the bottom socket", "the outside"),
            0.8,
        ),
        # 100 long: 40 and 59.2 deep leave a web of 0.8 between their floors.
        (
            {
                "socket_top": Socket(depth_mm=40, diameter_mm=22),
                "socket_bottom": Socket(depth_mm=59.2, diameter_mm=22),
            },
            ("the floor of the top socket", "the floor of the bottom socket"),
            0.8,
        ),
    ],
)
def test_a_body_thinner_than_the_process_holds_is_named(one_part, changes, between, wall):
    made = one_part(**changes)
    [found] = wall_findings(made, made.parts[0], PLA)
    assert found.severity == "fault"
    for side in (*between, f"{wall:.2f} mm"):
        assert side in str(found.what)


def cup(**changes):
    row = {
        "item": SurveyItem.CUP, "name": "throat A", "part": "joint", "station_mm": 50,
        "bearing_deg": 0, "hole": "A", "pad_diameter_mm": 10, "rest": "closed", "lift_mm": 2,
    }  # fmt: skip
    return SurveyRow.model_validate(row | changes)


PADDED = ToneHole(
    name="A", station_mm=50, diameter_mm=6, chimney_mm=-0.8, cover="pad",
    pad=Pad(diameter_mm=10, lift_mm=2, rest="closed"),
)  # fmt: skip


def test_a_cup_askew_or_at_another_height(one_part):
    instrument = one_part(PADDED)
    assert findings(instrument, cup()) == []
    askew = findings(instrument, cup(bearing_deg=5))
    assert "'throat A' meets its seat 5.0° askew" in str(askew[0].what)
    # 5° at the rim, 14.2 mm from the axis.
    assert "1.24 mm aside" in str(askew[0].what)
    low = findings(instrument, cup(seat_from_axis_mm=15.0))
    assert "0.80 mm too low" in str(low[0].what)
    assert "+0.80" in str(low[0].remedy)
    assert findings(instrument, cup(seat_from_axis_mm=14.0)) == []


def test_pads_and_posts_in_each_others_way(one_part):
    found = findings(one_part(PADDED), cup(), post(station_mm=56.5))
    # 6.5 between the axes, less 5 and 1.75.
    assert "pad A and the post p" in str(found[0].what)
    assert "overlap of 0.25 mm" in str(found[0].what)
    assert findings(one_part(PADDED), cup(), post(station_mm=58)) == []


def test_posts_too_close_to_each_other(one_part):
    found = findings(one_part(), post(), post(name="q", station_mm=55))
    assert "posts 'p' and 'q' overlap by 1.00 mm" in str(found[0].what)


def test_a_ring_without_room(one_part):
    hole = ToneHole(name="T", station_mm=50, diameter_mm=7, chimney_mm=0.8, cover="ring")
    ring = SurveyRow(
        item="ring", name="thumb", part="joint", station_mm=50, bearing_deg=0, hole="T",
        ring_inside_mm=11,
    )  # fmt: skip
    assert findings(one_part(hole), ring) == []
    turned = ring.model_copy(update={"bearing_deg": 7.0})
    # 2 · 15.8 · sin 3.5° = 1.93 aside leaves 0.07.
    assert "0.07 mm" in str(findings(one_part(hole), turned)[0].what)
    # The rim is 15.8 from the axis.
    high = findings(one_part(hole), ring.model_copy(update={"seat_from_axis_mm": 16.6}))
    assert "0.80 mm above" in str(high[0].what)
    assert findings(one_part(hole), ring.model_copy(update={"seat_from_axis_mm": 16.0})) == []


def test_the_example_goes_together(clarinet, keywork):
    assert [one for one in assembly_findings(clarinet, keywork, PLA)] == []
    shallow = PostPlan("x", "joint", 0, 0, 3, 2.6, 10, "none", 15, 6)
    assert shallow.hole_mm == 2.6


def test_text_and_marks_keep_the_least_wall(one_part):
    thin = one_part(outside=[(0, 18.2), (100, 18.2)])
    body = thin.body.model_copy(update={"orientation_text": True, "mark_depth_mm": 0.5})
    found = wall_findings(thin.model_copy(update={"body": body}), thin.parts[0], PLA)
    # (18.2 - 15)/2 - 0.5
    assert [
        "the text" in str(one.what) and "1.10 mm of wall" in str(one.what) for one in found
    ] == [True]
    shallow = body.model_copy(update={"mark_depth_mm": 0.3})
    assert wall_findings(thin.model_copy(update={"body": shallow}), thin.parts[0], PLA) == []


def test_text_on_a_taper_keeps_the_wall_where_it_stands(one_part):
    # Bore and outside widen alike: 2.5 mm of wall all along, though the widest bore under the
    # text is within 0.9 mm of the narrowest outside.
    bell = one_part(bore=[(0, 15), (100, 35)], outside=[(0, 20), (100, 40)])
    body = bell.body.model_copy(update={"orientation_text": True, "mark_depth_mm": 0.4})
    assert wall_findings(bell.model_copy(update={"body": body}), bell.parts[0], PLA) == []


@pytest.mark.parametrize(
    ("diameter", "words"),
    [(22.4, []), (22.9, ["0.10 mm", "0.6 to 0.8", "22.30"]), (21.0, ["2.00"])],
)
def test_a_joint_has_the_play_of_its_class(one_part, diameter, words):
    upper = one_part(
        tenon_bottom=Tenon(length_mm=16, diameter_mm=diameter, cork_length_mm=11, cork_depth_mm=0.6)
    ).parts[0]
    lower = one_part(socket_top=Socket(depth_mm=16.3, diameter_mm=23.0)).parts[0]
    lower = lower.model_copy(update={"name": "lower"})
    found = joint_findings(one_part().model_copy(update={"parts": [upper, lower]}))
    assert len(found) == (1 if words else 0)
    for word in words:
        assert word in f"{found[0].what} {found[0].remedy}"
        # A tenth too tight is for who fits the cork; two millimetres wobble on any cork.
        assert found[0].severity == ("fault" if diameter == 21.0 else "notice")
