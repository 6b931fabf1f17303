"""``borewright stand``: a set of keys on another body, its posts set anew and written down."""

from __future__ import annotations

import json
import math

import pytest

from borewright.model import load, read_keys
from borewright.model.keys import Post


@pytest.fixture
def other_body(clarinet):
    """The example with CG and the register hole higher than the keys know."""
    text = clarinet.read_text(encoding="utf-8")
    holes = {hole.name: hole for _, hole, _ in load(clarinet).placed_holes()}
    for name, chimney in (("CG", -0.6), ("RV", 2.7)):
        at = text.index(f'name = "{name}"')
        old = f"chimney_mm = {holes[name].chimney_mm:g}"
        where = text.index(old.rstrip("0"), at)
        end = text.index("\n", where)
        text = text[:where] + f"chimney_mm = {chimney}" + text[end:]
    clarinet.write_text(text, encoding="utf-8")
    moved = {hole.name: hole.chimney_mm for _, hole, _ in load(clarinet).placed_holes()}
    assert (moved["CG"], moved["RV"]) == (-0.6, 2.7)
    return clarinet


def test_posts_stand_for_this_body_and_the_survey_takes_them(type_in, other_body):
    new = other_body.with_name("keys-here.csv")
    result = type_in("stand", other_body, "--output", new, "--json")
    assert result.exit_code == 0, result.output
    told = json.loads(result.stdout)
    assert told["faults_before"] > told["faults_after"] == 0
    was = {p.name: p for p in read_keys(other_body.with_name("keys.csv")).of(Post)}
    now = {p.name: p for p in read_keys(new).of(Post)}
    place = {p["post"]: p for p in told["posts"]}
    assert len(place) == len(now) == 40
    rise = next(m for m in told["moved"] if m["hinge"] == "H-RV")["out_mm"]
    assert rise == pytest.approx(0.6, abs=0.02)
    for name in ("P-RV1", "P-RV2"):
        # A hinge across at the back: its heads rise straight backwards with the seat.
        heads = [
            post.second.height_mm * math.cos(math.radians(post.second.bearing_deg - 180))
            for post in (was[name], now[name])
        ]
        assert heads[1] - heads[0] == pytest.approx(rise, abs=2e-3)
        # Told is what is saved, and the lean is worked out anew from both ends of the post.
        saved, here = now[name], place[name]
        assert here["station_mm"] == pytest.approx(saved.first.station_mm, abs=1e-3)
        assert here["foot_mm"] == pytest.approx(saved.first.height_mm, abs=1e-3)
        turn = math.radians(saved.second.bearing_deg - saved.first.bearing_deg)
        left = saved.second.height_mm * math.sin(turn)
        up = saved.second.height_mm * math.cos(turn) - saved.first.height_mm
        assert here["lean_left_deg"] == pytest.approx(math.degrees(math.atan2(left, up)), abs=0.05)
        assert here["lean_down_deg"] == pytest.approx(0.0, abs=0.05)
    # Every foot lies on the outside as drawn: straight, and on the flare of the lower joint too.
    body = load(other_body)
    for here in told["posts"]:
        outside = body.part(here["part"]).outside_diameter_at(here["station_mm"]) / 2
        assert here["foot_mm"] == pytest.approx(outside, abs=0.006), here["post"]
    assert max(p["foot_mm"] for p in told["posts"]) > 16.5
    # The file that names the new survey passes the gate for these keys.
    text = other_body.read_text(encoding="utf-8")
    other_body.write_text(text.replace('"keys.csv"', '"keys-here.csv"'), encoding="utf-8")
    words = type_in("stand", other_body, "--output", new.with_name("again.csv")).stdout
    assert "faults before 0, after 0" in words
    assert "P-RV1" in words


def test_wrong_use_is_told_and_nothing_is_replaced(refused, type_in, clarinet):
    keys = clarinet.with_name("keys.csv")
    before = keys.read_bytes()
    assert "--force" in refused("stand", clarinet, "--output", keys)
    assert "is read here" in refused("stand", clarinet, "--output", clarinet)
    assert "is read here" in refused(
        "stand", clarinet, "--output", clarinet.with_name("keywork.csv")
    )
    assert keys.read_bytes() == before
    text = clarinet.read_text(encoding="utf-8")
    bare = "".join(line for line in text.splitlines(True) if not line.startswith("keys ="))
    clarinet.write_text(bare, encoding="utf-8")
    new = clarinet.with_name("new.csv")
    assert "--keys" in refused("stand", clarinet, "--output", new)
    assert not new.exists()
    assert type_in("stand", clarinet, "--keys", keys, "--output", new).exit_code == 0
    assert type_in("stand", clarinet, "--keys", keys, "--output", keys, "--force").exit_code == 0
    assert read_keys(keys) is not None
