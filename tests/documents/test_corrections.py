"""The corrections chart: every note, every step, the same each time."""

from __future__ import annotations

import pytest

from borewright.documents import corrections_chart
from borewright.documents.corrections import corrections_figure
from borewright.errors import DocumentsError
from borewright.model.results.advice import CorrectionPlan, CorrectionStep


def plan(count=34, steps=2):
    step = CorrectionStep(
        words="ream hole L1 by 0.15 ± 0.03 mm", stage=2, kind="ream", part="upper joint", hole="L1",
        by_mm=0.15, uncertainty_mm=0.03, limit_low_mm=0, limit_high_mm=0.6,
        rms_before_cents=9, rms_after_cents=5, effects_cents=[1.0] * count,
    )  # fmt: skip
    return CorrectionPlan(
        instrument="Trial $1", aim="rework", fingerings=[f"n{i}" for i in range(count)],
        predicted_cents=[0.0] * count, measured_cents=[i - 17.0 for i in range(count)],
        uncertainty_cents=[1.5] * count, believed_cents=[i - 16.5 for i in range(count)],
        believed_error_cents=[1.2] * count, beside=[],
        after_cents=[(i - 17.0) / 3 for i in range(count)],
        rms_before_cents=9.8, rms_after_cents=3.3, steps=[step] * steps, remaining=["n33"],
        reason_for_stopping="the rest is within the scatter of the takes",
        model_level="closed forms", climate="22 °C",
    )  # fmt: skip


def test_every_note_is_drawn_before_and_after():
    figure = corrections_figure(plan())
    figure.draw_without_rendering()
    panels = [axes for axes in figure.axes if axes.get_ylabel() == "cents"]
    names = [tick.get_text() for axes in panels for tick in axes.get_xticklabels()]
    assert names == plan().fingerings
    marks = [line.get_ydata()[0] for axes in panels for line in axes.lines
             if line.get_marker() in ("o", "D")]  # fmt: skip
    assert sorted(marks) == pytest.approx(sorted([*plan().measured_cents, *plan().after_cents]))
    words = [text.get_text() for axes in figure.axes for text in axes.texts]
    assert "2. ream hole L1 by 0.15 ± 0.03 mm" in words


def test_the_same_bytes_each_time_and_other_kinds_refused(tmp_path):
    first = corrections_chart(plan(), tmp_path / "a.svg").read_bytes()
    assert corrections_chart(plan(), tmp_path / "b.svg").read_bytes() == first
    assert corrections_chart(plan(3, 0), tmp_path / "c.png").read_bytes().startswith(b"\x89PNG")
    with pytest.raises(DocumentsError):
        corrections_chart(plan(), tmp_path / "c.pdf")
