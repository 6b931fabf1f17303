import math

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from borewright.model import BodyFeatures, Instrument, Pad, Part, Socket, Tenon, ToneHole, Undercut
from borewright.solids import bearing_direction, bearing_of, body_volume_mm3, part_body

#: Our own integral's rings of 0.02 mm may miss a step by half a ring; a chimney is far more.
VOLUME = 5e-5


def hole(name="h", station=50.0, **changes):
    return ToneHole(**{"name": name, "station_mm": station, "diameter_mm": 6} | changes)


def pad(diameter=10.0):
    return Pad(diameter_mm=diameter, lift_mm=2.5, rest="closed")


FEATURES = {
    "drilled": hole(),
    "chimney": hole(chimney_mm=1.4),
    "ring chimney": hole(chimney_mm=1.4, cover="ring"),
    "flush pad": hole(cover="pad", pad=pad()),
    "raised pad": hole(cover="pad", pad=pad(), chimney_mm=0.6),
    "sunk pad, ring stands out": hole(cover="pad", pad=pad(), chimney_mm=-0.3),
    "sunk pad, full floor": hole(cover="pad", pad=pad(), chimney_mm=-2),
    "finger dish": hole(chimney_mm=-0.8),
    "undercut": hole(undercut=Undercut(diameter_mm=8, depth_mm=3)),
    "lining": hole(diameter_mm=3, into_bore_mm=3, chimney_mm=1, cover="pad", pad=pad(8)),
    "undercut lining": hole(
        diameter_mm=3, into_bore_mm=3, undercut=Undercut(diameter_mm=4, depth_mm=2)
    ),
}


def test_plain_tube_has_the_closed_form_volume(one_part):
    body = part_body(one_part(), "joint")
    assert body.is_valid
    # Kernel integration of exact cylinders: only rounding remains.
    assert body.volume == pytest.approx(math.pi * 100 * (15**2 - 7.5**2), rel=1e-9)


def test_conical_stepped_bore_has_the_closed_form_volume(one_part):
    bore = [(0, 14), (40, 16), (40, 18), (100, 18)]
    body = part_body(one_part(bore=bore), "joint")
    frustum = math.pi * 40 / 3 * (7**2 + 7 * 8 + 8**2)
    inside = frustum + math.pi * 60 * 9**2
    assert body.volume == pytest.approx(math.pi * 100 * 15**2 - inside, rel=1e-9)


@pytest.mark.parametrize("bearing", [0, 90, 180, -90, 37])
@pytest.mark.parametrize("feature", FEATURES)
def test_every_feature_is_valid_and_as_large_as_the_integral(
    one_part, volume_mm3, feature, bearing
):
    tone_hole = FEATURES[feature].model_copy(update={"bearing_deg": bearing})
    instrument = one_part(tone_hole)
    body = part_body(instrument, "joint")
    assert body.is_valid
    assert len(body.solids()) == 1
    bare = body_volume_mm3(part_body(one_part(), "joint"))
    expected = volume_mm3(instrument.parts[0], 1.2) - volume_mm3(one_part().parts[0], 1.2)
    # The feature alone, not the whole part. Both integrals are good to some hundredths of
    # a mm³; a rim 0.01 mm off or a foot left out is more than a tenth.
    assert body_volume_mm3(body) - bare == pytest.approx(expected, abs=0.06)


@pytest.mark.parametrize("chimney", [-1.0, 0.0, 1.0])
def test_a_conical_body_still_gives_a_flat_rim(one_part, chimney):
    tone_hole = hole(cover="pad", pad=pad(), chimney_mm=chimney)
    instrument = one_part(tone_hole, outside=[(0, 28), (100, 40)])
    body = part_body(instrument, "joint")
    assert body.is_valid
    rim = instrument.parts[0].outside_diameter_at(50) / 2 + chimney
    flats = [f for f in body.faces() if abs(f.center().Y + rim) < 1e-6 and f.normal_at().Y < -0.999]
    assert sum(face.area for face in flats) >= math.pi * (4.2**2 - 3**2) * 0.999


