"""Wrong instrument files: each gets one message that a craftsman can act on."""

from __future__ import annotations

import pytest

from borewright.errors import ModelError
from borewright.model import load

#: What is replaced, by what, and words that the message must hold.
WRONG = {
    "hole outside its part": ("station_mm = 139.5", "station_mm = 239.5", "L2", "outside", "180"),
    "hole cut by the shoulder": ("station_mm = 139.5", "station_mm = 178.0", "L2", "outside"),
    "holes that intersect": ("station_mm = 139.5", "station_mm = 116.0", "L1", "L2", "overlap"),
    "bore through the outside": ("[32.5, 34.0]", "[32.5, 14.0]", "barrel", "bore", "outside"),
    "bore through the tenon": ("diameter_mm = 22.2", "diameter_mm = 14.2", "joint", "tenon"),
    "infinite": ("length_mm = 65.0", "length_mm = inf", "barrel", "length_mm", "finite"),
    "no number": ("length_mm = 65.0", "length_mm = nan", "barrel", "length_mm", "finite"),
    "a number too large": ("length_mm = 65.0", "length_mm = 1e999", "barrel", "finite"),
    "negative": ("diameter_mm = 6.6", "diameter_mm = -6.6", "L2", "diameter_mm", "greater than 0"),
    "a yes for a number": ("diameter_mm = 6.6", "diameter_mm = true", "L2", "diameter_mm"),
    "a date for a number": ("diameter_mm = 6.6", "diameter_mm = 2024-01-01", "L2", "diameter_mm"),
    "a number in words": ("diameter_mm = 6.6", 'diameter_mm = "wide"', "L2", "'wide'"),
    "a decimal comma": ("length_mm = 65.0", "length_mm = 65,0", "line 15"),
    "bore as one number": (
        "bore = [[0, 14.95], [20, 14.85], [180, 14.65]]",
        "bore = 14.7",
        "pairs",
    ),
    "bore as a flat list": (
        "bore = [[0, 14.95], [20, 14.85], [180, 14.65]]",
        "bore = [0, 14.95, 180, 14.65]",
        "joint",
        "pairs",
    ),
    "bore of one point": (
        "bore = [[0, 14.95], [20, 14.85], [180, 14.65]]",
        "bore = [[0, 14.95]]",
        "joint",
        "bore",
    ),
    "bore point of three": ("[20, 14.85]", "[20, 14.85, 3]", "joint", "bore 2", "pairs"),
    "outside point of one": ("[32.5, 34.0]", "[32.5]", "barrel", "outside 2", "pairs"),
    "bore backwards": ("[20, 14.85]", "[190, 14.85]", "joint", "backwards"),
    "bore too short": ("[180, 14.65]", "[170, 14.65]", "joint", "170", "180", "covers"),
    "no bore": ("bore = [[0, 14.95], [20, 14.85], [180, 14.65]]", "", "joint", "bore", "missing"),
    "holes as one table": (
        '[[part.hole]]\nname = "RV"',
        '[part.hole]\nname = "RV"',
        "[[part.hole]]",
    ),
    "parts as one table": ('[[part]]\nname = "barrel"', '[part]\nname = "barrel"', "[[part]]"),
    "instrument as a list": ("[instrument]", "[[instrument]]", "instrument", "[instrument]"),
    "instrument as a word": (
        '[instrument]\nname = "Short clarinet"   # the owner\'s words\ninvented = true',
        'instrument = "clarinet"',
        "[instrument]",
    ),
    "unknown key": ("length_mm = 65.0", "lenght_mm = 65.0", "lenght_mm", "unknown", "length_mm"),
    "unknown key in a hole": ('cover = "ring"', 'covers = "ring"', "L1", "covers", "cover"),
    "unknown key above": ("invented = true", "inventted = true", "inventted", "invented"),
    "unknown table": ("[pitch]", "[pich]", "pich", "pitch"),
    "the model's word for holes": ("[[part.hole]]", "[[part.holes]]", "holes", "hole"),
    "two parts of one name": ('name = "joint"', 'name = "barrel"', "barrel", "twice"),
    "two holes of one name": ('name = "L2"', 'name = "L1"', "L1", "twice"),
    "an empty name": ('name = "joint"', 'name = ""', "name"),
    "a blank name": ('name = "joint"', 'name = "  "', "name"),
    "a hole name of two words": ('name = "L2"', 'name = "L 2"', "L 2", "space"),
    "a name with a line end": ('name = "joint"', 'name = "jo\\nint"', "name"),
    "a number for a name": ('name = "joint"', "name = 7", "name"),
    "no name": ('name = "joint"', "", "name", "missing"),
    "unknown cover": ('cover = "ring"', 'cover = "thumb"', "L1", "'thumb'", "'ring'"),
    "pad without a pad": (
        'pad = { diameter_mm = 9.0, lift_mm = 1.5, rest = "closed" }',
        "",
        "RV",
        "pad",
    ),
    "pad smaller than its hole": ("pad = { diameter_mm = 9.0", "pad = { diameter_mm = 2.0", "RV"),
    "pad as large as its hole": ("pad = { diameter_mm = 9.0", "pad = { diameter_mm = 3.0", "RV"),
    "pad that never lifts": ("lift_mm = 1.5", "lift_mm = 0", "RV", "lift is 0", "a third"),
    "pad that lifts downwards": ("lift_mm = 1.5", "lift_mm = -0.5", "RV", "lift_mm"),
    "undercut deeper than the tube": ("depth_mm = 2.0", "depth_mm = 20.0", "L2", "undercut"),
    "undercut hardly deeper than the tube": ("depth_mm = 2.0", "depth_mm = 7.48", "L2", "undercut"),
    "hole as wide as the bore": (
        "diameter_mm = 6.6\nundercut",
        "diameter_mm = 15.1\nundercut",
        "L2",
    ),
    "tenon without a socket": (
        "socket_bottom = { depth_mm = 16.4, diameter_mm = 22.7 }",
        "",
        "tenon",
        "socket",
    ),
    "tenon too thick": ("diameter_mm = 22.2", "diameter_mm = 22.9", "tenon", "socket"),
    "tenon too long": ("{ length_mm = 16.0", "{ length_mm = 17.0", "tenon", "socket"),
    "no format": ("format = 2\n", "", "format", "format = 2"),
    "a later format": ("format = 2\n", "format = 99\n", "99"),
    "format in words": ("format = 2\n", 'format = "one"\n', "'one'"),
    "format as a yes": ("format = 2\n", "format = true\n", "format"),
    "a key twice": ("length_mm = 65.0", "length_mm = 65.0\nlength_mm = 66.0", "line 16"),
    "an open bracket": ("[[0, 31.0], [32.5, 34.0], [65, 31.0]]", "[[0, 31.0], [32.5", "line"),
    "an open quote": ('name = "barrel"', 'name = "barrel', "line 14"),
    "pitch far off": ("a4_hz = 442", "a4_hz = 4420", "a4_hz", "480"),
    "a fit wish nobody knows": ("[pitch]", '[fit]\nfree = ["hole.statoin"]\n[pitch]', "statoin"),
    "a fit wish without a dot": ("[pitch]", '[fit]\nfree = ["station"]\n[pitch]', "station"),
}


