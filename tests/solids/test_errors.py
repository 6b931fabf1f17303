import pytest

from borewright.errors import SolidsError
from borewright.model import Pad, Socket, Tenon, ToneHole, Undercut
from borewright.solids import export_solids, part_body
from borewright.words import given, place_of, say


def hole(name="h", station=50.0, **changes):
    return ToneHole(**{"name": name, "station_mm": station, "diameter_mm": 6} | changes)


def pad(diameter):
    return Pad(diameter_mm=diameter, lift_mm=2.5, rest="closed")


CASES = {
    # The bore is round: two chords of 6 mm on 15 mm take 2 × 23.6° of it, not 2 × 22.9°.
    "holes meet at the bore": (
        [hole("a", bearing_deg=0), hole("b", bearing_deg=46.5)],
        {},
        ("'a'", "'b'", "breaks into"),
    ),
    "undercut meets a hole": (
        [hole("a"), hole("b", bearing_deg=54.5, undercut=Undercut(diameter_mm=8, depth_mm=3))],
        {},
        ("'a'", "breaks into", "'b'"),
    ),
    "undercuts meet": (
        [
            hole("a", undercut=Undercut(diameter_mm=8, depth_mm=3)),
            hole("b", bearing_deg=63, undercut=Undercut(diameter_mm=8, depth_mm=3)),
        ],
        {},
        ("'a'", "breaks into", "'b'"),
    ),
    "seat cuts a neighbour": (
        [hole("low", cover="pad", pad=pad(16), chimney_mm=-2), hole("proud", station=59)],
        {},
        ("hole 'proud'", "seat of hole 'low'", "-2"),
    ),
    "seat breaks into the bore": (
        [hole(station=80, cover="pad", pad=pad(20), chimney_mm=-3)],
        {"bore": [(0, 15), (52, 15), (100, 27)]},
        ("hole 'h'", "breaks into the bore", "-3"),
    ),
    "chimney stands on a rim": (
        [hole("low"), hole("proud", station=57, chimney_mm=2)],
        {},
        ("hole 'low'", "chimney of hole 'proud'", "8.40"),
    ),
    "hole in a socket": (
        [hole(station=16)],
        {"socket_top": Socket(depth_mm=15, diameter_mm=22)},
        ("hole 'h'", "beyond the bore", "15"),
    ),
    "chimney over the shoulder": (
        [hole(station=3.5, chimney_mm=1)],
        {},
        ("hole 'h'", "3.5", "8.40 mm across"),
    ),
    "lining as wide as the bore": (
        [hole(diameter_mm=13, into_bore_mm=2)],
        {},
        ("hole 'h'", "lining", "15.00"),
    ),
    "chimney as wide as the body": (
        [hole(diameter_mm=14.5, chimney_mm=1)],
        {"outside": [(0, 16.5), (100, 16.5)]},
        ("hole 'h'", "wider than the body", "16.5"),
    ),
    "tenon without shoulder": (
        [],
        {"tenon_bottom": Tenon(length_mm=15, diameter_mm=30)},
        ("tenon_bottom", "30", "shoulder"),
    ),
}


@pytest.mark.parametrize("case", CASES)
def test_what_cannot_be_made_is_named(one_part, case):
    holes, changes, words = CASES[case]
    with pytest.raises(SolidsError) as caught:
        part_body(one_part(*holes, **changes), "joint")
    for word in words:
        assert word in str(caught.value)
    assert place_of(caught.value.place)[0] == say("part '{part}'", part="joint")
    assert caught.value.remedy


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (
            {"tenon_top": Tenon(length_mm=15, diameter_mm=18, cork_length_mm=10, cork_depth_mm=2)},
            "cork groove of the top tenon leaves 14 mm",
        ),
        (
            {"socket_bottom": Socket(depth_mm=15, diameter_mm=30.5)},
            r"bottom socket \(30.5 mm\) reaches the outside",
        ),
        (
            {"socket_bottom": Socket(depth_mm=15, diameter_mm=14)},
            r"bottom socket \(14 mm\) is no wider than the bore at its floor",
        ),
        (
            {
                "socket_bottom": Socket(depth_mm=60, diameter_mm=20),
                "socket_top": Socket(depth_mm=40, diameter_mm=20),
            },
            "sockets are 100 mm deep in all",
        ),
    ],
)
def test_what_no_part_can_be_is_refused_before_it_is_made(one_part, change, words):
    with pytest.raises(ValueError, match=words):
        one_part(**change)


def test_an_unknown_part_lists_the_parts(one_part):
    with pytest.raises(SolidsError, match=r"no part 'bell'.*joint"):
        part_body(one_part(), "bell")


def kernel_tool(outline, tone_hole, witness):
    from borewright.solids._kernel import Tool, beside_hole, round_tool

    return Tool(
        round_tool(outline, tone_hole),
        beside_hole(tone_hole, witness),
        (f"hole '{tone_hole.name}'",),
        given("the rod of 6 mm"),
        given("Try a little off."),
    )


def test_a_kernel_failure_names_the_feature_and_keeps_the_cause():
    from borewright.solids._kernel import applied, round_body

    body = round_body([(15.0, 0.0), (15.0, 100.0)], 0.0)
    rod = [(0.0, 0.0), (3.0, 0.0), (3.0, 20.0), (0.0, 20.0)]
    good = kernel_tool(rod, hole("fine"), (0.0, 18.0))
    adrift = kernel_tool(rod, hole("adrift", station=150), (0.0, 18.0))
    assert applied(body, [good], "fuse").volume > body.volume
    with pytest.raises(SolidsError, match="could not add the rod of 6 mm") as caught:
        applied(body, [good, adrift], "fuse")
    assert caught.value.place == ("hole 'adrift'",)
    assert str(caught.value.remedy) == "Try a little off."
    assert "2 bodies instead of one" in str(caught.value.__cause__)


def test_a_tool_that_the_kernel_left_out_is_noticed():
    from borewright.solids._kernel import applied, round_body

    body = round_body([(15.0, 0.0), (15.0, 100.0)], 0.0)
    rod = [(0.0, 0.0), (3.0, 0.0), (3.0, 20.0), (0.0, 20.0)]
    # A witness 5 mm aside of a 3 mm rod stands for a cut that was not made.
    with pytest.raises(SolidsError, match="the kernel left it out"):
        applied(body, [kernel_tool(rod, hole(), (5.0, 10.0))], "cut")


def test_a_folder_that_is_a_file_is_refused(one_part, tmp_path):
    (tmp_path / "taken").write_text("mine", encoding="utf-8")
    with pytest.raises(SolidsError, match="cannot be written") as caught:
        export_solids(one_part(), tmp_path / "taken")
    assert isinstance(caught.value.__cause__, OSError)
    assert (tmp_path / "taken").read_text(encoding="utf-8") == "mine"


def test_a_failed_export_leaves_the_folder_as_it_was(one_part, tmp_path):
    good = one_part().parts[0].model_copy(update={"name": "good"})
    bad = one_part(hole("a"), hole("b", bearing_deg=46.5)).parts[0]
    instrument = one_part().model_copy(update={"parts": [good, bad]})
    (tmp_path / "good.stl").write_text("older", encoding="utf-8")
    with pytest.raises(SolidsError, match="breaks into"):
        export_solids(instrument, tmp_path)
    assert [(f.name, f.read_text(encoding="utf-8")) for f in tmp_path.iterdir()] == [
        ("good.stl", "older")
    ]