def test_tenon_bore_may_be_listed_or_goes_on(one_part):
    tenon = Tenon(length_mm=10, diameter_mm=22)
    goes_on = part_body(one_part(tenon_bottom=tenon), "joint").volume
    listed = part_body(
        one_part(tenon_bottom=tenon, bore=[(0, 15), (100, 15), (110, 15)]), "joint"
    ).volume
    wider = part_body(
        one_part(tenon_bottom=tenon, bore=[(0, 15), (100, 15), (100, 17), (130, 17)]), "joint"
    ).volume
    assert listed == pytest.approx(goes_on, rel=1e-9)
    assert goes_on - wider == pytest.approx(math.pi * 10 * (8.5**2 - 7.5**2), rel=1e-6)


def test_cork_groove_and_sockets(one_part):
    plain = math.pi * 100 * (15**2 - 7.5**2)
    corked = Tenon(length_mm=16, diameter_mm=22, cork_length_mm=12, cork_depth_mm=1)
    socket = Socket(depth_mm=15, diameter_mm=22.4)
    body = part_body(one_part(tenon_bottom=corked, socket_top=socket), "joint")
    tenon = math.pi * (16 * (11**2 - 7.5**2) - 12 * (11**2 - 10**2))
    socket_room = math.pi * 15 * (11.2**2 - 7.5**2)
    assert body.volume == pytest.approx(plain + tenon - socket_room, rel=1e-9)
    box = body.bounding_box()
    # The bounding box is padded by the kernel's tolerance, 1e-7.
    assert tuple(box.min) == pytest.approx((-15, -15, 0), abs=1e-5)
    assert tuple(box.max) == pytest.approx((15, 15, 116), abs=1e-5)


def test_bearings_grow_to_the_players_left(one_part):
    # Seen from the top with the front up, the player's left is to the left: front -y, left -x.
    assert bearing_direction(0) == pytest.approx((0, -1))
    assert bearing_direction(90) == pytest.approx((-1, 0))
    assert bearing_of(*bearing_direction(-130)) == pytest.approx(-130)
    # Independent of our formula: forward × left = up for a player, and up is -z here.
    front, left = (np.array([*bearing_direction(b), 0.0]) for b in (0, 90))
    assert np.cross(front, left) == pytest.approx([0, 0, -1])
    body = part_body(one_part(hole(station=30.0, bearing_deg=90, chimney_mm=2)), "joint")
    box = body.bounding_box()
    assert tuple(box.min) == pytest.approx((-17, -15, 0), abs=1e-5)
    assert tuple(box.max) == pytest.approx((15, 15, 100), abs=1e-5)


@pytest.mark.parametrize("index", range(4))
def test_clarinet_parts_are_as_large_as_the_integral(clarinet, volume_mm3, index):
    part = clarinet.parts[index]
    body = part_body(clarinet, part.name)
    assert body.is_valid
    assert body_volume_mm3(body) == pytest.approx(volume_mm3(part, 1.2), rel=VOLUME)


def test_clarinet_heights_are_the_tables(clarinet, tube_heights_mm):
    for part, tone_hole, _ in clarinet.placed_holes():
        assert part.tube_height_mm(tone_hole) == pytest.approx(tube_heights_mm[tone_hole.name])


