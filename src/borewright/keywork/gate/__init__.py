"""Everything that keeps a set of keys from working on a body, found before anything is made."""

from borewright.keywork.gate.action import wanted_grams as wanted_grams
from borewright.keywork.gate.checks import Check as Check
from borewright.keywork.gate.checks import KeyFinding as KeyFinding
from borewright.keywork.gate.gate import fingering_findings as fingering_findings
from borewright.keywork.gate.gate import key_findings as key_findings
from borewright.keywork.gate.hinges import post_findings as post_findings
from borewright.keywork.gate.limits import LIMITS as LIMITS
from borewright.keywork.gate.limits import Limits as Limits
from borewright.listing import names

__all__ = names(__file__)
