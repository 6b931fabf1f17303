"""What seating the holes under their keywork changes."""

from __future__ import annotations

from borewright.model.base import Entity
from borewright.model.results.findings import Finding
from borewright.words import Said


class Seated(Entity):
    """One thing about a hole that was set to what the survey measured (mm, degrees, or words)."""

    part: str
    hole: str
    what: Said
    before: Said
    after: Said
    because: Said


class SeatingResult(Entity):
    """Outcome of seating: what was set, and what the checks say before and after."""

    instrument: str
    changes: list[Seated]
    before: list[Finding]
    after: list[Finding]

    @property
    def faults_before(self) -> int:
        """How many faults there were."""
        return sum(finding.severity == "fault" for finding in self.before)

    @property
    def faults_after(self) -> int:
        """How many are left: those that no hole can mend."""
        return sum(finding.severity == "fault" for finding in self.after)