@st.composite
def sensible_parts(draw):
    def number(low, high):
        return round(draw(st.floats(low, high)), 2)

    bore = number(12, 18)
    taper, wall = number(-0.5, 1.5), number(5, 9)
    outside = bore + 2 * wall
    holes = []
    for index in range(draw(st.integers(0, 3))):
        diameter = number(3, 9)
        covered = draw(st.sampled_from(["finger", "ring", "pad"]))
        undercut = draw(st.booleans())
        holes.append(
            ToneHole(
                name=f"h{index}",
                station_mm=30 + 30 * index + number(-3, 3),
                diameter_mm=diameter,
                bearing_deg=number(-180, 180),
                chimney_mm=number(-1.5, 2.5),
                cover=covered,
                pad=pad(diameter + 4) if covered == "pad" else None,
                undercut=Undercut(diameter_mm=diameter + 1, depth_mm=1.5) if undercut else None,
            )
        )
    return Part(
        name="joint",
        length_mm=120,
        bore=[(0, bore), (60, bore), (120, bore + taper)],
        outside=[(0, outside), (120, outside + number(0, 3))],
        socket_top=Socket(depth_mm=12, diameter_mm=bore + 5),
        tenon_bottom=Tenon(length_mm=12, diameter_mm=bore + 8),
        holes=holes,
    )


@settings(max_examples=15, deadline=None, suppress_health_check=list(HealthCheck))
@given(part=sensible_parts())
def test_any_sensible_part_is_a_valid_solid(part, volume_mm3):
    plain = Instrument(parts=[part], body=BodyFeatures.plain())
    body = part_body(plain, "joint")
    assert body.is_valid
    assert len(body.solids()) == 1
    # Conical bodies let the integral's simple foot and seat differ by a few mm³.
    assert body_volume_mm3(body) == pytest.approx(volume_mm3(part, 1.2), rel=1e-3)


@settings(max_examples=8, deadline=None, suppress_health_check=list(HealthCheck))
@given(part=sensible_parts())
def test_any_sensible_part_takes_the_workshops_features(part):
    body = part_body(Instrument(parts=[part], serial="A-1"), "joint")
    assert body.is_valid
    assert len(body.solids()) == 1


def test_a_nearly_tangent_undercut_is_made(one_part, volume_mm3):
    """An undercut of 97 % of the bore: the kernel skips this cut with the seam at -45°."""
    wide = hole(
        station=49.0,
        diameter_mm=10.98,
        bearing_deg=90,
        chimney_mm=-0.75,
        undercut=Undercut(diameter_mm=12.55, depth_mm=2.711),
    )
    instrument = one_part(
        wide,
        hole("other", station=127, diameter_mm=7, bearing_deg=180),
        length_mm=150,
        bore=[(0, 13), (50, 12.983), (75, 13), (75, 13.1), (150, 13.1)],
        outside=[(0, 23), (70, 23.831), (150, 24.752)],
        socket_top=Socket(depth_mm=15, diameter_mm=20),
        tenon_bottom=Tenon(length_mm=15, diameter_mm=19.7, cork_length_mm=10, cork_depth_mm=0.5),
    )
    body = part_body(instrument, "joint")
    # Near tangency the kernel's edges are good to some tenths of a mm³ in 45 000.
    assert body_volume_mm3(body) == pytest.approx(volume_mm3(instrument.parts[0], 1.2), rel=1e-4)


@pytest.mark.parametrize("feature", FEATURES)
@pytest.mark.parametrize("lift", [0.2, -0.2])
def test_a_hollow_drawn_out_is_longer_one_way_alone(one_part, feature, lift):
    """Widths between bore and rim, along the body and across it, from the solid's own faces."""
    tone_hole = FEATURES[feature].model_copy(update={"bearing_deg": 37})
    instrument = one_part(tone_hole)
    body = part_body(instrument, "joint", (), {"h": lift})
    assert body.is_valid
    part, (x, y) = instrument.parts[0], bearing_direction(37)
    rim = part.outside_diameter_at(50.0) / 2 + tone_hole.chimney_mm
    level, radius = 7.5 + 0.7 * (rim - 7.5), tone_hole.diameter_mm / 2
    for along in (True, False):
        half = radius + abs(lift) / 2 * ((lift > 0) == along)
        for off, solid in ((-0.01, False), (0.01, True)):
            aside = half + off
            point = (level * x, level * y, 50.0 + aside)
            if not along:
                point = (level * x - aside * y, level * y + aside * x, 50.0)
            assert body.is_inside(point) is solid
