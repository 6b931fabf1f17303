"""What to ream next: ranked steps with their errors and effects, accepted as a revision."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import Any

from nicegui import ui
from nicegui.elements.mixins.text_element import TextElement

from borewright.bench.jobs import Task
from borewright.bench.page import Page, outliving
from borewright.bench.play.accepting import accept
from borewright.bench.play.corrections_picture import CorrectionsPicture
from borewright.bench.play.notes_file import notes_path
from borewright.bench.play.readings_card import readings_path
from borewright.bench.play.recording_card import known_instruments
from borewright.bench.play.sitting import sitting_of
from borewright.bench.play.takes_card import signed
from borewright.bench.widgets import Choice, NumberField, button, heading, table, text
from borewright.bench.widgets.number_field import TextField
from borewright.bench.widgets.units import decimal
from borewright.bench.words import _
from borewright.bench.workbench import Change
from borewright.model.results.advice import CorrectionPlan, CorrectionStep

REWORK, NEXT = "rework", "next"
_KEY = "corrections"


@dataclass
class _Wishes:
    """What is asked for: kept while the page is open."""

    name: str = ""
    aim: str = REWORK
    building: str = "no"
    player_cents: float = 0.0


@dataclass
class _Kept:
    """A plan, the edition of the instrument it is of, whose takes it is from, ticked steps."""

    plan: CorrectionPlan
    edition: int
    name: str
    chosen: set[int]


class CorrectionsCard:
    """Asks for corrections in a job, shows them, and has chosen steps accepted."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self._wishes: _Wishes = page.kept.setdefault("correction wishes", _Wishes())
        heading(_("5. Correct"))
        with ui.element("div").classes("bw-row"):
            names = known_instruments(page)
            if self._wishes.name not in names:
                self._wishes.name = self._own(names)
            self._names = Choice(
                _("Takes of"),
                _as_options(names),
                self._wishes.name,
                self._set_name,
                mark="correct-name",
            )
            Choice(
                _("What may change"),
                {
                    REWORK: _("this instrument (material comes off)"),
                    NEXT: _("the design, for the next print"),
                },
                self._wishes.aim,
                self._set_aim,
                mark="aim",
            )
            Choice(
                _("Filler and tape"),
                {"no": _("no"), "yes": _("may be used")},
                self._wishes.building,
                self._set_building,
            )
            NumberField(
                _("The player's own pitch may be off by"),
                self._wishes.player_cents,
                self._set_player,
                unit=_("cents"),
                decimals=1,
                low=0,
                high=50,
                mark="player-cents",
            )
            button(_("Work out the corrections"), self._ask, primary=True, mark="correct")
        self._answer = ui.element("div").props('data-mark="plan"')
        self._say_why(names)
        self.show()

    @property
    def _kept(self) -> _Kept | None:
        """The plan of this page, as long as it is of the instrument as it is."""
        found: _Kept | None = self.page.kept.get(_KEY)
        return found if found and found.edition == self.page.workbench.edition else None

    def refresh(self) -> None:
        """Offer the instruments that the table of notes holds now; an old plan is told as such."""
        names = known_instruments(self.page)
        if self._wishes.name not in names:
            self._wishes.name = self._own(names)
        self._names.set(self._wishes.name, _as_options(names))
        if _KEY not in self.page.kept:
            self._say_why(names)

    def _say_why(self, names: list[str]) -> None:
        self._answer.clear()
        if not names:
            with self._answer:
                text(_("There are no measured takes yet."), small=True)

    def _own(self, names: list[str]) -> str:
        own = sitting_of(self.page).instrument
        return own if own in names else next(iter(names), "")

    def _set_name(self, value: str) -> None:
        self._wishes.name = value

    def _set_aim(self, value: str) -> None:
        self._wishes.aim = value

    def _set_building(self, value: str) -> None:
        self._wishes.building = value

    def _set_player(self, value: float) -> None:
        self._wishes.player_cents = value

    @outliving
    async def _ask(self) -> None:
        from borewright.tasks.playing.correcting import correct_file

        page, bench, now = self.page, self.page.workbench, self._wishes
        if not now.name:
            page.tell(_("There are no measured takes yet."))
            return
        wishes: dict[str, Any] = {
            "readings": readings_path(bench, now.name),
            "name": now.name,
            "next_print": now.aim == NEXT,
            "build_up": now.building == "yes",
            "steps": 8,
            "player_cents": now.player_cents,
            "fingerings": None,
        }
        edition, name = bench.edition, now.name
        file, notes = bench.path, notes_path(bench)
        job = await bench.jobs.run(
            Task.CORRECT,
            lambda job: correct_file(file, notes, progress=job.tell, cancel=job.wish, **wishes),
        )
        if job.error is not None:
            page.fail(job.error)
        elif isinstance(job.result, CorrectionPlan):
            page.clear_message()
            chosen = set(range(len(job.result.steps)))
            page.kept[_KEY] = _Kept(job.result, edition, name, chosen)
            bench.tell(Change(_KEY, page))

    def show(self) -> None:
        """Show the plan that was worked out on this page."""
        kept = self._kept
        if kept is None:
            return
        plan = kept.plan
        instrument = self.page.workbench.instrument
        tolerance = instrument.fit.tolerance_cents if instrument else 10.0
        self._answer.clear()
        with self._answer:
            around = ui.element("div").classes("bw-scroll").props('tabindex="0" role="region"')
            around.props["aria-label"] = _("Every note, every step")
            with around:
                CorrectionsPicture(plan, tolerance)
            words = _(
                "The instrument itself: {rms} cents rms.", rms=decimal(plan.rms_before_cents, 1)
            )
            text(f"{words} {self._readings_used(kept.name)}")
            for asked in plan.open_questions:
                text(
                    _(
                        "Better first: {reading}, {minutes} min: the notes would be known to "
                        "{after} cents, now {now}.",
                        reading=_.tell(asked.words),
                        minutes=f"{asked.minutes:.0f}",
                        after=decimal(asked.open_after_cents, 1),
                        now=decimal(asked.open_now_cents, 1),
                    )
                )
            if not plan.steps:
                text(_("Nothing is advised: {why}.", why=_.tell(plan.reason_for_stopping)))
                return
            for stage in sorted({step.stage for step in plan.steps}):
                text(
                    _("First what can be undone; then record again.")
                    if stage == 1
                    else _("Small cuts, kept short of what may prove too deep; then record again.")
                )
                with ui.element("ol").classes("bw-steps"):
                    for number, step in enumerate(plan.steps):
                        if step.stage == stage:
                            self._step(kept, number, step)
            text(_("Then it stops: {why}.", why=_.tell(plan.reason_for_stopping)))
            if plan.remaining:
                notes = ", ".join(plan.remaining)
                text(_("Still beyond their tolerance: {notes}.", notes=notes))
            if plan.beside:
                notes = ", ".join(f"{each.fingering} {signed(each.by_cents)}"
                                  for each in plan.beside)  # fmt: skip
                text(_("Not recorded, but moved as well: {notes}.", notes=notes))
            self._accept_form(kept)
            with ui.element("details"):
                TextElement(tag="summary", text=_("Every note, every step"))
                _effects(plan)
            text(f"{_.tell(plan.model_level)}; {_.tell(plan.climate)}", small=True)

    def _readings_used(self, name: str) -> str:
        """Which sizes the plan starts from: readings are kept for each instrument by its name."""
        path = readings_path(self.page.workbench, name)
        if path is None:
            return _("No readings of '{name}' were typed in: the design's sizes count.",
                     name=name)  # fmt: skip
        return _("With the readings in '{file}'.", file=path.name)

    def _step(self, kept: _Kept, number: int, step: CorrectionStep) -> None:
        def tick(event: Any) -> None:
            (kept.chosen.add if event.args else kept.chosen.discard)(number)

        sure = f" ± {decimal(2 * step.uncertainty_mm, 2)} mm" if step.uncertainty_mm else ""
        words = f"{_.tell(step.words)}{sure}"
        with ui.element("li"), ui.element("label").classes("bw-tick"):
            box = ui.element("input").props(f'type=checkbox data-mark="step-{number}"')
            box.props["checked"] = number in kept.chosen
            box.on("change", tick, js_handler="(event) => emit(event.target.checked)")
            text(words, tag="strong")
            after = decimal(step.rms_after_cents, 1)
            most = max(range(len(step.effects_cents)), key=lambda i: abs(step.effects_cents[i]))
            note = kept.plan.fingerings[most]
            effect = signed(step.effects_cents[most])
            text(
                _(
                    "then {rms} cents rms; most on {note}: {cents}",
                    rms=after,
                    note=note,
                    cents=effect,
                ),
                tag="span",
            )

    def _accept_form(self, kept: _Kept) -> None:
        rework = kept.plan.aim == REWORK
        proposed = (
            _("{name} reworked", name=kept.name) if rework else _("next print of {name}",
                                                                    name=kept.name)
        )  # fmt: skip
        text(
            _(
                "When the work is done, accept the ticked steps: they make a new instrument file "
                "as built, under a name of its own, and it goes on the bench. Record it anew."
            )
            if rework
            else _(
                "Accept the ticked steps: the design on the bench changes, and the state gets a "
                "name among the revisions. Undo takes it back."
            )
        )
        with ui.element("div").classes("bw-row"):
            name = TextField(_("Name of the revision"), proposed, mark="revision")
            button(
                _("Accept as revision"),
                lambda: self._accept(kept, name.value),
                primary=True,
                mark="accept",
            )

    def _accept(self, kept: _Kept, name: str) -> None:
        page, plan = self.page, kept.plan
        if kept.edition != page.workbench.edition:
            page.tell(_("The instrument was changed since: work the corrections out again."))
            return
        steps = [step for number, step in enumerate(plan.steps) if number in kept.chosen]
        if not steps:
            page.tell(_("Tick at least one step."))
            return
        readings = readings_path(page.workbench, kept.name)
        if page.save(partial(accept, page, plan.aim, steps, readings, name)):
            page.kept.pop(_KEY, None)
            self._answer.clear()
            with self._answer:
                text(_("Accepted as '{name}'.", name=name)).props(
                    'role="status" data-mark="accepted"'
                )


def _as_options(names: list[str]) -> dict[str, str]:
    return {name: name for name in names}


def _effects(plan: CorrectionPlan) -> None:
    steps = [str(number) for number in range(1, len(plan.steps) + 1)]
    table(
        _(
            "Cents of every note: as measured, of the instrument itself with its standard error, "
            "what each step does, after all"
        ),
        (_("note"), _("measured"), _("itself"), _("error"), *steps, _("after")),
        [
            (
                name,
                signed(plan.measured_cents[i]),
                signed(plan.believed_cents[i]),
                decimal(plan.believed_error_cents[i], 1),
                *(signed(step.effects_cents[i]) for step in plan.steps),
                signed(plan.after_cents[i]),
            )
            for i, name in enumerate(plan.fingerings)
        ],
        right=1,
    )
