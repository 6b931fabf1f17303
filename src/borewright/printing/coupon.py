"""The calibration coupon: a small pair of parts whose every size is worth measuring."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable

from borewright.model import (
    BodyFeatures,
    Clearance,
    Instrument,
    KeyworkSurvey,
    Part,
    PostBase,
    Socket,
    SurveyItem,
    SurveyRow,
    Tenon,
    ToneHole,
)
from borewright.model.base import Entity
from borewright.solids import PostPlan, plan_posts
from borewright.words import ENGLISH, Choice, Message, Reader, Said, say


class FeatureKind(Choice):
    """Kinds of sizes that printers get wrong each in their own way; parts stand upright."""

    BORE = "bore", say("bore")  # round about the upright axis: bores and sockets
    HOLE_ACROSS = "hole across", say("hole across")  # side holes, measured level, round the body
    HOLE_UPRIGHT = (
        "hole upright",
        say("hole upright"),
    )  # side holes, measured along the body: the crown sags
    PILOT = "pilot", say("pilot")  # small side holes for threads
    OUTSIDE = "outside", say("outside")  # bodies and tenons


class CouponFeature(Entity):
    """One size to be measured (mm): its key on the sheet, kind, name, and where to gauge it."""

    feature: str
    kind: FeatureKind
    what: Said
    where: Said
    nominal_mm: float


_BORES = (15.0, 12.0, 8.0, 5.0, 3.2)
_STEP_MM = 12.0
_HOLES = (
    (10.0, 3.0, (0, 90, 180, -90)),
    (22.0, 5.0, (45, 135, -135, -45)),
    (36.0, 8.0, (0, 120, -120)),
    (54.0, 12.0, (60, -120)),
)
_PILOT_STATION_MM, _PILOT_BEARINGS, _THREAD_MM = 54.0, (0, 90, 180, -90), 3.0
_TENON_MM, _SOCKET_MM, _TENON_LENGTH_MM, _SOCKET_DEPTH_MM = 22.0, 22.25, 12.0, 12.4
_TUBE_BORE_MM, _TUBE_OUTSIDE_MM, _TUBE_LENGTH_MM = 14.65, 29.6, 80.0
_BLOCK_OUTSIDE_MM, _BLOCK_LENGTH_MM = 30.0, 62.0


def coupon_instrument(label: str = "") -> Instrument:
    """The coupon as an instrument of two parts, so that it is built like any body.

    "coupon tube" has side holes of four sizes at several bearings and a socket; "coupon
    block" a bore in five steps, a tenon for that socket and four pilot holes. Print the tube
    on its top end, the block on its bottom end. ``label`` is cut into both.
    """
    steps = []
    for number, diameter in enumerate(_BORES):
        start = -_TENON_LENGTH_MM if number == 0 else number * _STEP_MM
        last = number == len(_BORES) - 1
        end = _BLOCK_LENGTH_MM if last else (number + 1) * _STEP_MM
        steps += [(start, diameter), (end, diameter)]
    tube = Part(
        name="coupon tube",
        length_mm=_TUBE_LENGTH_MM,
        bore=[(0, _TUBE_BORE_MM), (_TUBE_LENGTH_MM, _TUBE_BORE_MM)],
        outside=[(0, _TUBE_OUTSIDE_MM), (_TUBE_LENGTH_MM, _TUBE_OUTSIDE_MM)],
        socket_bottom=Socket(depth_mm=_SOCKET_DEPTH_MM, diameter_mm=_SOCKET_MM),
        holes=[
            ToneHole(
                name=hole_name(diameter, bearing),
                station_mm=station,
                bearing_deg=bearing,
                diameter_mm=diameter,
            )
            for station, diameter, bearings in _HOLES
            for bearing in bearings
        ],
    )
    block = Part(
        name="coupon block",
        length_mm=_BLOCK_LENGTH_MM,
        bore=steps,
        outside=[(0, _BLOCK_OUTSIDE_MM), (_BLOCK_LENGTH_MM, _BLOCK_OUTSIDE_MM)],
        tenon_top=Tenon(
            length_mm=_TENON_LENGTH_MM, diameter_mm=_TENON_MM, clearance=Clearance.SLIP
        ),
    )
    return Instrument(
        name="calibration coupon",
        parts=[tube, block],
        body=BodyFeatures(post_base=PostBase.NONE, edge_mm=0.0, alignment_marks=False),
        serial=label,
    )


def coupon_posts(instrument: Instrument) -> list[PostPlan]:
    """The coupon's pilot holes."""
    rows = [
        SurveyRow(
            item=SurveyItem.POST,
            name=f"pilot {bearing:+d}",
            part="coupon block",
            station_mm=_PILOT_STATION_MM,
            bearing_deg=bearing,
            thread_mm=_THREAD_MM,
        )
        for bearing in _PILOT_BEARINGS
    ]
    return plan_posts(instrument, KeyworkSurvey(rows=rows))


