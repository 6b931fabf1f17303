"""The gate: no false alarm on the shipped set, every planted fault named, alone and in pairs."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest

from borewright.keywork import fingering_findings, key_findings
from borewright.keywork.body import Body
from borewright.keywork.gate import LIMITS, Check
from borewright.keywork.gate.hinges import hinge_findings, post_findings
from borewright.keywork.gate.pads import pad_findings, ring_findings
from borewright.keywork.mechanism import Mechanism
from borewright.model import Severity
from borewright.model.keys import Cup, Hinge, Post, Ring
from borewright.words import Reader

# Three pads of the invented set scrub on landing, left in on purpose.
HONEST = {(Check.PAD_SLIDES, "C-EB"), (Check.PAD_SLIDES, "C-S3"), (Check.PAD_SLIDES, "C-S4")}
NAMES = [
    "post in a hole",
    "post under a ring",
    "cup off its hole",
    "ring too small",
    "chimney too high",
    "seat too low",
    "pad over a chimney",
    "ring against ring",
    "posts against each other",
    "keys against each other at rest",
    "keys against each other moving",
    "hinge out of line",
    "tube longer than its room",
    "rod on the body",
    "lever on the body",
    "pad tilted",
    "thumb rest over a hole",
    "needle on the body",
    "flat spring in the air",
    "spring overstressed",
    "post through the wall",
    "ring below its rim",
    "ring high over its rim",
    "loose link",
    "pad too small",
]
PAIRS = list(itertools.combinations(NAMES, 2))


def named(instrument, keys):
    return {
        (finding.check, element)
        for finding in key_findings(instrument, keys)
        for element in finding.elements
        if finding.severity is Severity.FAULT
    }


def test_no_false_alarm_on_the_shipped_set(instrument, keys, table):
    found = key_findings(instrument, keys)
    assert {(f.check, f.elements[0]) for f in found} == HONEST
    assert all(f.severity is Severity.NOTICE for f in found)
    assert fingering_findings(instrument, keys, table) == []


def test_the_list_is_complete(planted):
    assert set(planted.FAULTS) == set(NAMES)


@pytest.mark.parametrize("name", NAMES)
def test_each_planted_fault_is_named(instrument, keys, planted, name):
    change, check, element = planted.FAULTS[name]
    assert (check, element) in named(*change((instrument, keys)))


def check_pair(instrument, keys, planted, pair):
    made = (instrument, keys)
    for name in pair:
        made = planted.FAULTS[name][0](made)
    found = named(*made)
    for name in pair:
        assert planted.FAULTS[name][1:] in found, name


@pytest.mark.parametrize("pair", PAIRS[::37], ids=" and ".join)
def test_faults_in_pairs_are_both_named(instrument, keys, planted, pair):
    check_pair(instrument, keys, planted, pair)


@pytest.mark.slow
@pytest.mark.parametrize("pair", PAIRS, ids=" and ".join)
def test_all_pairs_of_faults_are_named(instrument, keys, planted, pair):
    check_pair(instrument, keys, planted, pair)


def test_a_loose_link_is_told_fingering_by_fingering(instrument, keys, table, planted):
    _, bent = planted.FAULTS["loose link"][0]((instrument, keys))
    found = fingering_findings(instrument, bent, table)
    assert [finding.elements for finding in found] == [("FC",), ("FC",)]
    assert "FC stay open though the table shuts them" in str(found[0].what)
    assert "'F#3'" in Reader("en").place(found[0].place)


def test_findings_are_told_in_german(instrument, keys, planted):
    german = Reader("de")
    for name in ("cup off its hole", "hinge out of line", "keys against each other moving"):
        for finding in key_findings(*planted.FAULTS[name][0]((instrument, keys))):
            for said in (finding.what, finding.remedy):
                assert german.tell(said) != Reader("en").tell(said), said


def test_stated_uncertainty_widens_what_may_be_off(instrument, keys, bending):
    off = bending.with_moved(keys, ["C-S2"], along=0.55)  # 0.75 from the hole's middle
    body = Body(instrument)

    def off_hole(set_):
        return [
            f
            for f in pad_findings(Mechanism(set_, instrument), body, LIMITS)
            if f.check is Check.CUP_OFF_HOLE
        ]

    assert off_hole(off)
    assert not off_hole(bending.with_element(off, "C-S2", uncertainty_mm=0.1))


# Random misplacements: what must be named is worked out here, by plane trigonometry.


def misplaced(random, keys, bending):
    """One element moved at random, and by how much (mm, degrees, mm)."""
    kinds = [e for e in keys.elements if isinstance(e, Cup | Ring | Post)]
    element = kinds[random.integers(len(kinds))]
    by = [
        {"along": float(random.uniform(-1.5, 1.5))},
        {"round_deg": float(random.uniform(-6, 6))},
        {"out": float(random.uniform(-0.4, 0.4))},
        {"along": float(random.uniform(-0.08, 0.08))},
    ][random.integers(4)]
    return element, by, bending.with_moved(keys, [element.name], **by)


def expected_of_pad(instrument, element):
    """``{check: distance of the value from its limit}``, positive where it must be named."""
    part, hole = next((p, h) for p, h, _ in instrument.placed_holes() if h.name == element.hole)
    rim = part.outside_diameter_at(hole.station_mm) / 2 + hole.chimney_mm
    turn = math.radians(element.first.bearing_deg - hole.bearing_deg)
    across = element.first.height_mm * math.sin(turn)
    high = element.first.height_mm * math.cos(turn) - rim
    aside = math.hypot(element.first.station_mm - hole.station_mm, across)
    if isinstance(element, Ring):
        air = (element.inside_mm - hole.diameter_mm) / 2 - 1.2 - aside
        return {
            Check.RING_OFF_HOLE: aside - 0.6,
            Check.RING_TOO_SMALL: 0.4 - air,
            Check.RING_HEIGHT: max(high - 0.31, -0.01 - high),
        }
    return {
        Check.CUP_OFF_HOLE: aside - 0.6,
        Check.PAD_TOO_SMALL: 1.0 - ((element.pad_mm - hole.diameter_mm) / 2 - aside),
        Check.PAD_TILT: element.pad_mm * abs(math.tan(turn)) - 0.05,
        Check.CUP_HEIGHT: high - 0.05,
        Check.CHIMNEY_TOO_HIGH: -0.05 - high,
    }


def expected_of_post(keys, before, element):
    """For a post: how far its head leaves the line, and what that makes of the end play."""

    def space(point):
        turn = math.radians(point.bearing_deg)
        return np.array(
            [point.station_mm, point.height_mm * math.sin(turn), point.height_mm * math.cos(turn)]
        )

    moved = space(element.second) - space(before.second)
    tube = next(h for h in keys.of(Hinge) if h.hinge == element.hinge)
    line = space(tube.second) - space(tube.first)
    line /= np.linalg.norm(line)
    along = float(moved @ line)
    other = next(p for p in keys.posts_of(element.hinge) if p.name != element.name)
    further = float((space(before.second) - space(other.second)) @ line)
    play = 0.03 + math.copysign(1, further) * along
    off = math.sqrt(max(float(moved @ moved) - along**2, 0.0))
    return {
        Check.HINGE_OUT_OF_LINE: off - 0.02,
        Check.END_PLAY: max(0.018 - play, play - 0.052),
    }


def test_500_random_misplacements(instrument, keys, bending):
    random = np.random.default_rng(17)
    body = Body(instrument)
    beyond = within = 0
    for _ in range(500):
        before, by, made = misplaced(random, keys, bending)
        element = next(e for e in made.elements if e.name == before.name)
        mechanism = Mechanism(made, instrument)
        if isinstance(element, Post):
            expected = expected_of_post(made, before, element)
            findings = hinge_findings(mechanism, body, LIMITS)
        else:
            expected = expected_of_pad(instrument, element)
            findings = pad_findings(mechanism, body, LIMITS) + ring_findings(
                mechanism, body, LIMITS
            )
        found = {f.check for f in findings if element.name in f.elements}
        for check, over in expected.items():
            if abs(over) < 2e-3:
                continue  # too near its limit to call
            assert (check in found) == (over > 0), (element.name, by, check, over)
            beyond, within = beyond + (over > 0), within + (over <= 0)
    assert beyond > 300
    assert within > 500


def test_posts_moved_at_random_are_named_in_the_wall(instrument, keys, bending):
    # Straight distance between two radial lines by the law of cosines, apart from the gate.
    random = np.random.default_rng(4)
    body = Body(instrument)
    posts = keys.of(Post)
    named_ones = 0
    for _ in range(120):
        post = posts[random.integers(len(posts))]
        hole = instrument.part(post.part).holes[
            random.integers(len(instrument.part(post.part).holes))
        ]
        aside = float(random.uniform(0.0, 9.0))
        along = hole.station_mm + aside - post.first.station_mm
        turn = hole.bearing_deg - post.first.bearing_deg
        made = bending.with_moved(keys, [post.name], along=along, round_deg=turn)
        findings = post_findings(Mechanism(made, instrument), body, LIMITS)
        wall = aside - hole.diameter_mm / 2 - post.thread_mm / 2
        found = any(
            f.check is Check.POST_IN_HOLE and set(f.elements) == {post.name, hole.name}
            for f in findings
        )
        # Its head is 4 wide: beside a chimney it reaches the rim's wall before the shank does.
        stem = aside - hole.diameter_mm / 2 - 2.0 - (1.2 if hole.pad is None else 0.0)
        if abs(wall - 1.5) < 0.05 or abs(stem) < 0.05:
            continue
        if hole.chimney_mm >= 0 or wall < 1.5:
            assert found == (wall < 1.5 or stem < 0), (post.name, hole.name, wall, stem)
            named_ones += found
    assert named_ones > 30
