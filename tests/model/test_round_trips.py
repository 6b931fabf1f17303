"""Any instrument survives its file, and any edit of it survives the owner's file."""

from __future__ import annotations

from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from borewright.model import Instrument, load, read_instrument, save_as

NAMES = ("barrel", "upper joint", "lower joint", "bell", 'a "quoted" part', "Becher ½")
HOLES = ("A", "B", "T", "L1", "side_1", "#", "[x]", "Ré")
SIZES = st.floats(0.0, 1.0).map(lambda share: round(share, 3))


@st.composite
def holes(draw: st.DrawFn, prefix: str, length: float) -> list[dict[str, Any]]:
    """Holes far enough apart, one every 20 mm, with anything optional on some of them."""
    places = range(15, int(length) - 10, 20)
    found = []
    for place in draw(st.lists(st.sampled_from(places), unique=True, max_size=5)):
        diameter = round(3 + 5 * draw(SIZES), 2)
        hole: dict[str, Any] = {
            "name": prefix + draw(st.sampled_from(HOLES)) + str(place),
            "station_mm": place + draw(SIZES),
            "diameter_mm": diameter,
            "bearing_deg": round(360 * draw(SIZES) - 180, 1),
            "chimney_mm": draw(SIZES),
            "cover": draw(st.sampled_from(["finger", "ring", "pad"])),
        }
        if hole["cover"] == "pad":
            rest = draw(st.sampled_from(["open", "closed"]))
            hole["pad"] = {"diameter_mm": diameter + 4, "lift_mm": 2.5, "rest": rest}
        if draw(st.booleans()):
            hole["undercut"] = {"diameter_mm": diameter + 1, "depth_mm": 1 + draw(SIZES)}
        found.append(hole)
    return found


@st.composite
def parts(draw: st.DrawFn, name: str, number: int) -> dict[str, Any]:
    length = round(50 + 150 * draw(SIZES), 2)
    steps = sorted(draw(st.lists(SIZES, max_size=4)))
    inner = [(round(length * step, 3), 14 + 1.5 * draw(SIZES)) for step in sorted(set(steps))]
    inner = [(station, width) for station, width in inner if 0 < station < length]
    return {
        "name": name,
        "length_mm": length,
        "bore": [(0, 15), *inner, (length, 14.5)],
        "outside": [(0, 30), (length, 30 + draw(SIZES))],
        "holes": draw(holes(str(number), length)),
    }


@st.composite
def instruments(draw: st.DrawFn) -> Instrument:
    names = draw(st.lists(st.sampled_from(NAMES), min_size=1, max_size=4, unique=True))
    data: dict[str, Any] = {
        "name": draw(st.sampled_from(["Plain", 'Of "ten" \\ words', "# no comment"])),
        "parts": [draw(parts(name, NAMES.index(name))) for name in names],
        "pitch": {"a4_hz": round(430 + 20 * draw(SIZES), 1)},
        "note": draw(st.sampled_from(["", "two\nlines", "tab\tand 'quotes'", "'''\"\"\""])),
    }
    if draw(st.booleans()):
        data["climate"] = {"room_c": 18 + draw(SIZES)}
        data["mouthpiece"] = draw(st.sampled_from([{}, {"shown_mm": 72.5}]))
        data["fit"] = {"weights": {"clarion": draw(SIZES)}, "free": [f"{names[0]}.length"]}
    return Instrument.model_validate(data)


@given(instruments())
def test_any_instrument_survives_a_new_file(tmp_path_factory, instrument):
    path = tmp_path_factory.mktemp("r") / "i.toml"
    save_as(instrument, path)
    assert load(path) == instrument


def commented(text: str) -> tuple[str, list[str]]:
    """The text with a numbered comment behind every plain ``key = value`` line."""
    lines, comments = [], []
    for number, line in enumerate(text.splitlines()):
        # A text over several lines cannot carry comments; these generated ones never do.
        if " = " in line and not line.lstrip().startswith("["):
            comments.append(f"# owner's {number}")
            line = f"{line}  {comments[-1]}"
        lines.append(line)
    return "\n".join(lines) + "\n", comments


@given(instruments(), instruments())
def test_any_edit_survives_and_keeps_the_comments_of_what_stays(tmp_path_factory, before, after):
    path = tmp_path_factory.mktemp("r") / "i.toml"
    save_as(before, path)
    text, comments = commented(path.read_text(encoding="utf-8"))
    path.write_text(text, encoding="utf-8")
    instrument, document = read_instrument(path)
    assert instrument == before
    save_as(after, path, document)
    edited = path.read_text(encoding="utf-8")
    assert load(path) == after
    # The format line and the pitch are in both, so what is said of them must be there still.
    assert comments[0] in edited
    kept = {part.name for part in before.parts} & {part.name for part in after.parts}
    for line in text.splitlines():
        if line.startswith("length_mm") and kept == {part.name for part in before.parts}:
            assert line[line.index("#") :] in edited


@given(instruments())
def test_saving_unchanged_is_exact(tmp_path_factory, instrument):
    path = tmp_path_factory.mktemp("r") / "i.toml"
    save_as(instrument, path)
    text, _ = commented(path.read_text(encoding="utf-8"))
    path.write_text(text, encoding="utf-8")
    again, document = read_instrument(path)
    save_as(again, path, document)
    assert path.read_text(encoding="utf-8") == text
