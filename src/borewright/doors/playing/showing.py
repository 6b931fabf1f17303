"""Results of the play test as lines of plain text."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from borewright.doors.columns import columns, figure, signed, told
from borewright.doors.showing import summary_words
from borewright.model.pulled import pulled_words
from borewright.model.results.advice import CorrectionPlan
from borewright.model.results.campaign import CampaignResult, Comparison, Interval
from borewright.words import Reader

if TYPE_CHECKING:
    from borewright.tasks.playing.recordings import MeasuredTakes
    from borewright.tasks.playing.revising import Revision


def takes_lines(words: Reader, done: MeasuredTakes) -> Iterator[str]:
    """Every take with its notes."""
    for take in done.takes:
        line = words(
            "{file}: {seconds:.1f} s, {rate} Hz, A = {a4_hz:g} Hz, {temperature_c:g} °C",
            file=take.file,
            seconds=take.seconds,
            rate=take.sample_rate,
            a4_hz=take.a4_hz,
            temperature_c=take.temperature_c,
        )
        rounds = words(", {count} rounds", count=take.takes) if take.takes > 1 else ""
        joints = f", {words.tell(pulled_words(done.pulled))}" if done.pulled else ""
        yield f"{line}{rounds}{joints}"
        rows = [
            (
                note.name or "?",
                figure(words, note.steady_start_s, 2),
                figure(words, note.hz, 2),
                signed(words, note.cents),
                figure(words, note.spread_cents),
                signed(words, note.drift_cents_per_s),
                figure(words, note.settle_ms, 0),
                figure(words, note.level_db, 0),
                "" if note.status == "ok" else told(words, note.status),
            )
            for note in take.notes
        ]
        headings = (
            words("note"),
            words("at s"),
            "Hz",
            words("cents"),
            words("spread"),
            words("drift/s"),
            words("settled ms"),
            "dB",
            "",
        )
        yield from columns(headings, rows, right=(1, 2, 3, 4, 5, 6, 7))
        if take.missing:
            yield words(
                "missing: {notes}", notes=", ".join(told(words, each) for each in take.missing)
            )
        yield from _notice_lines(words, take.notices)
        yield ""
    if done.output:
        yield words("saved   {path}", path=done.output)
    for path in done.pictures:
        yield words("drawn   {path}", path=path)


def _notice_lines(words: Reader, notices: list[Any]) -> Iterator[str]:
    yield from (words("notice: {notice}", notice=notice) for notice in notices)


def as_built_lines(words: Reader, done: Revision) -> Iterator[str]:
    """What the readings changed, and how the revision is predicted."""
    yield words("{instrument}, as built", instrument=done.built.instrument.name)
    if done.pulled:
        yield words.tell(pulled_words(done.pulled))
    rows = [
        (
            told(words, each.what),
            figure(words, each.from_mm, 2),
            figure(words, each.to_mm, 2),
            signed(words, each.to_mm - each.from_mm, 2),
        )
        for each in done.built.applied
    ]
    if rows:
        headings = (words("dimension"), words("design"), words("read"), words("by"))
        yield from columns(headings, rows, right=(1, 2, 3))
    for leak in done.built.leaks:
        yield words(
            "  leak of the {part}, {diameter_mm:.2f} mm, {place}",
            part=leak.part,
            diameter_mm=leak.diameter_mm,
            place=leak.place,
        )
    yield from _notice_lines(words, done.built.notices)
    for estimate in done.estimates:
        value = estimate.value
        yield words(
            "  {name} {value:.4g} {unit} ({low:.4g} to {high:.4g}; before {start:.4g})",
            name=estimate.name,
            unit=estimate.unit,
            value=value.value,
            low=value.low,
            high=value.high,
            start=estimate.start,
        )
    if done.left_cents is not None:
        yield words("left after the fit: {rms:.1f} cents rms", rms=done.left_cents)
    design, built = (summary_words(words, each.summary) for each in (done.design, done.as_built))
    yield words("design    {summary}", summary=design)
    yield words("as built  {summary}", summary=built)
    if done.output:
        yield words("saved     {path}", path=done.output)


def plan_lines(words: Reader, plan: CorrectionPlan) -> Iterator[str]:
    """Steps in their stages, what each does to every note, and what remains."""
    yield f"{plan.instrument}: {told(words, plan.aim)}"
    yield words("the instrument itself: rms {rms:.1f} cents", rms=plan.rms_before_cents)
    for asked in plan.open_questions:
        yield words(
            "better first: {reading}, {minutes:.0f} min: the notes would be known to {after:.1f} "
            "cents, now {now:.1f}",
            reading=told(words, asked.words),
            minutes=asked.minutes,
            after=asked.open_after_cents,
            now=asked.open_now_cents,
        )
    if not plan.steps:
        yield words("Nothing is advised: {reason}.", reason=plan.reason_for_stopping)
        return
    stage = 0
    for number, step in enumerate(plan.steps, start=1):
        if step.stage != stage:
            yield from _stage_lines(words, step.stage, first=not stage)
            stage = step.stage
        sure = ""
        if step.uncertainty_mm:
            sure = f" (± {figure(words, 2 * step.uncertainty_mm, 2)})"
        yield words(
            "{number}. {step}: rms {rms:.1f} cents",
            number=number,
            step=f"{told(words, step.words)}{sure}",
            rms=step.rms_after_cents,
        )
    yield words("Then it stops: {reason}.", reason=plan.reason_for_stopping)
    yield ""
    rows = [
        (name, *(signed(words, each) for each in cents), *effects)
        for name, *cents, effects in zip(
            plan.fingerings,
            plan.measured_cents,
            plan.believed_cents,
            plan.believed_error_cents,
            plan.after_cents,
            zip(*([signed(words, by) for by in each.effects_cents] for each in plan.steps),
                strict=True),
            strict=True,
        )
    ]  # fmt: skip
    steps = [words("step {number}", number=number) for number in range(1, len(plan.steps) + 1)]
    headings = (
        words("note"),
        words("measured"),
        words("itself"),
        words("error"),
        words("after"),
        *steps,
    )
    yield from columns(headings, rows, right=range(1, len(headings)))
    if plan.remaining:
        yield words("beyond tolerance still: {notes}", notes=", ".join(plan.remaining))
    if plan.beside:
        moved = ", ".join(f"{each.fingering} {signed(words, each.by_cents)}"
                          for each in plan.beside)  # fmt: skip
        yield words("not recorded, but moved as well: {notes}", notes=moved)
    yield words("model: {level}; air: {climate}", level=plan.model_level, climate=plan.climate)


def _stage_lines(words: Reader, stage: int, *, first: bool) -> Iterator[str]:
    if stage == 1:
        yield words("First what can be undone; then record again:")
        return
    if not first:
        yield words("Only if new takes still ask for it:")
    yield words("Small cuts, kept short of what may prove too deep; then record again:")


def comparison_lines(words: Reader, compared: Comparison) -> Iterator[str]:
    """The sentence first, then the figures."""
    yield told(words, compared.sentence)
    yield words(
        "{pairs} pairs; {advised} are advised for what matters",
        pairs=compared.pairs,
        advised=compared.pairs_advised,
    )
    yield from _notice_lines(words, compared.notices)
    for title, differences in (
        (words("quantity"), compared.differences),
        (words("note"), compared.notes),
    ):
        rows = [
            (
                told(words, each.called),
                told(words, each.unit),
                *_figures(words, each.value),
                words("different") if each.different else "",
            )
            for each in differences
        ]
        yield ""
        headings = (title, words("unit"), words("by"), words("from"), words("to"), "")
        yield from columns(headings, rows, right=(2, 3, 4))


def campaign_lines(
    words: Reader, result: CampaignResult, needed: int, certainty: float
) -> Iterator[str]:
    """Offsets with intervals, and where the scatter comes from."""
    yield words(
        "{takes} takes of {notes} notes by {players} players",
        takes=result.takes,
        notes=result.notes,
        players=result.players,
    )
    rows = [
        (
            each.instrument,
            *_figures(words, each.mean_cents),
            *(_figures(words, each.difference_cents) if each.difference_cents else ("", "", "")),
        )
        for each in result.offsets
    ]
    span = (words("from"), words("to"))
    headings = (words("instrument"), words("mean"), *span, words("less the first"), *span)
    yield from columns(headings, rows, right=(1, 2, 3, 4, 5, 6))
    for name, interval in result.mouthpieces.items():
        figures = " ".join(_figures(words, interval))
        yield words("mouthpiece {mouthpiece}: {figures}", mouthpiece=name, figures=figures)
    scatter = result.scatter
    for source, value in (
        (words("player"), scatter.player),
        (words("day"), scatter.day),
        (words("take"), scatter.take),
        (words("note"), scatter.note),
    ):
        if value is None:
            yield words("scatter, {source}: cannot be told", source=source)
        else:
            yield words("scatter, {source}: {cents:.1f} cents", source=source, cents=value)
    yield words(
        "{takes} takes of each tell instruments apart to ± {cents:g} cents",
        takes=needed,
        cents=certainty,
    )
    yield from _notice_lines(words, result.notices)


def blind_lines(words: Reader, lists: dict[str, Any]) -> Iterator[str]:
    """Where the lists are, and who may see which."""
    yield words("{file}: for who plays, {takes} takes", file=lists["sheet"], takes=lists["takes"])
    yield words("{file}: for who hands over; keep it from the player", file=lists["key"])


def _figures(words: Reader, interval: Interval) -> tuple[str, str, str]:
    return (
        signed(words, interval.value),
        signed(words, interval.low),
        signed(words, interval.high),
    )
