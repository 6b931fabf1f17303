"""What a key-fit task made."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

from borewright.model import Finding, Instrument, SolidsReport

if TYPE_CHECKING:
    from borewright.printing import Blank, Estimate
    from borewright.solids import Jig


@dataclass(frozen=True)
class KeyFit:
    """What was made: slices with their keys, jigs with their posts, mass and time, findings.

    ``layer_mm`` are the coarse layers in which the slices are printed.
    """

    instrument: Instrument
    blanks: Sequence[Blank]
    jigs: Sequence[Jig]
    solids: SolidsReport
    estimate: Estimate
    layer_mm: float
    findings: list[Finding] = field(default_factory=list)
    files: Sequence[Path] = ()

    def as_dict(self) -> dict[str, Any]:
        """For JSON."""
        return {
            "instrument": self.instrument.name,
            "blanks": [
                {
                    "name": one.name,
                    "part": one.part,
                    "keys": list(one.keys),
                    "start_mm": one.start_mm,
                    "end_mm": one.end_mm,
                    "middle_deg": one.middle_deg,
                    "arc_deg": one.arc_deg,
                    "shell_mm": one.shell_mm,
                    "jigs": [jig.name for jig in one.jigs],
                }
                for one in self.blanks
            ],
            "jigs": [
                {
                    "name": one.name,
                    "part": one.part,
                    "posts": [place.post for place in one.posts],
                    "pin_hole": one.pin_hole,
                    "pin_mm": one.pin_mm,
                }
                for one in self.jigs
            ],
            "solids": self.solids.model_dump(mode="json", by_alias=True),
            "layer_mm": self.layer_mm,
            "estimate": self.estimate.model_dump(mode="json"),
            "findings": [one.model_dump(mode="json") for one in self.findings],
            "files": [str(path) for path in self.files],
        }
