"""Results of the play test as lines of plain text."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from borewright.doors.columns import columns, signed
from borewright.doors.showing import summary_words
from borewright.model.results.advice import CorrectionPlan
from borewright.model.results.campaign import CampaignResult, Comparison, Interval

if TYPE_CHECKING:
    from borewright.tasks.playing.recordings import MeasuredTakes
    from borewright.tasks.playing.revising import Revision


def takes_lines(done: MeasuredTakes) -> Iterator[str]:
    """Every take with its notes."""
    for take in done.takes:
        yield (
            f"{take.file}: {take.seconds:.1f} s, {take.sample_rate} Hz, A = {take.a4_hz:g} Hz, "
            f"{take.temperature_c:g} °C" + (f", {take.takes} rounds" if take.takes > 1 else "")
        )
        rows = [
            (
                note.name or "?",
                f"{note.steady_start_s:.2f}",
                f"{note.hz:.2f}",
                signed(note.cents),
                f"{note.spread_cents:.1f}",
                signed(note.drift_cents_per_s),
                f"{note.settle_ms:.0f}",
                f"{note.level_db:.0f}",
                "" if note.status == "ok" else note.status.value,
            )
            for note in take.notes
        ]
        headings = ("note", "at s", "Hz", "cents", "spread", "drift/s", "settled ms", "dB", "")
        yield from columns(headings, rows, right=(1, 2, 3, 4, 5, 6, 7))
        if take.missing:
            yield f"missing: {', '.join(map(str, take.missing))}"
        for notice in take.notices:
            yield f"notice: {notice}"
        yield ""
    if done.output:
        yield f"saved   {done.output}"
    for path in done.pictures:
        yield f"drawn   {path}"


def as_built_lines(done: Revision) -> Iterator[str]:
    """What the readings changed, and how the revision is predicted."""
    yield f"{done.built.instrument.name}, as built"
    rows = [
        (str(each.what), f"{each.from_mm:.2f}", f"{each.to_mm:.2f}",
         signed(each.to_mm - each.from_mm, 2))
        for each in done.built.applied
    ]  # fmt: skip
    if rows:
        yield from columns(("dimension", "design", "read", "by"), rows, right=(1, 2, 3))
    for leak in done.built.leaks:
        yield f"  leak of the {leak.part}, {leak.diameter_mm:.2f} mm, {leak.place}"
    for notice in done.built.notices:
        yield f"notice: {notice}"
    for estimate in done.estimates:
        value = estimate.value
        yield (
            f"  {estimate.name} {value.value:.4g} {estimate.unit} "
            f"({value.low:.4g} to {value.high:.4g}; before {estimate.start:.4g})"
        )
    if done.left_cents is not None:
        yield f"left after the fit: {done.left_cents:.1f} cents rms"
    yield f"design    {summary_words(done.design.summary)}"
    yield f"as built  {summary_words(done.as_built.summary)}"
    if done.output:
        yield f"saved     {done.output}"


def plan_lines(plan: CorrectionPlan) -> Iterator[str]:
    """Ranked steps, what each does to every note, and what remains."""
    yield f"{plan.instrument}: {plan.aim}"
    yield f"measured  rms {plan.rms_before_cents:.1f} cents"
    if not plan.steps:
        yield f"Nothing is advised: {plan.reason_for_stopping}."
        return
    for number, step in enumerate(plan.steps, start=1):
        sure = f" (± {2 * step.uncertainty_mm:.2f})" if step.uncertainty_mm else ""
        yield f"{number}. {step.words}{sure}: rms {step.rms_after_cents:.1f} cents"
    yield f"Then it stops: {plan.reason_for_stopping}."
    yield ""
    rows = [
        (name, signed(before), f"{error:.1f}", *effects, signed(after))
        for name, before, error, after, *effects in zip(
            plan.fingerings,
            plan.measured_cents,
            plan.uncertainty_cents,
            plan.after_cents,
            *([signed(effect) for effect in step.effects_cents] for step in plan.steps),
            strict=True,
        )
    ]
    steps = [f"step {number}" for number in range(1, len(plan.steps) + 1)]
    headings = ("note", "measured", "error", *steps, "after")
    yield from columns(headings, rows, right=tuple(range(1, len(headings))))
    if plan.remaining:
        yield f"beyond tolerance still: {', '.join(plan.remaining)}"
    yield f"model: {plan.model_level}; air: {plan.climate}"


def comparison_lines(compared: Comparison) -> Iterator[str]:
    """The sentence first, then the figures."""
    yield str(compared.sentence)
    yield f"{compared.pairs} pairs; {compared.pairs_advised} are advised for what matters"
    for notice in compared.notices:
        yield f"notice: {notice}"
    for title, differences in (("quantity", compared.differences), ("note", compared.notes)):
        rows = [
            (each.quantity.replace("_", " "), each.unit, *_figures(each.value),
             "different" if each.different else "")
            for each in differences
        ]  # fmt: skip
        yield ""
        yield from columns((title, "unit", "by", "from", "to", ""), rows, right=(2, 3, 4))


def campaign_lines(result: CampaignResult, needed: int, certainty: float) -> Iterator[str]:
    """Offsets with intervals, and where the scatter comes from."""
    yield f"{result.takes} takes of {result.notes} notes by {result.players} players"
    rows = [
        (each.instrument, *_figures(each.mean_cents),
         *(_figures(each.difference_cents) if each.difference_cents else ("", "", "")))
        for each in result.offsets
    ]  # fmt: skip
    headings = ("instrument", "mean", "from", "to", "less the first", "from", "to")
    yield from columns(headings, rows, right=(1, 2, 3, 4, 5, 6))
    for name, interval in result.mouthpieces.items():
        yield f"mouthpiece {name}: {' '.join(_figures(interval))}"
    for word in ("player", "day", "take", "note"):
        value = getattr(result.scatter, word)
        yield f"scatter, {word}: " + ("cannot be told" if value is None else f"{value:.1f} cents")
    yield f"{needed} takes of each tell instruments apart to ± {certainty:g} cents"
    for notice in result.notices:
        yield f"notice: {notice}"


def blind_lines(lists: dict[str, Any]) -> Iterator[str]:
    """Where the lists are, and who may see which."""
    yield f"{lists['sheet']}: for who plays, {lists['takes']} takes"
    yield f"{lists['key']}: for who hands over; keep it from the player"


def _figures(interval: Interval) -> tuple[str, str, str]:
    return signed(interval.value), signed(interval.low), signed(interval.high)
