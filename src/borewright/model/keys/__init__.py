"""Keys as they are surveyed: hinges, posts, arms, cups, rings, touches, springs, stops, links.

Plain measured data; how keys move is the affair of the room ``keywork``.
"""

from borewright.model.keys.elements import (
    Arm,
    Cup,
    Element,
    Foot,
    Hinge,
    KeyPoint,
    Link,
    Post,
    Ring,
    Spring,
    Stop,
    Touch,
)
from borewright.model.keys.key_set import KeySet
from borewright.model.keys.kinds import Finger, KeyElement, SpringMaterial, SpringShape
from borewright.model.keys.points import points_of

__all__ = [
    "Arm",
    "Cup",
    "Element",
    "Finger",
    "Foot",
    "Hinge",
    "KeyElement",
    "KeyPoint",
    "KeySet",
    "Link",
    "Post",
    "Ring",
    "Spring",
    "SpringMaterial",
    "SpringShape",
    "Stop",
    "Touch",
    "points_of",
]
