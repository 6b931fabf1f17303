"""What a body needs besides its acoustics: seats, posts, edges, marks. Table ``[body]``."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from borewright.model.base import Entity, Finite, NotNegative, Positive
from borewright.model.bounds import Bounded, LittleMeasure, PostDepth, SmallMeasure
from borewright.model.kinds import PostBase, PostHole, SeatShape


class BodyFeatures(Entity):
    """Workshop features of all parts (mm, degrees); none of them moves an acoustic dimension.

    ``seat`` is the shape of pad seats, ``seat_land_mm`` the width of the rim that meets the
    pad, ``seat_relief_mm`` how far the floor beside it lies below the rim. ``edge_mm`` breaks
    outer edges of chimneys and tenon ends, ``tenon_fillet_mm`` rounds the root of tenons where
    cracks start, ``groove_fillet_mm`` the corners of cork grooves, ``socket_chamfer_mm`` opens
    sockets for that root. ``post_hole`` says how posts are held: a pilot ``pilot_under_mm``
    smaller than the thread (or by the thread's pitch, where the survey gives it), a bore
    ``insert_over_mm`` larger for a heat-set insert, a clearance hole (ISO 273, medium) to bond
    shank or sleeve into, or none. ``post_base_mm`` is across the
    flat or boss below a post. ``vent_boss_wall_mm`` widens the foot of lined vents.
    ``serial`` of the instrument and, with ``orientation_text``, which end is the top are cut
    ``mark_depth_mm`` deep; alignment marks stand on both sides of every joint.

    Defaults follow common practice and are from memory.
    """

    seat: SeatShape = SeatShape.CROWNED
    seat_land_mm: Annotated[Positive, Bounded("seat_land_mm")] = 0.6
    seat_relief_mm: SmallMeasure = 0.4
    edge_mm: SmallMeasure = 0.3
    tenon_fillet_mm: SmallMeasure = 0.5
    groove_fillet_mm: SmallMeasure = 0.2
    socket_chamfer_mm: SmallMeasure = 0.8
    post_hole: PostHole = PostHole.PILOT
    post_depth_mm: PostDepth = 5.0
    pilot_under_mm: Annotated[NotNegative, Bounded("over_mm")] = 0.4
    insert_over_mm: Annotated[NotNegative, Bounded("over_mm")] = 1.0
    post_base: PostBase = PostBase.FLAT
    post_base_mm: Annotated[Positive, Bounded("post_base_mm")] = 6.0
    post_boss_height_mm: LittleMeasure = 0.6
    vent_boss_wall_mm: SmallMeasure = 1.5
    alignment_marks: bool = True
    alignment_bearing_deg: Annotated[Finite, Field(ge=-180, le=180)] = 180.0
    orientation_text: bool = True
    text_height_mm: Annotated[Finite, Field(ge=2.0, le=12.0)] = 3.5
    mark_depth_mm: Annotated[Positive, Bounded("mark_depth_mm")] = 0.4

    @classmethod
    def plain(cls) -> BodyFeatures:
        """Nothing but the acoustic dimensions: whole counterbores as seats, sharp edges."""
        return cls(
            seat=SeatShape.FLAT,
            seat_relief_mm=0.0,
            edge_mm=0.0,
            tenon_fillet_mm=0.0,
            groove_fillet_mm=0.0,
            socket_chamfer_mm=0.0,
            post_hole=PostHole.NONE,
            post_base=PostBase.NONE,
            vent_boss_wall_mm=0.0,
            alignment_marks=False,
            orientation_text=False,
        )


class ThumbRest(Entity):
    """A flat for a thumb rest with pilot holes for its two screws, one above the other (mm).

    ``station_mm`` and ``bearing_deg`` are its middle's. ``boss_mm`` raises the flat above the
    body; 0 cuts it just wide enough into the round.
    """

    station_mm: Finite
    bearing_deg: Annotated[Finite, Field(ge=-180, le=180)] = 180.0
    length_mm: Annotated[Positive, Bounded("rest_length_mm")] = 24.0
    width_mm: Annotated[Positive, Bounded("rest_width_mm")] = 9.0
    boss_mm: SmallMeasure = 0.0
    screw_diameter_mm: Annotated[Positive, Bounded("screw_mm")] = 2.0
    screw_spacing_mm: Annotated[Positive, Bounded("rest_length_mm")] = 16.0
    screw_depth_mm: Annotated[Positive, Bounded("screw_depth_mm")] = 5.0
