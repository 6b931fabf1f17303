"""Keys as a mechanism: how they turn, drive each other, land, clear and stand on a body.

Knows the model and nothing of sound or screens. Lengths in mm, angles in degrees, forces in N
or, at a touch, in grams. The gate says everything that keeps keys from working on a body; it
is what every door asks before something is made.
"""

from borewright.keywork.body import Body
from borewright.keywork.figures import KeyTolerance, key_figures, key_tolerances
from borewright.keywork.fingering import FingeringDifference, fingering_differences, press
from borewright.keywork.forces import TouchForce, touch_forces, wanted_spring
from borewright.keywork.gate import (
    LIMITS,
    Check,
    KeyFinding,
    Limits,
    fingering_findings,
    key_findings,
)
from borewright.keywork.growth import PlayRange, play_ranges
from borewright.keywork.hands import HandMeasure, hand_measures
from borewright.keywork.mechanism import Mechanism
from borewright.keywork.pads import PadMotion, pad_motion
from borewright.keywork.standing import PostPlace, Stood, post_places, stand_on

__all__ = [
    "LIMITS",
    "Body",
    "Check",
    "FingeringDifference",
    "HandMeasure",
    "KeyFinding",
    "KeyTolerance",
    "Limits",
    "Mechanism",
    "PadMotion",
    "PlayRange",
    "PostPlace",
    "Stood",
    "TouchForce",
    "fingering_differences",
    "fingering_findings",
    "hand_measures",
    "key_figures",
    "key_findings",
    "key_tolerances",
    "pad_motion",
    "play_ranges",
    "post_places",
    "press",
    "stand_on",
    "touch_forces",
    "wanted_spring",
]
