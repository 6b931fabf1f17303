"""Keys as a mechanism: how they turn, drive each other, land, clear and stand on a body.

Knows the model and nothing of sound or screens. Lengths in mm, angles in degrees, forces in N
or, at a touch, in grams. The gate says everything that keeps keys from working on a body; it
is what every door asks before something is made.
"""

from borewright.keywork.body import Body as Body
from borewright.keywork.figures import KeyTolerance as KeyTolerance
from borewright.keywork.figures import key_figures as key_figures
from borewright.keywork.figures import key_tolerances as key_tolerances
from borewright.keywork.fingering import FingeringDifference as FingeringDifference
from borewright.keywork.fingering import fingering_differences as fingering_differences
from borewright.keywork.fingering import press as press
from borewright.keywork.forces import TouchForce as TouchForce
from borewright.keywork.forces import touch_forces as touch_forces
from borewright.keywork.forces import wanted_spring as wanted_spring
from borewright.keywork.gate import LIMITS as LIMITS
from borewright.keywork.gate import Check as Check
from borewright.keywork.gate import KeyFinding as KeyFinding
from borewright.keywork.gate import Limits as Limits
from borewright.keywork.gate import fingering_findings as fingering_findings
from borewright.keywork.gate import key_findings as key_findings
from borewright.keywork.growth import PlayRange as PlayRange
from borewright.keywork.growth import play_ranges as play_ranges
from borewright.keywork.hands import HandMeasure as HandMeasure
from borewright.keywork.hands import hand_measures as hand_measures
from borewright.keywork.mechanism import Mechanism as Mechanism
from borewright.keywork.pads import PadMotion as PadMotion
from borewright.keywork.pads import pad_motion as pad_motion
from borewright.keywork.standing import PostPlace as PostPlace
from borewright.keywork.standing import Stood as Stood
from borewright.keywork.standing import post_places as post_places
from borewright.keywork.standing import screw_places as screw_places
from borewright.keywork.standing import screwed_to_body as screwed_to_body
from borewright.keywork.standing import stand_on as stand_on
from borewright.listing import names

__all__ = names(__file__)
