"""Findings of the checks as a list; a finding can lead to its place."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import Any

from nicegui import ui

from borewright.bench.widgets.buttons import button
from borewright.bench.widgets.texts import text
from borewright.bench.words import _
from borewright.model import Finding


def findings_list(
    findings: Sequence[Finding], on_show: Callable[[Finding], Any] | None = None
) -> None:
    """Faults first, each with what is wrong and what to do; ``on_show`` adds a button to each."""
    faults = sum(finding.severity == "fault" for finding in findings)
    if not findings:
        text(_("Nothing to object to."))
        return
    text(_("{faults} faults, {notices} notices", faults=faults, notices=len(findings) - faults))
    ordered = sorted(findings, key=lambda finding: finding.severity != "fault")
    with ui.element("ul").classes("bw-findings"):
        for finding in ordered:
            fault = finding.severity == "fault"
            with ui.element("li").classes("bw-fault" if fault else "bw-notice"):
                text(_("Fault") if fault else _("Notice"), tag="strong")
                place, what = _.place(finding.place), _.tell(finding.what).rstrip(".")
                text(f"{place}: {what}. {_.tell(finding.remedy)}", tag="span")
                if on_show is not None:
                    button(_("Show"), partial(on_show, finding), label=place)
