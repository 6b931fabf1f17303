import pytest

from borewright.errors import ModelError
from borewright.model import (
    BodyFeatures,
    Clearance,
    Instrument,
    Part,
    PostHole,
    SeatShape,
    Socket,
    Tenon,
    ThumbRest,
    load,
    read_survey,
    save_as,
)

TEXT = """format = 1
[instrument]
serial = "T-001"
[body]
seat = "flat"
post_hole = "insert"
[[part]]
name = "joint"
length_mm = 100
bore = [[0, 15], [100, 15]]
outside = [[0, 30], [100, 30]]
thumb_rest = { station_mm = 50 }
socket_top = { depth_mm = 16, diameter_mm = 22, ring_length_mm = 8, ring_inside_mm = 28 }
"""


def test_body_features_are_read_and_written_again(tmp_path):
    file = tmp_path / "a.toml"
    file.write_text(TEXT, encoding="utf-8")
    instrument = load(file)
    assert instrument.serial == "T-001"
    assert instrument.body == BodyFeatures(seat=SeatShape.FLAT, post_hole=PostHole.INSERT)
    assert instrument.parts[0].thumb_rest == ThumbRest(station_mm=50)
    assert instrument.parts[0].socket_top.ring_inside_mm == 28
    save_as(instrument, tmp_path / "b.toml")
    assert load(tmp_path / "b.toml") == instrument


def test_a_file_without_them_gets_the_defaults():
    part = Part(name="a", length_mm=50, bore=[(0, 15), (50, 15)], outside=[(0, 30), (50, 30)])
    assert Instrument(parts=[part]).body == BodyFeatures()


def test_half_a_ring_and_an_unknown_seat_are_refused(tmp_path):
    file = tmp_path / "a.toml"
    for wrong, words in (
        (TEXT.replace(", ring_inside_mm = 28", ""), "ring_inside_mm"),
        (TEXT.replace('"flat"', '"hollow"'), "seat"),
    ):
        file.write_text(wrong, encoding="utf-8")
        with pytest.raises(ModelError, match=words):
            load(file)


def test_the_class_of_fit_follows_from_the_groove():
    assert Tenon(length_mm=16, diameter_mm=22).clearance_class is Clearance.SLIP
    corked = Tenon(length_mm=16, diameter_mm=22, cork_length_mm=11, cork_depth_mm=1)
    assert corked.clearance_class is Clearance.CORK
    given = corked.model_copy(update={"clearance": Clearance.O_RING})
    assert given.clearance_class is Clearance.O_RING
    assert Socket(depth_mm=16, diameter_mm=22).ring_length_mm == 0


def test_a_survey_may_give_the_threads_pitch(tmp_path):
    file = tmp_path / "keys.csv"
    file.write_text(
        "item,name,part,station_mm,bearing_deg,thread_mm,thread_pitch_mm\n"
        "post,p,joint,20,30,3,0.5\n",
        encoding="utf-8",
    )
    assert read_survey(file).rows[0].thread_pitch_mm == 0.5
