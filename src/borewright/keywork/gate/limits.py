"""What "the keys fit and the action is right" means, as numbers.

[CP] common practice, [C] worked out, [MU] from memory: to be replaced by the workshop's own.
"""

from __future__ import annotations

from dataclasses import dataclass

from borewright.keywork.standing import POST_WALL_MM


@dataclass(frozen=True)
class Limits:
    """Limits of the gate (mm, degrees, grams; ratios without unit).

    Where a row of the survey states its uncertainty, twice that is added to what it may be off.
    """

    #: Middle of a cup or ring off its hole's axis [MU].
    off_hole_mm: float = 0.6
    #: Pad face off the rim: a 0.03 feeler must hold all round after bending [CP, MU].
    pad_height_mm: float = 0.05
    #: Gap across the pad's width from its tilt [MU].
    pad_flat_mm: float = 0.05
    #: Air between ring and chimney, all round [MU].
    ring_air_mm: float = 0.4
    #: Ring's top over the rim when down [MU]; a hundredth for rounding.
    ring_over_mm: tuple[float, float] = (-0.01, 0.31)
    #: Lift off what is stated; share of the hole's diameter; near edge over far edge [CP, MU].
    lift_off_mm: float = 0.2
    lift_share: float = 1 / 3
    near_edge_share: float = 0.2
    #: Slide per lift at landing [MU].
    slide_per_lift: float = 0.6
    #: Post head off the hinge's line [MU]; end play [CP], and what is past mending [MU].
    head_off_mm: float = 0.02
    end_play_mm: tuple[float, float] = (0.018, 0.052)
    worst_play_mm: float = 0.10
    #: Post's foot off the body's outside: a flat takes up so much [C].
    foot_off_mm: float = 0.5
    #: Wall from a post hole to bore or socket, and to a tone hole [MU].
    post_wall_mm: float = POST_WALL_MM
    post_to_hole_mm: float = 1.5
    #: Edge of a post hole to the end of its part, or of its piece [MU].
    post_to_end_mm: float = 1.5
    #: Tube to body; lever to body at rest and moved [MU].
    tube_air_mm: float = 0.8
    lever_air_rest_mm: float = 0.5
    lever_air_moved_mm: float = 0.3
    #: Parts of two keys, posts and chimneys apart [MU].
    parts_air_mm: float = 0.3
    #: Needle to body and to other parts through the swing [MU].
    needle_air_mm: float = 0.2
    #: Free end of a flat spring off the body that it slides on [MU].
    flat_tip_mm: float = 0.6
    #: Room for a finger round its hole's axis [MU].
    finger_room_mm: float = 6.0
    #: Touch travel [MU]; lost motion at the touch [CP]; ways at a link [MU].
    travel_mm: tuple[float, float] = (1.0, 4.5)
    lost_motion_mm: float = 0.05
    link_way_mm: float = 0.15
    #: Touch weight at rest: closed pads, open pads, levers alone [MU].
    closed_g: tuple[float, float] = (45.0, 70.0)
    open_g: tuple[float, float] = (25.0, 40.0)
    lever_g: tuple[float, float] = (8.0, 20.0)
    #: Force pressed over force at rest [MU]; stress over the working stress.
    force_rise: float = 2.5
    stress_share: float = 1.0
    #: What a survey states may differ from what its points say: travel, tip force, touch weight.
    stated_travel_mm: float = 0.1
    stated_force_share: float = 0.05


LIMITS = Limits()