def hole_name(diameter_mm: float, bearing_deg: float) -> str:
    """A side hole's name on the coupon, such as ``5@+45``."""
    return f"{diameter_mm:g}@{bearing_deg:+d}"


def coupon_features() -> list[CouponFeature]:
    """Every size of the coupon that is to be measured, in the order of the sheet."""
    found: list[CouponFeature] = []

    def add(key: str, kind: FeatureKind, nominal: float, what: Message, where: Message) -> None:
        found.append(
            CouponFeature(feature=key, kind=kind, what=what, where=where, nominal_mm=nominal)
        )

    bore, outside = FeatureKind.BORE, FeatureKind.OUTSIDE
    for size in _BORES:
        words = say("block's bore {size_mm:g}", size_mm=size)
        add(f"block bore {size:g}", bore, size, words, say("plug gauge from the tenon's end"))
    words, where = say("tube's bore"), say("from the top end, 5 mm deep")
    add("tube bore", bore, _TUBE_BORE_MM, words, where)
    add("socket", bore, _SOCKET_MM, say("socket"), say("tube's bottom end, 6 mm deep"))
    for station, size, bearings in _HOLES:
        for bearing in bearings:
            name = f"tube hole {hole_name(size, bearing)}"
            at = {"station_mm": station, "bearing_deg": bearing}
            hole = {"size_mm": size, "bearing_deg": bearing}
            words = say("hole {size_mm:g} at {bearing_deg:+d}°, level", **hole)
            where = say("{station_mm:g} mm from the top, bearing {bearing_deg:+d}, level", **at)
            add(f"{name} across", FeatureKind.HOLE_ACROSS, size, words, where)
            words = say("hole {size_mm:g} at {bearing_deg:+d}°, along the tube", **hole)
            where = say(
                "{station_mm:g} mm from the top, bearing {bearing_deg:+d}, along the tube", **at
            )
            add(f"{name} upright", FeatureKind.HOLE_UPRIGHT, size, words, where)
    pilot = coupon_posts(coupon_instrument())[0].hole_mm
    for bearing in _PILOT_BEARINGS:
        words = say("pilot hole at {bearing_deg:+d}°", bearing_deg=bearing)
        where = say(
            "block, {station_mm:g} mm from the shoulder, bearing {bearing_deg:+d}",
            station_mm=_PILOT_STATION_MM,
            bearing_deg=bearing,
        )
        add(f"pilot {bearing:+d}", FeatureKind.PILOT, round(pilot, 4), words, where)
    for turn in (0, 90):
        words = say("tenon, turned {turn_deg}°", turn_deg=turn)
        where = say("block's tenon, turned {turn_deg}°", turn_deg=turn)
        add(f"tenon {turn}", outside, _TENON_MM, words, where)
        words = say("tube's outside, turned {turn_deg}°", turn_deg=turn)
        where = say("near its top, turned {turn_deg}°", turn_deg=turn)
        add(f"tube outside {turn}", outside, _TUBE_OUTSIDE_MM, words, where)
        words = say("block's outside, turned {turn_deg}°", turn_deg=turn)
        where = say("near its bottom, turned {turn_deg}°", turn_deg=turn)
        add(f"block outside {turn}", outside, _BLOCK_OUTSIDE_MM, words, where)
    return found


def coupon_sheet(
    measure: Callable[[CouponFeature], float | None] | None = None, *, words: Reader = ENGLISH
) -> str:
    """The CSV in which measured sizes are typed, one line a feature (mm).

    ``measure`` fills the column; where it is left out, or answers None, the column is empty.
    ``words`` tells the notes and where to measure; columns, keys and kinds are the same in
    every language, for they are read back.
    """
    stream = io.StringIO()
    for note in (
        words("Calibration coupon. Type what you measure (mm) into measured_mm; leave a line"),
        words("empty where you did not measure. Several coupons: repeat the lines below."),
    ):
        stream.write(f"# {note}\n")
    writer = csv.writer(stream, lineterminator="\n")
    writer.writerow(["feature", "kind", "where", "nominal_mm", "measured_mm", "comment"])
    for one in coupon_features():
        value = None if measure is None else measure(one)
        cell = "" if value is None else f"{value:.3f}"
        where = words.tell(one.where)
        writer.writerow([one.feature, one.kind.value, where, f"{one.nominal_mm:g}", cell, ""])
    return stream.getvalue()
