"""Instruments in TOML: what is read, and what an edit by the tool leaves alone."""

from __future__ import annotations

import difflib

import pytest
import tomlkit

from borewright.model import Instrument, load, read_instrument, save_as, starting_text


def changed_lines(before: str, after: str) -> list[str]:
    """Lines taken out (-) and put in (+), without the heading of the comparison."""
    lines = difflib.unified_diff(before.splitlines(), after.splitlines(), lineterm="", n=0)
    return [line for line in lines if line[0] in "+-" and line[:3] not in ("+++", "---")]


def edited(clarinet_file, change):
    """Text and instrument after saving ``change(data)`` over the file."""
    instrument, document = read_instrument(clarinet_file)
    data = instrument.model_dump()
    change(data)
    new = Instrument.model_validate(data)
    save_as(new, clarinet_file, document)
    assert load(clarinet_file) == new
    return clarinet_file.read_text(encoding="utf-8")


def test_the_file_is_read_as_written(clarinet):
    assert clarinet.name == "Short clarinet"
    assert clarinet.invented
    assert clarinet.pitch.a4_hz == 442
    assert [part.name for part in clarinet.parts] == ["barrel", "joint"]
    assert clarinet.length_mm == 245
    assert clarinet.hole_names() == ["RV", "L1", "L2"]
    assert clarinet.part("joint").hole("L2").undercut.depth_mm == 2.0


def test_saving_unchanged_changes_nothing(clarinet_file, clarinet_text):
    instrument, document = read_instrument(clarinet_file)
    save_as(instrument, clarinet_file, document)
    assert clarinet_file.read_text(encoding="utf-8") == clarinet_text


def test_a_changed_number_changes_its_line_only(clarinet_file, clarinet_text):
    def change(data):
        data["parts"][1]["holes"][1]["station_mm"] = 112.25

    assert changed_lines(clarinet_text, edited(clarinet_file, change)) == [
        "-station_mm = 111.5   # to the centre",
        "+station_mm = 112.25   # to the centre",
    ]


def test_a_changed_bore_point_keeps_the_comment_beside_it(clarinet_file, clarinet_text):
    def change(data):
        data["parts"][0]["bore"][1] = (65.0, 14.9)

    assert changed_lines(clarinet_text, edited(clarinet_file, change)) == [
        "-    [65, 14.85],   # bottom",
        "+    [65, 14.9],   # bottom",
    ]


def test_a_changed_pad_stays_on_its_line(clarinet_file, clarinet_text):
    def change(data):
        data["parts"][1]["holes"][0]["pad"]["lift_mm"] = 1.7

    assert changed_lines(clarinet_text, edited(clarinet_file, change)) == [
        '-pad = { diameter_mm = 9.0, lift_mm = 1.5, rest = "closed" }',
        '+pad = { diameter_mm = 9.0, lift_mm = 1.7, rest = "closed" }',
    ]


def test_a_value_set_back_to_its_default_is_not_left_behind(clarinet_file):
    def change(data):
        data["pitch"]["a4_hz"] = 440.0
        data["parts"][1]["holes"][1]["cover"] = "finger"

    text = edited(clarinet_file, change)
    assert "442" not in text
    assert "# to the centre" in text


def test_a_removed_hole_goes_with_its_comment_and_no_other(clarinet_file, clarinet_text):
    text = edited(clarinet_file, lambda data: data["parts"][1]["holes"].pop(1))
    assert changed_lines(clarinet_text, text) == [
        "-# Left first finger.",
        "-[[part.hole]]",
        '-name = "L1"',
        "-station_mm = 111.5   # to the centre",
        "-diameter_mm = 6.2",
        '-cover = "ring"',
        "-",
    ]


def test_removing_the_last_hole_keeps_the_closing_comment(clarinet_file):
    text = edited(clarinet_file, lambda data: data["parts"][1]["holes"].pop())
    assert "Left second" not in text
    assert text.endswith("# The end of the file.\n")


def test_removing_every_hole_keeps_the_parts_comments(clarinet_file):
    text = edited(clarinet_file, lambda data: data["parts"][1]["holes"].clear())
    assert "part.hole" not in text
    assert "# key order is the owner's" in text


@pytest.mark.parametrize("place", [0, 1, 3])
def test_an_added_hole_stands_where_it_belongs(clarinet_file, clarinet_text, place):
    new = {"name": "A", "station_mm": 55.0, "diameter_mm": 5.2, "cover": "finger"}
    text = edited(clarinet_file, lambda data: data["parts"][1]["holes"].insert(place, new))
    assert all(line.startswith("+") for line in changed_lines(clarinet_text, text))
    names = [hole["name"] for hole in tomlkit.parse(text).unwrap()["part"][1]["hole"]]
    assert names.index("A") == place


def test_the_first_hole_of_a_part_without_holes(clarinet_file, clarinet_text):
    new = {"name": "B", "station_mm": 30.0, "diameter_mm": 5.2}
    text = edited(clarinet_file, lambda data: data["parts"][0]["holes"].append(new))
    assert all(line.startswith("+") for line in changed_lines(clarinet_text, text))


def test_a_renamed_hole_keeps_its_comments(clarinet_file, clarinet_text):
    def change(data):
        data["parts"][1]["holes"][1]["name"] = "F1"

    assert changed_lines(clarinet_text, edited(clarinet_file, change)) == [
        '-name = "L1"',
        '+name = "F1"',
    ]


