"""The campaign: every take with who played what and when, and what all of them say."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import TYPE_CHECKING

from nicegui import ui

from borewright.bench.folder import Kind
from borewright.bench.page import Page
from borewright.bench.play.notes_file import notes_of, notes_path, recording_of, save_notes
from borewright.bench.play.recording_card import measure_take
from borewright.bench.widgets import button, heading, table, text
from borewright.bench.widgets.rows import rows_with_buttons
from borewright.bench.widgets.units import decimal
from borewright.bench.words import _
from borewright.errors import BorewrightError
from borewright.words import say

if TYPE_CHECKING:
    from borewright.model.results.campaign import CampaignResult, Interval
    from borewright.playing import Record


def takes_card(page: Page) -> None:
    """Every take of the table, and recordings that are not measured yet."""
    bench = page.workbench
    heading(_("2. Takes"))
    try:
        records = notes_of(bench)
    except BorewrightError as error:
        text(error.told(_.reader))
        return
    measured = {recording_of(record) for record in records}
    loose = [each.name for each in bench.files(Kind.TAKE) if each.name not in measured]
    if not records and not loose:
        text(_("No take yet. Fill in the form above and drop the recordings there."))
        return
    if records:
        _measured(page, records)
    for name in loose:
        with ui.element("div").classes("bw-row"):
            text(_("{name} is not measured yet.", name=name), tag="span")
            words = _("Measure {name}", name=name)
            button(_("Measure"), partial(_measure, page, name), label=words)
    if len(measured) >= 2:

        def separate() -> None:
            told.clear()
            with told:
                _campaign(page)

        button(_("What do all takes say?"), separate, mark="campaign")
        told = ui.element("div").props('role="status"')


async def _measure(page: Page, name: str) -> None:
    with page.client:
        try:
            await measure_take(page, name)
        except BorewrightError as error:
            page.fail(error)


def _measured(page: Page, records: Sequence[Record]) -> None:
    by_take: dict[str, list[Record]] = {}
    for record in records:
        by_take.setdefault(record.take, []).append(record)
    rows, actions = [], []
    for take, notes in by_take.items():
        first, name = notes[0], recording_of(notes[0])
        counted = [note.cents for note in notes if note.status.counts]
        mean = decimal(sum(counted) / len(counted), 1) if counted else "–"
        room = "–" if first.temperature_c is None else decimal(first.temperature_c, 1)
        rows.append(
            (
                take.removesuffix("#1"),
                first.instrument,
                *(words or "–" for words in (first.player, first.mouthpiece, first.day)),
                room,
                first.pulled or "–",
                f"{len(counted)}/{len(notes)}",
                mean,
            )
        )
        actions.append(
            [
                (_("Show"), partial(page.select, take=name), f"show-{name}"),
                (_("Take out"), partial(_take_out, page, take), f"out-{name}"),
            ]
        )
    rows_with_buttons(
        _("Takes; cents from the pitch standard, means of the notes that count"),
        (_("recording"), _("instrument"), _("player"), _("mouthpiece"), _("day"), _("°C"),
         _("pulled, mm"), _("notes that count"), _("mean cents")),
        rows,
        actions,
        right=5,
    )  # fmt: skip


def _take_out(page: Page, take: str) -> None:
    """Take a take's notes out of the table; the recording stays in the folder."""
    kept = [record for record in notes_of(page.workbench) if record.take != take]
    if save_notes(page, kept, say("take {name} out", name=take)):
        page.tell(_("Taken out of the table. Undo brings it back; the recording stays."))


def _campaign(page: Page) -> None:
    from borewright.playing.comparison import MATTERS_CENTS
    from borewright.tasks.playing.comparing import separate_file

    try:
        result, needed = separate_file(notes_path(page.workbench), MATTERS_CENTS)
    except BorewrightError as error:
        text(error.told(_.reader))
        return
    _offsets(result)
    words = {"player": _("player"), "day": _("day"), "take": _("recording"), "note": _("note")}
    scatter = "; ".join(
        f"{word}: " + (_("cannot be told") if value is None else f"{decimal(value, 1)}")
        for word, value in ((words[key], getattr(result.scatter, key)) for key in words)
    )
    text(_("Scatter in cents, by where it comes from: {scatter}.", scatter=scatter))
    text(
        _(
            "{takes} takes of each would tell instruments apart to ± {cents} cents.",
            takes=needed,
            cents=decimal(MATTERS_CENTS, 0),
        )
    )
    for notice in result.notices:
        text(_.tell(notice), small=True)
    text(
        _("A mixed model: instrument, player, day and repeat are told apart; 95 % intervals."),
        small=True,
    )


def _offsets(result: CampaignResult) -> None:
    def figures(interval: Interval | None) -> str:
        if interval is None:
            return "–"
        return f"{signed(interval.value)} ({signed(interval.low)} … {signed(interval.high)})"

    table(
        _("Instruments, mean cents of all notes with 95 % intervals"),
        (_("instrument"), _("mean"), _("less the first")),
        [
            (each.instrument, figures(each.mean_cents), figures(each.difference_cents))
            for each in result.offsets
        ],
        right=1,
    )


def signed(value: float, decimals: int = 1) -> str:
    """A number with its sign, in the page's language."""
    return ("+" if value > 0 else "") + decimal(value, decimals).replace("-", "−")
