"""What a print task made."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

from borewright.model import Finding, Instrument, SolidsReport
from borewright.words import Message

if TYPE_CHECKING:
    from borewright.printing import (
        Calibration,
        CompensationReport,
        Estimate,
        MaterialProfile,
        PrinterProfile,
        Split,
        Standing,
    )
    from borewright.solids import Bed


@dataclass
class PrintJob:
    """Everything that was made, and what is to be known about it."""

    instrument: Instrument
    printer: PrinterProfile
    material: MaterialProfile
    solids: SolidsReport
    standings: list[Standing]
    advice: dict[str, list[Message]]
    splits: list[Split]
    findings: list[Finding]
    estimate: Estimate
    calibration: Calibration | None = None
    compensation: CompensationReport | None = None
    reaming: list[Message] = field(default_factory=list)
    files: list[Path] = field(default_factory=list)
    despite_faults: bool = False
    beds: list[Bed] = field(default_factory=list)
    #: Keys whose posts stand on more than one piece of a part.
    over_joints: list[str] = field(default_factory=list)

    def as_dict(self) -> dict[str, Any]:
        """For JSON."""
        made = self.compensation
        return {
            **self.solids.model_dump(mode="json", by_alias=True),
            "printer": self.printer.name,
            "material": self.material.name,
            "standings": [one.model_dump(mode="json") for one in self.standings],
            "advice": {part: [str(one) for one in said] for part, said in self.advice.items()},
            "layout": [one.model_dump(mode="json") for one in self.beds],
            "splits": [one.model_dump(mode="json") for one in self.splits],
            "over_joints": self.over_joints,
            "despite_faults": self.despite_faults,
            "findings": [one.model_dump(mode="json") for one in self.findings],
            "estimate": self.estimate.model_dump(mode="json"),
            "compensation": made.model_dump(mode="json") if made else None,
            "reaming": [str(step) for step in self.reaming],
            "files": [str(path) for path in self.files],
        }
