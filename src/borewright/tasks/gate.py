"""One gate: everything that is wrong with a body, its keys and its fingerings, for every door."""

from __future__ import annotations

from borewright.errors import PrintingError
from borewright.model import (
    Finding,
    FingeringTable,
    Instrument,
    KeySet,
    KeyworkSurvey,
    Severity,
)
from borewright.model.bounds import unusual_figures, unusual_words
from borewright.words import joined, say, say_many

#: How many faults a refusal tells of; all of them are in its ``findings``.
_TOLD = 3


class FaultsFoundError(PrintingError):
    """Nothing is printed: faults were found. ``findings`` are all that was found."""

    def __init__(self, findings: list[Finding]) -> None:
        self.findings = findings
        faults = [finding for finding in findings if finding.severity is Severity.FAULT]
        told = joined([fault.what for fault in faults[:_TOLD]], "; ")
        super().__init__(
            say_many(
                "{count} fault was found: {faults}",
                "{count} faults were found: {faults}",
                len(faults),
                faults=told,
            ),
            place=faults[0].place if faults else "",
            remedy=say("Mend what is wrong, or print in spite of it; the plan will say so."),
        )

    def __reduce__(self) -> tuple[type[FaultsFoundError], tuple[list[Finding]]]:
        return FaultsFoundError, (self.findings,)


def design_findings(
    instrument: Instrument,
    survey: KeyworkSurvey | None,
    keys: KeySet | None,
    table: FingeringTable | None,
) -> list[Finding]:
    """Limits of keywork, walls and process on the drawn body; its keys as a mechanism; fingerings.

    What only a printed part shows is the affair of :func:`process_findings`.
    """
    from borewright.fit import body_findings

    findings = list(body_findings(instrument, survey))
    findings += unusual_findings(instrument, survey, keys)
    if keys is not None:
        from borewright.keywork import fingering_findings, key_findings

        findings += key_findings(instrument, keys)
        if table is not None:
            findings += fingering_findings(instrument, keys, table)
    elif survey is not None and survey.rows:
        findings.append(_points_only(survey))
    return findings


def unusual_findings(
    instrument: Instrument, survey: KeyworkSurvey | None, keys: KeySet | None
) -> list[Finding]:
    """Figures that can be, but that the trade does not make: asked about, never refused."""
    figures = list(unusual_figures(instrument))
    for table in (survey, keys):
        if table is not None:
            figures += unusual_figures(table, (table.source,))
    found = []
    for place, bounds, figure in figures:
        what, remedy = unusual_words(bounds, figure)
        found.append(Finding(severity=Severity.NOTICE, place=place, what=what, remedy=remedy))
    return found


def _points_only(survey: KeyworkSurvey) -> Finding:
    return Finding(
        severity=Severity.NOTICE,
        place=survey.source or say("keywork survey"),
        what=say(
            "cups, rings and posts are known as points alone: whether keys move freely, what they "
            "drive and open, their hinges, springs, links and touches are not checked"
        ),
        remedy=say('Survey the keys, and write keys = "keys.csv" under [instrument].'),
    )


def process_findings(
    instrument: Instrument, survey: KeyworkSurvey | None, material: str = "plain PLA"
) -> list[Finding]:
    """What the made body shows: walls in space, seats, posts' bases, tenon play, marks."""
    from borewright.printing import assembly_findings, find_material, joint_findings, wall_findings
    from borewright.solids import feature_findings, plan_posts

    profile = find_material(material)
    if survey is not None:
        findings = list(assembly_findings(instrument, survey, profile))
    else:
        findings = [
            one for part in instrument.parts for one in wall_findings(instrument, part, profile)
        ]
    findings += joint_findings(instrument)
    findings += feature_findings(instrument, plan_posts(instrument, survey))
    return findings


def refuse_faults(findings: list[Finding], despite_faults: bool) -> None:
    """Raise FaultsFoundError where there are faults and nobody said to go on."""
    if not despite_faults and any(one.severity is Severity.FAULT for one in findings):
        raise FaultsFoundError(findings)
