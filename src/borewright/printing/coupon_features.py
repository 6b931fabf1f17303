"""The coupon's sizes that are to be measured, and the sheet they are typed into."""

from __future__ import annotations

import io
from collections.abc import Callable

from borewright.model.base import Entity
from borewright.model.files.tables import TableWriter
from borewright.printing import coupon
from borewright.printing.standing import Down
from borewright.words import ENGLISH, Choice, Message, Reader, Said, say, say_as


class FeatureKind(Choice):
    """Kinds of sizes that printers get wrong each in their own way; parts stand upright."""

    BORE = "bore", say("bore")  # round about the upright axis: bores and sockets
    HOLE_ACROSS = "hole across", say("hole across")  # side holes, measured level, round the body
    HOLE_UPRIGHT = (
        "hole upright",
        say("hole upright"),
    )  # side holes, measured along the body: the crown sags
    PILOT = "pilot", say("pilot")  # small side holes for threads
    OUTSIDE = "outside", say_as("size", "outside")  # bodies and tenons
    LENGTH = "length", say("length")  # along the part, from the bed or from step to step
    CROWN = "crown", say("crown of a hole")  # how far a hole's bridged crown comes down


class CouponFeature(Entity):
    """One size to be measured (mm): its key on the sheet, kind, name, and where to gauge it.

    ``from_bed`` is whether a length begins at the face that lay on the bed. ``hole_mm`` is the
    diameter of the hole whose crown a wall is measured to. ``turn_deg`` tells outsides apart that
    are measured round the same ``girth``.
    """

    feature: str
    kind: FeatureKind
    what: Said
    where: Said
    nominal_mm: float
    from_bed: bool = False
    hole_mm: float = 0.0
    girth: str = ""
    turn_deg: int = 0


#: The ends that the coupon's parts stand on: what is measured from the bed counts on it.
COUPON_DOWNS = {
    "coupon tube": Down.TOP,
    "coupon block": Down.BOTTOM,
    "coupon ring": Down.BOTTOM,
}
_QUARTERS, _HALF_QUARTERS = (0, 90, 180, -90), (0, 45, 90, 135)


def coupon_features() -> list[CouponFeature]:
    """Every size of the coupon that is to be measured, in the order of the sheet."""
    return [*_bores(), *_holes(), *_pilots(), *_outsides(), *_lengths()]


def _bores() -> list[CouponFeature]:
    bore = FeatureKind.BORE
    found = [
        CouponFeature(
            feature=f"block bore {size:g}",
            kind=bore,
            nominal_mm=size,
            what=say("block's bore {size_mm:g}", size_mm=size),
            where=say("plug gauge from the tenon's end"),
        )
        for size in coupon.BORES_MM
    ]
    for key, size, what, where in (
        ("tube bore", coupon.TUBE_BORE_MM, say("tube's bore"), say("from the top end, 5 mm deep")),
        ("socket", coupon.SOCKET_MM, say("socket"), say("tube's bottom end, 6 mm deep")),
    ):
        found.append(CouponFeature(feature=key, kind=bore, what=what, where=where, nominal_mm=size))
    for turn in _HALF_QUARTERS:
        found.append(
            CouponFeature(
                feature=f"ring bore {turn}",
                kind=bore,
                nominal_mm=coupon.RING_BORE_MM,
                what=say("ring's bore, turned {turn_deg}°", turn_deg=turn),
                where=say("half way up the ring, turned {turn_deg}°", turn_deg=turn),
            )
        )
    return found


def _holes() -> list[CouponFeature]:
    found = []
    for station, size, bearings in coupon.HOLES:
        for bearing in bearings:
            key = f"tube hole {coupon.hole_name(size, bearing)}"
            at = {"station_mm": station, "bearing_deg": bearing}
            hole = {"size_mm": size, "bearing_deg": bearing}
            found.append(
                CouponFeature(
                    feature=f"{key} across",
                    kind=FeatureKind.HOLE_ACROSS,
                    nominal_mm=size,
                    what=say("hole {size_mm:g} at {bearing_deg:+d}°, level", **hole),
                    where=say(
                        "{station_mm:g} mm from the top, bearing {bearing_deg:+d}, level", **at
                    ),
                )
            )
            found.append(
                CouponFeature(
                    feature=f"{key} upright",
                    kind=FeatureKind.HOLE_UPRIGHT,
                    nominal_mm=size,
                    what=say("hole {size_mm:g} at {bearing_deg:+d}°, along the tube", **hole),
                    where=say(
                        "{station_mm:g} mm from the top, bearing {bearing_deg:+d}, along the tube",
                        **at,
                    ),
                )
            )
            if size >= coupon.LEAST_CROWN_MM:
                found.append(
                    CouponFeature(
                        feature=f"{key} crown",
                        kind=FeatureKind.CROWN,
                        nominal_mm=round(coupon.LEDGE_STATION_MM - station - size / 2, 4),
                        hole_mm=size,
                        what=say("wall above hole {size_mm:g} at {bearing_deg:+d}°", **hole),
                        where=say("from the hole's crown along the tube to the ledge outside"),
                    )
                )
    return found