def test_holes_in_a_new_order(clarinet_file):
    text = edited(clarinet_file, lambda data: data["parts"][1]["holes"].reverse())
    assert "# key order is the owner's" in text


def test_another_number_of_bore_points(clarinet_file):
    def change(data):
        data["parts"][0]["bore"].insert(1, (30.0, 14.9))

    text = edited(clarinet_file, change)
    assert "# measured twice" in text
    assert "# Left first finger." in text
    assert "# top" in text


def test_a_part_added_and_one_removed(clarinet_file):
    def change(data):
        data["parts"][0]["socket_bottom"] = None
        data["parts"][1]["tenon_top"] = None
        ring = {**data["parts"][0], "name": "tuning ring", "length_mm": 12.0}
        ring["bore"] = [(0.0, 15.0), (12.0, 15.0)]
        ring["outside"] = [(0.0, 31.0), (12.0, 31.0)]
        data["parts"].insert(1, ring)

    text = edited(clarinet_file, change)
    assert "# ---- Joint ----" in text
    assert "# measured twice" in text
    text = edited(clarinet_file, lambda data: data["parts"].pop(0))
    assert "measured twice" not in text
    assert "# key order is the owner's" in text
    assert "# An invented short clarinet." in text


def test_a_table_that_was_not_there(clarinet_file, clarinet_text):
    def change(data):
        data["climate"]["room_c"] = 18.0
        data["mouthpiece"] = {}
        data["note"] = "turned anew"

    text = edited(clarinet_file, change)
    assert all(line.startswith("+") for line in changed_lines(clarinet_text, text))


def test_optional_tables_taken_away(clarinet_file):
    def change(data):
        data["parts"][0]["socket_bottom"] = None
        data["parts"][1]["tenon_top"] = None
        data["parts"][1]["holes"][2]["undercut"] = None

    text = edited(clarinet_file, change)
    assert "socket" not in text
    assert "undercut" not in text
    assert "# Left second finger." in text


def test_tables_under_headings_of_their_own(clarinet_file, clarinet_text):
    inline = 'pad = { diameter_mm = 9.0, lift_mm = 1.5, rest = "closed" }\n'
    heading = '[part.hole.pad]  # felt\ndiameter_mm = 9.0\nlift_mm = 1.5\nrest = "closed"\n'
    clarinet_file.write_text(clarinet_text.replace(inline, heading), encoding="utf-8")
    text = edited(clarinet_file, lambda data: data["parts"][1]["holes"].pop(1))
    assert "# felt" in text
    text = edited(clarinet_file, lambda data: data["parts"][1]["holes"].pop(0))
    assert "felt" not in text


def test_holes_written_as_a_list_in_one_line(clarinet_file):
    text = (
        'format = 2\n[[part]]  # a tube\nname = "tube"\nlength_mm = 300\n'
        "bore = [[0, 15], [300, 15]]\noutside = [[0, 30], [300, 30]]\n"
        'hole = [{ name = "A", station_mm = 50, diameter_mm = 5 }, '
        '{ name = "B", station_mm = 90, diameter_mm = 5 }]\n'
    )
    clarinet_file.write_text(text, encoding="utf-8")
    after = edited(clarinet_file, lambda data: data["parts"][0]["holes"].pop(0))
    assert "# a tube" in after
    assert '"A"' not in after


@pytest.mark.parametrize(
    ("name", "encode"),
    [
        ("Windows line ends", lambda text: text.replace("\n", "\r\n").encode()),
        ("a byte order mark", lambda text: b"\xef\xbb\xbf" + text.encode()),
        ("UTF-16", lambda text: text.encode("utf-16")),
        ("tabs", lambda text: text.replace("    [", "\t[").replace(" = ", "\t=\t").encode()),
        ("no last line end", lambda text: text.rstrip("\n").encode()),
    ],
)
def test_what_editors_do_to_a_file(clarinet_file, clarinet_text, clarinet, name, encode):
    clarinet_file.write_bytes(encode(clarinet_text))
    assert load(clarinet_file) == clarinet, name
    text = edited(clarinet_file, lambda data: data["parts"][1]["holes"].pop(1))
    assert "# The end of the file." in text


def test_windows_line_ends_stay(clarinet_file, clarinet_text):
    clarinet_file.write_bytes(clarinet_text.replace("\n", "\r\n").encode())

    def change(data):
        data["parts"][0]["bore"].insert(1, (30.0, 14.9))
        data["parts"][1]["holes"].pop(0)

    edited(clarinet_file, change)
    raw = clarinet_file.read_bytes()
    assert raw.count(b"\n") == raw.count(b"\r\n") > 30


def test_a_file_begun_by_the_tool_reads_back(clarinet, tmp_path):
    path = tmp_path / "new.toml"
    save_as(clarinet, path)
    assert load(path) == clarinet
    assert path.read_text(encoding="utf-8") == starting_text(clarinet)
    assert starting_text(clarinet).startswith("format = 2\n")


def test_saving_does_not_touch_the_document_lent(clarinet_file, clarinet_text):
    instrument, document = read_instrument(clarinet_file)
    other = instrument.model_copy(update={"name": "Another"})
    save_as(other, clarinet_file.with_name("other.toml"), document)
    assert tomlkit.dumps(document) == clarinet_text
    assert clarinet_file.read_text(encoding="utf-8") == clarinet_text
