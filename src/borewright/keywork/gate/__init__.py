"""Everything that keeps a set of keys from working on a body, found before anything is made."""

from borewright.keywork.gate.checks import Check, KeyFinding
from borewright.keywork.gate.gate import fingering_findings, key_findings
from borewright.keywork.gate.limits import LIMITS, Limits

__all__ = ["LIMITS", "Check", "KeyFinding", "Limits", "fingering_findings", "key_findings"]
