"""Hinges as they stand: heads in line, and end play."""

from __future__ import annotations

import numpy as np

from borewright.keywork.mechanism import Mechanism
from borewright.model.keys import Hinge, Post


def head_off_line_mm(mechanism: Mechanism, hinge: Hinge, post: Post) -> float:
    """Distance (mm) of a post's head from the line on which its key turns."""
    key = mechanism.turning[hinge.key]
    return float(np.linalg.norm(np.cross(mechanism.points[post.name][1] - key.origin, key.axis)))


def end_play_mm(mechanism: Mechanism, tubes: list[Hinge], posts: list[Post]) -> float:
    """Room (mm) between the outermost posts' heads, less all tubes on their rod."""
    axis = mechanism.turning[tubes[0].key].axis
    along = sorted(float(mechanism.points[post.name][1] @ axis) for post in posts)
    heads = sorted(posts, key=lambda post: float(mechanism.points[post.name][1] @ axis))
    room = along[-1] - along[0] - heads[0].head_mm / 2 - heads[-1].head_mm / 2
    # A post between the tubes of a shared rod takes room as well.
    room -= sum(post.head_mm for post in heads[1:-1])
    for tube in tubes:
        first, second = mechanism.points[tube.name]
        room -= float(np.linalg.norm(second - first))
    return room
