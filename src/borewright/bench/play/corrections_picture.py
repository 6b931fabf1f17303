"""The picture of a plan of corrections: every note before and after."""

from __future__ import annotations

from nicegui.element import Element

from borewright.bench.widgets.units import decimal
from borewright.bench.words import _
from borewright.model.results.advice import CorrectionPlan


class CorrectionsPicture(Element, component="corrections_picture.js"):
    """Rings as measured, discs after the steps, diamonds where a note stays beyond its tolerance.

    ``tolerance_cents`` is the band about zero.
    """

    def __init__(self, plan: CorrectionPlan, tolerance_cents: float) -> None:
        super().__init__()
        self.props.update(
            given=[
                {"name": name, "before": before, "error": error, "after": after,
                 "left": name in plan.remaining}
                for name, before, error, after in zip(
                    plan.fingerings, plan.measured_cents, plan.uncertainty_cents,
                    plan.after_cents, strict=True,
                )
            ],
            tolerance=tolerance_cents,
            words={
                "chart": _(
                    "Cents of every note: rms {before} of the instrument itself, {after} after "
                    "the steps",
                    before=decimal(plan.rms_before_cents, 1),
                    after=decimal(plan.rms_after_cents, 1),
                ),
                "before": _("as measured, ± 2 errors"),
                "after": _("after the steps"),
                "left": _("still beyond its tolerance"),
            },
        )  # fmt: skip
