"""Whether a body keeps the limits of its keywork, its walls and the process.

Measured on the finished dimensions without any of the solver's working, so that a fit can be
verified by it. Distances are found in space (:mod:`borewright.fit.clearance`).
"""

from __future__ import annotations

from borewright.fit._body_limits import check_joints, check_neighbours, check_posts, check_shoulders
from borewright.fit._hole_limits import check_against_row, check_process
from borewright.fit.shelf import shelf_findings
from borewright.model import Cover, Finding, Instrument, KeyworkSurvey
from borewright.model.kinds import Severity
from borewright.words import say

__all__ = ["body_findings"]


def body_findings(instrument: Instrument, survey: KeyworkSurvey | None = None) -> list[Finding]:
    """Everything on a body that breaks a limit ("fault") or is tight ("notice").

    Parameters
    ----------
    instrument
        The body; under ``fit`` the limits of the process, under ``body`` how posts are held.
    survey
        The bought-in keywork it must suit; without one only the body itself is checked.

    Returns
    -------
    list of Finding
        Each names the features, the distance found and the limit, and what to do. Faults come
        first; otherwise in the order of the parts.
    """
    findings: list[Finding] = []
    for part in instrument.parts:
        for hole in part.holes:
            findings += check_process(instrument.fit, part, hole)
            row = survey.for_hole(hole.name) if survey else None
            if row is not None:
                findings += check_against_row(instrument.fit, part, hole, row)
            elif survey is not None and hole.cover is not Cover.FINGER:
                findings.append(
                    Finding(
                        severity=Severity.NOTICE,
                        place=(part.name, say("hole {hole}", hole=hole.name)),
                        what=say(
                            "the hole has a {cover}, but the survey has no row for it",
                            cover=hole.cover,
                        ),
                        remedy=say(
                            "Measure its key and add the row, or the fit cannot respect it."
                        ),
                    )
                )
            findings += check_shoulders(instrument.fit, part, hole)
        findings += check_neighbours(instrument.fit, part)
        posts = [post for post in survey.posts() if post.part == part.name] if survey else []
        findings += check_posts(instrument.fit, instrument.body, part, posts)
        findings += check_joints(part)
    findings += shelf_findings(instrument)
    return sorted(findings, key=lambda finding: finding.severity is not Severity.FAULT)
