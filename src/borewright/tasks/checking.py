"""Everything about an instrument's files that can be wrong, found before material is cut."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from borewright.model import Finding, FingeringTable, Severity, load
from borewright.model.files.fingerings import find_duplicate_sets
from borewright.tasks.gate import design_findings, process_findings
from borewright.tasks.inputs import fingerings_of, has_keys, keys_of, survey_of
from borewright.words import Said, listed, say


def check_file(
    file: Path, *, keywork: Path | None = None, fingerings: Path | None = None
) -> list[Finding]:
    """Findings on an instrument, its keywork, its keys and its fingerings; faults come first.

    The one gate that every door asks: the drawn body, its keys through all their swings, its
    fingerings, and what the made body shows.

    Parameters
    ----------
    file
        The instrument.
    keywork, fingerings
        Tables that go before those the file names.

    Raises
    ------
    ModelError
        Where a file cannot be read, or the files do not belong together.
    """
    instrument = load(file)
    survey = survey_of(instrument, file, keywork)
    keys = keys_of(instrument, file)
    table = None
    if fingerings is not None or instrument.fingerings:
        table = fingerings_of(instrument, file, fingerings)
    findings = design_findings(instrument, survey, keys, table)
    findings += process_findings(instrument, survey)
    if survey is None and has_keys(instrument):
        findings.append(_notice(file, say("no keywork survey is named, so none was checked")))
    if table is None:
        findings.append(_notice(file, say("no fingering table is named, so none was checked")))
    else:
        findings += _double_fingerings(table)
    return sorted(findings, key=lambda finding: finding.severity != "fault")


def _notice(file: Path, what: Said) -> Finding:
    return Finding(
        severity=Severity.NOTICE,
        place=(str(file), "[instrument]"),
        what=what,
        remedy=say("Name it there, or give it on the command line."),
    )


def _double_fingerings(table: FingeringTable) -> list[Finding]:
    """Two fingerings of the same open holes and the same resonance cannot be two notes."""
    by_name = {fingering.name: fingering for fingering in table.fingerings}
    return [
        Finding(
            severity=Severity.FAULT,
            place=(table.source, _places(table, first, second)),
            what=say(
                "'{first}' and '{second}' open the same holes, yet are two fingerings",
                first=first,
                second=second,
            ),
            remedy=say("Correct one of them, or remove it."),
        )
        for first, second in find_duplicate_sets(table)
        if by_name[first].resonance_number == by_name[second].resonance_number
    ]


def _places(table: FingeringTable, *names: str) -> Said:
    order = [fingering.name for fingering in table.fingerings]
    return listed(table.row_place(order.index(name)) for name in names)


def findings_as_dict(findings: list[Finding]) -> dict[str, Any]:
    """Findings for JSON, with how many there are of each severity."""
    faults = sum(finding.severity == "fault" for finding in findings)
    return {
        "findings": [finding.model_dump(mode="json") for finding in findings],
        "faults": faults,
        "notices": len(findings) - faults,
    }