def _pilots() -> list[CouponFeature]:
    pilot = coupon.coupon_posts(coupon.coupon_instrument())[0].hole_mm
    return [
        CouponFeature(
            feature=f"pilot {bearing:+d}",
            kind=FeatureKind.PILOT,
            nominal_mm=round(pilot, 4),
            what=say("pilot hole at {bearing_deg:+d}°", bearing_deg=bearing),
            where=say(
                "block, {station_mm:g} mm from the shoulder, bearing {bearing_deg:+d}",
                station_mm=coupon.PILOT_STATION_MM,
                bearing_deg=bearing,
            ),
        )
        for bearing in coupon.PILOT_BEARINGS
    ]


def _outsides() -> list[CouponFeature]:
    found = []
    for turn in _HALF_QUARTERS:
        at = {"turn_deg": turn}
        rows: tuple[tuple[str, float, Message, Message], ...] = (
            (
                "tenon",
                coupon.TENON_MM,
                say("tenon, turned {turn_deg}°", **at),
                say("block's tenon, turned {turn_deg}°", **at),
            ),
            (
                "tube outside",
                coupon.TUBE_OUTSIDE_MM,
                say("tube's outside, turned {turn_deg}°", **at),
                say("near its top, turned {turn_deg}°", **at),
            ),
            (
                "block outside",
                coupon.BLOCK_OUTSIDE_MM,
                say("block's outside, turned {turn_deg}°", **at),
                say("near its bottom, turned {turn_deg}°", **at),
            ),
            (
                "ring outside",
                coupon.RING_OUTSIDE_MM,
                say("ring's outside, turned {turn_deg}°", **at),
                say("half way up the ring, turned {turn_deg}°", **at),
            ),
        )
        for girth, size, what, where in rows:
            found.append(
                CouponFeature(
                    feature=f"{girth} {turn}",
                    kind=FeatureKind.OUTSIDE,
                    what=what,
                    where=where,
                    nominal_mm=size,
                    girth=girth,
                    turn_deg=turn,
                )
            )
    return found


def _lengths() -> list[CouponFeature]:
    tube, ledge, depth = coupon.TUBE_LENGTH_MM, coupon.LEDGE_STATION_MM, coupon.SOCKET_DEPTH_MM
    body, tenon = coupon.BLOCK_LENGTH_MM, coupon.TENON_LENGTH_MM
    rows: tuple[tuple[str, float, bool, tuple[int, ...], Message], ...] = (
        ("tube length", tube, True, _QUARTERS, say("tube from end to end")),
        ("tube above ledge", tube - ledge, False, _QUARTERS, say("tube from its ledge outside to "
         "the bottom end")),
        ("tube below ledge", ledge, True, (0, 180), say("tube from its top end to the ledge "
         "outside")),
        ("socket depth", depth, False, (0, 180), say("socket's depth")),
        ("block length", body + tenon, True, (0, 180), say("block from end to end")),
        ("block body", body, True, (0, 180), say("block from its bottom end to the shoulder")),
        ("tenon length", tenon, False, (0, 180), say("tenon from the shoulder to its end")),
    )  # fmt: skip
    return [
        CouponFeature(
            feature=f"{key} {turn}",
            kind=FeatureKind.LENGTH,
            nominal_mm=size,
            from_bed=from_bed,
            what=what,
            where=say("{what}, at bearing {bearing_deg:+d}", what=what, bearing_deg=turn),
        )
        for key, size, from_bed, turns, what in rows
        for turn in turns
    ]


def coupon_sheet(
    measure: Callable[[CouponFeature], float | None] | None = None,
    *,
    words: Reader = ENGLISH,
    lot: str = "",
) -> str:
    """The CSV in which measured sizes are typed, one line a feature (mm).

    ``measure`` fills the column; where it is left out, or answers None, the column is empty.
    ``words`` tells the notes and where to measure; columns, keys and kinds are the same in
    every language, for they are read back. ``lot`` is the material's, and stands in every line.
    """
    stream = io.StringIO()
    for note in (
        words("Calibration coupon. Type what you measure (mm) into measured_mm; leave a line"),
        words("empty where you did not measure. Several coupons: repeat the lines below."),
    ):
        stream.write(f"# {note}\n")
    writer = TableWriter(stream)
    writer.writerow(["feature", "kind", "where", "nominal_mm", "measured_mm", "comment", "lot"])
    for one in coupon_features():
        value = None if measure is None else measure(one)
        cell = "" if value is None else f"{value:.3f}"
        where = words.tell(one.where)
        nominal = f"{one.nominal_mm:g}"
        writer.writerow([one.feature, one.kind.value, where, nominal, cell, "", lot])
    return stream.getvalue()
