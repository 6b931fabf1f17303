"""What is wrong, how probably, and which reading would decide."""

from __future__ import annotations

from dataclasses import dataclass

from nicegui import ui

from borewright.bench.jobs import Task
from borewright.bench.page import Page, outliving
from borewright.bench.play.notes_file import notes_path
from borewright.bench.play.readings_card import readings_path
from borewright.bench.play.recording_card import known_instruments
from borewright.bench.play.sitting import sitting_of
from borewright.bench.play.takes_card import signed
from borewright.bench.widgets import Choice, NumberField, button, heading, table, text
from borewright.bench.widgets.units import decimal
from borewright.bench.words import _
from borewright.bench.workbench import Change
from borewright.model.results.causes import Cause, Diagnosis, odds_words

_KEY = "causes"
_USUAL_PLAYER_CENTS = 3.0


@dataclass
class _Kept:
    """A diagnosis, and the edition of the instrument it is of."""

    found: Diagnosis
    edition: int


class CausesCard:
    """Asks for a diagnosis in a job and shows it."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self._player = _USUAL_PLAYER_CENTS
        heading(_("4. Causes"))
        text(_("What is wrong, the likeliest first, and which reading would decide."))
        names = known_instruments(page)
        self._name = self._own(names)
        with ui.element("div").classes("bw-row"):
            self._names = Choice(
                _("Takes of"),
                {name: name for name in names},
                self._name,
                self._set_name,
                mark="causes-name",
            )
            NumberField(
                _("The player's own pitch may be off by"),
                self._player,
                self._set_player,
                unit=_("cents"),
                decimals=1,
                low=0,
                high=50,
                mark="causes-player",
            )
            button(_("Name the causes"), self._ask, mark="diagnose")
        self._answer = ui.element("div").props('data-mark="causes"')
        self.show()

    def refresh(self) -> None:
        """Offer the instruments that the table of notes holds now."""
        names = known_instruments(self.page)
        if self._name not in names:
            self._name = self._own(names)
        self._names.set(self._name, {name: name for name in names})

    def _own(self, names: list[str]) -> str:
        own = sitting_of(self.page).instrument
        return own if own in names else next(iter(names), "")

    def _set_name(self, value: str) -> None:
        self._name = value

    def _set_player(self, value: float) -> None:
        self._player = value

    @outliving
    async def _ask(self) -> None:
        from borewright.tasks.playing.diagnosing import diagnose_file

        page, bench, name, player = self.page, self.page.workbench, self._name, self._player
        if not name:
            page.tell(_("There are no measured takes yet."))
            return
        readings, edition = readings_path(bench, name), bench.edition
        file, notes = bench.path, notes_path(bench)
        job = await bench.jobs.run(
            Task.DIAGNOSE,
            lambda job: diagnose_file(
                file,
                notes,
                readings=readings,
                name=name,
                player_cents=player,
                progress=job.tell,
                cancel=job.wish,
            ),
        )
        if job.error is not None:
            page.fail(job.error)
        elif isinstance(job.result, Diagnosis):
            page.clear_message()
            page.kept[_KEY] = _Kept(job.result, edition)
            bench.tell(Change(_KEY, page))

    def show(self) -> None:
        """Show the diagnosis that was made on this page, as long as the instrument is the same."""
        kept: _Kept | None = self.page.kept.get(_KEY)
        self._answer.clear()
        if kept is None or kept.edition != self.page.workbench.edition:
            return
        found = kept.found
        with self._answer:
            table(
                _("Causes, the likeliest first"),
                (_("cause"), _("odds"), _("by"), _("from"), _("to"), _("most on"), _("cents")),
                [_row(cause) for cause in found.causes],
                right=2,
            )
            odds = _.tell(odds_words(found.nothing))
            text(_("Nothing beyond the usual scatter: {odds}.", odds=odds))
            player = found.player_cents
            text(
                _(
                    "The player's own pitch: {cents} cents ({low} to {high}).",
                    cents=signed(player.value),
                    low=signed(player.low),
                    high=signed(player.high),
                )
            )
            for each in found.contradictions:
                text(_("Contradiction: {what}.", what=_.tell(each))).props('role="note"')
            table(
                _("Readings that would decide: how often the first cause would be right"),
                (_("reading"), _("minutes"), _("now"), _("then")),
                [
                    (
                        _.tell(each.words),
                        decimal(each.minutes, 0),
                        _.tell(odds_words(each.right_now)),
                        _.tell(odds_words(each.right_after)),
                    )
                    for each in found.next_readings
                ],
                right=1,
            )
            text(f"{_.tell(found.model_level)}; {_.tell(found.climate)}", small=True)


def _row(cause: Cause) -> tuple[str, ...]:
    digits = 2 if cause.unit == "mm" else 0
    amount = cause.amount
    return (
        _.tell(cause.words),
        _.tell(cause.odds),
        f"{signed(amount.value, digits)} {cause.unit}",
        signed(amount.low, digits),
        signed(amount.high, digits),
        cause.most_note,
        signed(cause.most_cents),
    )
