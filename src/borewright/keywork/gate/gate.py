"""The gate: all findings on a body with its keys, faults first."""

from __future__ import annotations

from borewright.keywork.body import Body
from borewright.keywork.fingering import fingering_differences
from borewright.keywork.gate.action import action_findings
from borewright.keywork.gate.checks import Check, KeyFinding
from borewright.keywork.gate.clearing import clearance_findings
from borewright.keywork.gate.hinges import hinge_findings, post_findings
from borewright.keywork.gate.limits import LIMITS, Limits
from borewright.keywork.gate.pads import coverage_findings, pad_findings, ring_findings
from borewright.keywork.gate.rests import rest_findings
from borewright.keywork.mechanism import Mechanism
from borewright.model import FingeringTable, Instrument, KeySet, Severity
from borewright.words import Message, joined, listed, say


def key_findings(
    instrument: Instrument, keys: KeySet, *, limits: Limits = LIMITS
) -> list[KeyFinding]:
    """Everything that keeps these keys from working on this body, faults first.

    Raises ModelError where the set cannot belong to the instrument at all.
    """
    keys.check_against(instrument)
    mechanism, body = Mechanism(keys, instrument), Body(instrument)
    findings = [
        *coverage_findings(mechanism, body),
        *pad_findings(mechanism, body, limits),
        *ring_findings(mechanism, body, limits),
        *hinge_findings(mechanism, body, limits),
        *post_findings(mechanism, body, limits),
        *clearance_findings(mechanism, body, limits),
        *action_findings(mechanism, body, limits),
        *rest_findings(body),
    ]
    return sorted(findings, key=lambda finding: finding.severity is not Severity.FAULT)


def fingering_findings(
    instrument: Instrument, keys: KeySet, table: FingeringTable
) -> list[KeyFinding]:
    """Fingerings whose holes the keys do not open and close as the table says."""
    mechanism, body = Mechanism(keys, instrument), Body(instrument)
    findings = []
    for difference in fingering_differences(mechanism, body, table):
        parts: list[Message] = []
        if difference.stays_open:
            parts.append(
                say(
                    "pressed as the table says, {holes} stay open though the table shuts them",
                    holes=listed(difference.stays_open),
                )
            )
        if difference.stays_shut:
            parts.append(
                say(
                    "pressed as the table says, {holes} stay shut though the table opens them",
                    holes=listed(difference.stays_shut),
                )
            )
        findings.append(
            KeyFinding(
                severity=Severity.FAULT,
                place=(
                    table.source or say("fingering table"),
                    table.row_place(difference.row),
                    say("fingering '{name}'", name=difference.fingering),
                ),
                what=joined(parts, "; "),
                remedy=say("Look at the links of the keys pressed, or correct the table."),
                check=Check.FINGERING,
                elements=(*difference.stays_open, *difference.stays_shut),
                value=float(len(difference.stays_open) + len(difference.stays_shut)),
                limit=0.0,
            )
        )
    return findings