@pytest.mark.parametrize("kind", WRONG)
def test_a_wrong_file_gets_one_message(refused, kind):
    old, new, *words = WRONG[kind]
    error = refused(old, new)
    for word in words:
        assert word in str(error)


def test_a_table_given_as_a_number(refused, clarinet_text):
    table = "[pitch]\na4_hz = 442\nwritten_to_sounding_semitones = -2\n"
    error = refused("format = 2\n", "format = 1\npitch = 440\n", clarinet_text.replace(table, ""))
    assert "pitch" in str(error)
    assert "table" in str(error)


def test_the_line_of_a_finding_is_told(refused, clarinet_text):
    error = refused("diameter_mm = 6.6", "diameter_mm = -6.6")
    line = clarinet_text.splitlines().index("diameter_mm = 6.6") + 1
    assert f"line {line}" in str(error)
    assert "part 'joint'" in str(error)
    assert "hole 'L2'" in str(error)


def test_further_findings_are_counted(refused, clarinet_text):
    error = refused("diameter_mm = 6.6", "diameter_mm = -6.6", clarinet_text.replace("6.2", "-6.2"))
    assert "1 more" in str(error.remedy)


@pytest.mark.parametrize(
    ("raw", "words"),
    [
        (b"", ("format",)),
        (b"# only a comment\n", ("format",)),
        (b"format = 2\n", ("part",)),
        (bytes(range(256)) * 4, ("text",)),
        (b"\x00" * 100, ("text",)),
        (b"\xff\xfe\x00", ("text",)),
        ("name = 'Ré'".encode("latin-1"), ("UTF-8",)),
        (b"x = " + b"[" * 100_000, ("TOML",)),
        (b"format = " + b"9" * 10_000, ("TOML",)),
        (b"x" * 6_000_000, ("MB",)),
        (b'{"format": 1}', ("line 1",)),
        (b"format = 2\nparts = []\n", ("parts", "part")),
        (b"format = 2\npart = [1]\n", ("part",)),
        (b"format = 2\npart = []\n", ("part",)),
    ],
)
def test_what_is_hardly_an_instrument(tmp_path, raw, words):
    path = tmp_path / "odd.toml"
    path.write_bytes(raw)
    with pytest.raises(ModelError) as caught:
        load(path)
    message = str(caught.value)
    assert "odd.toml" in message
    assert len(message) < 600
    for word in words:
        assert word in message


@pytest.mark.parametrize("name", ["absent.toml", ".", "nul\0byte.toml", "x" * 5000])
def test_a_file_that_cannot_be_read(tmp_path, name):
    with pytest.raises(ModelError) as caught:
        load(tmp_path / name)
    assert caught.value.remedy


def test_a_long_text_is_not_repeated_whole(refused):
    error = refused('cover = "ring"', f'cover = "{"x" * 5000}"')
    assert "L1" in str(error)


def test_a_bore_of_a_hundred_thousand_points_is_refused_at_once(refused):
    points = ", ".join(f"[{i / 1000}, 14.9]" for i in range(100_000))
    error = refused("[20, 14.85]", points)
    assert "bore" in str(error)


def test_the_message_as_data(refused):
    found = refused("length_mm = 65.0", "lenght_mm = 65.0").as_dict()["error"]
    assert found["kind"] == "ModelError"
    assert set(found) == {"kind", "place", "cause", "remedy"}
