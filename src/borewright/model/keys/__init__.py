"""Keys as they are surveyed: hinges, posts, arms, cups, rings, touches, springs, stops, links.

Plain measured data; how keys move is the affair of the room ``keywork``.
"""

from borewright.listing import names
from borewright.model.keys.elements import Arm as Arm
from borewright.model.keys.elements import Cup as Cup
from borewright.model.keys.elements import Element as Element
from borewright.model.keys.elements import Foot as Foot
from borewright.model.keys.elements import Hinge as Hinge
from borewright.model.keys.elements import KeyPoint as KeyPoint
from borewright.model.keys.elements import Link as Link
from borewright.model.keys.elements import Post as Post
from borewright.model.keys.elements import Ring as Ring
from borewright.model.keys.elements import Spring as Spring
from borewright.model.keys.elements import Stop as Stop
from borewright.model.keys.elements import Touch as Touch
from borewright.model.keys.key_set import KeySet as KeySet
from borewright.model.keys.kinds import Finger as Finger
from borewright.model.keys.kinds import KeyElement as KeyElement
from borewright.model.keys.kinds import SpringMaterial as SpringMaterial
from borewright.model.keys.kinds import SpringShape as SpringShape
from borewright.model.keys.points import points_of as points_of

__all__ = names(__file__)
