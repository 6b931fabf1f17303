"""The calibration coupon: three small parts whose every size is worth measuring."""

from __future__ import annotations

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
from borewright.solids import PostPlan, plan_posts

# Lengths are whole layers of 0.1, 0.12, 0.15 and 0.2 mm: a slicer rounds faces to layers, and
# that is not the printer's error.
BORES_MM = (15.0, 12.0, 8.0, 5.0, 3.2)
_STEP_MM = 12.0
HOLES = (
    (10.0, 3.0, (0, 90, 180, -90)),
    (22.0, 5.0, (45, 135, -135, -45)),
    (36.0, 8.0, (0, 120, -120)),
    (54.0, 12.0, (60, -120)),
)
#: A calliper's jaw enters holes from this size (mm) on.
LEAST_CROWN_MM = 5.0
PILOT_STATION_MM, PILOT_BEARINGS, _THREAD_MM = 54.0, (0, 90, 180, -90), 3.0
TENON_MM, SOCKET_MM, TENON_LENGTH_MM, SOCKET_DEPTH_MM = 22.0, 22.25, 12.0, 12.6
TUBE_BORE_MM, TUBE_OUTSIDE_MM, TUBE_LENGTH_MM = 14.65, 29.6, 156.0
#: From the ledge on the tube is thin, so that its length costs little.
LEDGE_STATION_MM, _THIN_BORE_MM, _THIN_OUTSIDE_MM = 66.0, 20.0, 26.4
BLOCK_OUTSIDE_MM, BLOCK_LENGTH_MM = 30.0, 60.0
RING_BORE_MM, RING_OUTSIDE_MM, _RING_LENGTH_MM = 60.0, 66.0, 10.2


def coupon_instrument(label: str = "") -> Instrument:
    """The coupon as an instrument of three parts, so that it is built like any body.

    "coupon tube" has side holes of four sizes at several bearings, a ledge outside, and a
    socket; "coupon block" a bore in five steps, a tenon for that socket and four pilot holes;
    "coupon ring" is as wide as a bell. Print the tube on its top end, the block on its bottom
    end. ``label`` is cut into them where there is room.
    """
    steps = []
    for number, diameter in enumerate(BORES_MM):
        start = -TENON_LENGTH_MM if number == 0 else number * _STEP_MM
        last = number == len(BORES_MM) - 1
        end = BLOCK_LENGTH_MM if last else (number + 1) * _STEP_MM
        steps += [(start, diameter), (end, diameter)]
    tube = Part(
        name="coupon tube",
        length_mm=TUBE_LENGTH_MM,
        bore=_stepped(TUBE_BORE_MM, _THIN_BORE_MM),
        outside=_stepped(TUBE_OUTSIDE_MM, _THIN_OUTSIDE_MM),
        socket_bottom=Socket(depth_mm=SOCKET_DEPTH_MM, diameter_mm=SOCKET_MM),
        holes=[
            ToneHole(
                name=hole_name(diameter, bearing),
                station_mm=station,
                bearing_deg=bearing,
                diameter_mm=diameter,
            )
            for station, diameter, bearings in HOLES
            for bearing in bearings
        ],
    )
    block = Part(
        name="coupon block",
        length_mm=BLOCK_LENGTH_MM,
        bore=steps,
        outside=[(0, BLOCK_OUTSIDE_MM), (BLOCK_LENGTH_MM, BLOCK_OUTSIDE_MM)],
        tenon_top=Tenon(length_mm=TENON_LENGTH_MM, diameter_mm=TENON_MM, clearance=Clearance.SLIP),
    )
    ring = Part(
        name="coupon ring",
        length_mm=_RING_LENGTH_MM,
        bore=[(0, RING_BORE_MM), (_RING_LENGTH_MM, RING_BORE_MM)],
        outside=[(0, RING_OUTSIDE_MM), (_RING_LENGTH_MM, RING_OUTSIDE_MM)],
    )
    return Instrument(
        name="calibration coupon",
        parts=[tube, block, ring],
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
            station_mm=PILOT_STATION_MM,
            bearing_deg=bearing,
            thread_mm=_THREAD_MM,
        )
        for bearing in PILOT_BEARINGS
    ]
    return plan_posts(instrument, KeyworkSurvey(rows=rows))


def _stepped(first: float, second: float) -> list[tuple[float, float]]:
    """Diameters (mm) of the tube before and beyond its ledge."""
    ledge = LEDGE_STATION_MM
    return [(0, first), (ledge, first), (ledge, second), (TUBE_LENGTH_MM, second)]


def hole_name(diameter_mm: float, bearing_deg: float) -> str:
    """A side hole's name on the coupon, such as ``5@+45``."""
    return f"{diameter_mm:g}@{bearing_deg:+d}"
