"""Two instruments compared fairly, and the blind list for the next sitting."""

from __future__ import annotations

import secrets
import tempfile
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from nicegui import ui
from nicegui.elements.mixins.text_element import TextElement

from borewright.bench.jobs import Task
from borewright.bench.page import Page, outliving
from borewright.bench.play.notes_file import names_of, notes_of, notes_path
from borewright.bench.play.takes_card import signed
from borewright.bench.widgets import Choice, NumberField, button, heading, table, text
from borewright.bench.widgets.links import file_link
from borewright.bench.widgets.number_field import TextField
from borewright.bench.words import _
from borewright.bench.workbench import Change
from borewright.errors import BenchError, BorewrightError
from borewright.words import say

if TYPE_CHECKING:
    from borewright.model.results.campaign import Comparison, Difference

FOLDER = "blind"
SHEET, KEY = f"{FOLDER}/blind-list.csv", f"{FOLDER}/blind-key.csv"
_MOST_PAIRS = 100
_KEY = "comparison"


class CompareCard:
    """Names of two things whose takes are in the table, or will be."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self._by, self._pairs, self._matters = "instrument", 12, 4.0
        heading(_("6. Compare fairly"))
        text(
            _(
                "Takes by one player on one day are compared in pairs, so that player, day and "
                "room fall out. Record along a blind list: who plays must not see the key."
            )
        )
        names = self._known()
        with ui.element("div").classes("bw-row"):
            Choice(
                _("What differs"),
                {"instrument": _("the instrument"), "mouthpiece": _("the mouthpiece")},
                self._by,
                self._set_by,
            )
            self._first = Choice(_("The one"), {}, "", lambda value: None, mark="first")
            self._second = Choice(_("The other"), {}, "", lambda value: None, mark="second")
            NumberField(
                _("Smallest difference that matters"),
                self._matters,
                self._set_matters,
                unit=_("cents"),
                decimals=1,
                low=0.1,
                high=100,
                mark="matters",
            )
            button(_("Compare"), self._compare, mark="compare")
        self._answer = ui.element("div").props('data-mark="comparison" role="status"')
        self._offer(names)
        heading(_("A blind list"), 3)
        with ui.element("div").classes("bw-row"):
            one, other = ([*names, "", ""])[:2]
            self._one = TextField(_("The one"), one, placeholder=_("old barrel"), mark="blind-one")
            self._other = TextField(
                _("The other"), other, placeholder=_("new barrel"), mark="blind-other"
            )
            NumberField(_("Pairs"), 12, self._set_pairs, decimals=0, low=2, high=_MOST_PAIRS,
                        mark="pairs")  # fmt: skip
            button(_("Make the list"), self._blind, mark="blind")
        self._lists = ui.element("div").props('data-mark="blind-lists"')
        self._show_lists()
        self.show_answer()

    def refresh(self) -> None:
        """Offer what the table of notes holds now."""
        self._offer(self._known())
        self._show_lists()

    def _known(self) -> list[str]:
        try:
            return names_of(notes_of(self.page.workbench), self._by)
        except BorewrightError:
            return []  # the list of takes says what is wrong with the table

    def _offer(self, names: Sequence[str]) -> None:
        options = {name: name for name in names}
        for choice, start in ((self._first, 0), (self._second, 1)):
            kept = choice.value if choice.value in options else ([*names, "", ""])[start]
            choice.set(kept, options)

    def _set_by(self, value: str) -> None:
        self._by = value
        self._offer(self._known())

    def _set_matters(self, value: float) -> None:
        self._matters = value

    def _set_pairs(self, value: float) -> None:
        self._pairs = round(value)

    @outliving
    async def _compare(self) -> None:
        from borewright.tasks.playing.comparing import compare_file

        notes = notes_path(self.page.workbench)
        first, second = self._first.value, self._second.value
        self.page.kept.pop(_KEY, None)
        self._answer.clear()
        if not notes.is_file() or not first or not second:
            with self._answer:
                text(_("There are no takes of two things yet."))
            return
        by, matters, kept = self._by, self._matters, self.page.kept
        job = await self.page.workbench.jobs.run(
            Task.COMPARE, lambda job: compare_file(notes, first, second, by, matters)
        )
        kept[_KEY] = job.error or job.result
        self.page.workbench.tell(Change(_KEY, self.page))

    def show_answer(self) -> None:
        """Show the comparison that was asked for on this page."""
        answer = self.page.kept.get(_KEY)
        self._answer.clear()
        with self._answer:
            if isinstance(answer, BorewrightError):
                text(answer.told(_.reader)).props('data-mark="sentence"')
            elif answer is not None:
                _show(answer)

    def _blind(self) -> None:
        """Write both lists in one step; they can be undone like any other table."""
        from borewright.tasks.playing.comparing import write_blind_lists

        bench = self.page.workbench
        first, second = self._one.value.strip(), self._other.value.strip()

        def write() -> None:
            if not first or not second or first == second:
                raise BenchError(
                    say("a blind list needs two different names"),
                    place=say("The one, the other"),
                    remedy=say("Write both, such as 'old barrel' and 'new barrel'."),
                )
            with tempfile.TemporaryDirectory() as scratch:
                made = write_blind_lists(
                    first, second, self._pairs, secrets.randbelow(10**9), Path(scratch)
                )
                contents: dict[str, bytes | None] = {
                    SHEET: Path(made["sheet"]).read_bytes(),
                    KEY: Path(made["key"]).read_bytes(),
                }
            bench.folder.save_all(contents, say("make a blind list"))

        if self.page.save(write):
            bench.tell(Change("files", self.page))

    def _show_lists(self) -> None:
        self._lists.clear()
        if not self.page.workbench.folder.path(SHEET).is_file():
            return
        with self._lists, ui.element("p"):
            file_link(SHEET, _("List for who plays"))
            TextElement(tag="span", text=" · ")
            file_link(KEY, _("Key for who hands over (keep it from the player)"))


def _show(compared: Comparison) -> None:
    text(_.tell(compared.sentence), tag="strong").props('data-mark="sentence"')
    text(
        _(
            "{pairs} pairs; {advised} are advised for what matters.",
            pairs=compared.pairs,
            advised=compared.pairs_advised,
        )
    )
    for notice in compared.notices:
        text(_.tell(notice), small=True)
    headings = (_("by"), _("from"), _("to"), "")
    table(
        _("Quantities, the other less the one, with 95 % intervals"),
        (_("quantity"), *headings),
        [_row(f"{_.tell(each.called)}, {_.tell(each.unit)}", each)
         for each in compared.differences],
        right=1,
    )  # fmt: skip
    with ui.element("details"):
        TextElement(tag="summary", text=_("Note by note"))
        table(
            _("Notes, the other less the one, with 95 % intervals, in cents"),
            (_("note"), *headings),
            [_row(each.quantity, each) for each in compared.notes],
            right=1,
        )


def _row(name: str, each: Difference) -> tuple[str, ...]:
    value = each.value
    verdict = _("different") if each.different else ""
    return name, signed(value.value), signed(value.low), signed(value.high), verdict
