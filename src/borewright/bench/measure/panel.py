"""Keys measured one by one: an old key's numbers corrected, a new key begun."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nicegui import ui
from nicegui.elements.mixins.text_element import TextElement

from borewright.bench.measure.form import NumbersForm
from borewright.bench.measure.photograph import PhotographCard
from borewright.bench.measure.scan import ScanCard
from borewright.bench.page import Page, outliving
from borewright.bench.widgets import Choice, button, findings_list, heading, text
from borewright.bench.widgets.record_field import RecordField
from borewright.bench.words import _
from borewright.bench.workbench import Change
from borewright.errors import BorewrightError
from borewright.words import say

if TYPE_CHECKING:
    from borewright.model import Instrument, KeySet

_NEW = ""


class MeasurePanel:
    """A panel that is closed at first; its form is of one key, and a new one may be begun."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.form: NumbersForm | None = None
        self._open, self._edition, self._key = False, -1, _NEW
        with ui.element("details").classes("bw-card bw-panel") as panel:
            TextElement(tag="summary", text=_("Keys: measure them one by one")).props(
                'data-mark="measure-keys"'
            )
            self._box = ui.element("div")
        panel.on("toggle", self._toggled, args=[])
        page.on_change(self._changed)

    def _toggled(self) -> None:
        self._open = not self._open
        if self._open and self._edition != self.page.workbench.edition:
            self._show()

    def _changed(self, change: Change) -> None:
        if change.what != "instrument" or not self._open:
            return
        # What is being typed is not thrown away for a change elsewhere; saving tells of it.
        if change.by is self.page:
            self._show()

    def _show(self) -> None:
        bench = self.page.workbench
        if bench.instrument is None:
            return
        self._edition = bench.edition
        keys = bench.keys
        names = keys.keys if keys is not None else []
        if self._key not in names:
            self._key = names[0] if names else _NEW
        self._box.clear()
        with self._box:
            text(
                _(
                    "A handful of numbers a key, measured off the body, each with how sure you "
                    "are of it. The pad stays on its hole: the numbers say where its hinge and "
                    "posts stand. The same file serves body, check, papers and ledger."
                ),
                small=True,
            )
            options = {name: name for name in names} | {_NEW: _("a new key")}
            Choice(_("Key"), options, self._key, self._choose, mark="measured-key")
            self._form_box = ui.element("div")
        self._show_key()

    def _choose(self, key: str) -> None:
        self._key = key
        self._show_key()

    def _show_key(self) -> None:
        instrument, keys = self.page.workbench.instrument, self.page.workbench.keys
        self._form_box.clear()
        if instrument is None:
            return
        with self._form_box:
            if self._key == _NEW or keys is None:
                self._new(instrument, keys)
            else:
                self._known(instrument, keys)
            self._wrong = ui.element("div").props('role="status" data-mark="measured-findings"')

    def _known(self, instrument: Instrument, keys: KeySet) -> None:
        from borewright.keywork import Mechanism
        from borewright.keywork.numbers import key_frame, numbers_of
        from borewright.model.keys import Ring

        mechanism = Mechanism(keys, instrument)
        known = numbers_of(mechanism, self._key)
        rings = [each for each in keys.of_key(self._key) if isinstance(each, Ring)]
        ring = None
        if rings:
            ring = key_frame(mechanism, self._key).of(mechanism.points[rings[0].name][0])[:2]
        place = None if ring is None else ring.tolist()
        self.form = NumbersForm(self.page, list(known), known, ring=place, key=self._key)
        button(_("Save this key"), self._save, primary=True, mark="save-key")
        self._other_ways()

    def _new(self, instrument: Instrument, keys: KeySet | None) -> None:
        from borewright.keywork.begun import NEEDED, HingeWay
        from borewright.keywork.numbers import Number
        from borewright.model import Rest

        free = [
            hole.name
            for part, hole, _station in instrument.placed_holes()
            if keys is None or keys.over(hole.name) is None
        ]
        if not free:
            text(_("Every hole has its key. Levers without a pad are written in the table."))
            return
        with ui.element("div").classes("bw-row"):
            self._name = RecordField(_("Its name"), "", needed=True, mark="new-key-name")
            self._hole = Choice(
                _("The hole it shuts"), {n: n for n in free}, free[0], str, mark="new-key-hole"
            )
            ways = {way.value: _.tell(way.words) for way in HingeWay}
            self._way = Choice(
                _("Its hinge lies"), ways, HingeWay.LEFT.value, str, mark="new-key-way"
            )
            rests = {rest.value: _.tell(rest.words) for rest in Rest}
            self._rest = Choice(_("It rests"), rests, Rest.CLOSED.value, str, mark="new-key-rest")
        springs = (Number.SPRING, Number.SPRING_LENGTH, Number.SPRING_BENT)
        self.form = NumbersForm(self.page, [*NEEDED, *springs], {}, needed=NEEDED)
        text(
            _(
                "Levers are drawn bent once so that they clear the body; measure their bends, "
                "springs that are flat, rings and links in the table."
            ),
            small=True,
        )
        button(_("Add this key"), self._begin, primary=True, mark="add-key")
        self._other_ways()

    def _other_ways(self) -> None:
        if self.form is not None:
            PhotographCard(self.page, self.form)
            ScanCard(self.page, self.form)

    async def _save(self) -> None:
        from borewright.keywork.remeasured import with_numbers

        bench = self.page.workbench
        given = self.form.given() if self.form is not None else None
        if given is None or bench.keys is None or bench.instrument is None:
            return
        key, keys, instrument = self._key, bench.keys, bench.instrument

        def work() -> None:
            made = with_numbers(keys, instrument, key, given)
            bench.edit_keys(made, say("key {key} measured", key=key), self.page)

        if self.page.save(work):
            self.page.tell(_("Key {key} is saved.", key=key))
            await self._look_over(key)

    async def _begin(self) -> None:
        from borewright.keywork.begun import HingeWay, NewKey, begun_key
        from borewright.model import Rest

        bench = self.page.workbench
        given = self.form.given() if self.form is not None else None
        if given is None or bench.instrument is None:
            return
        keys, instrument = bench.keys, bench.instrument
        wish = NewKey(
            self._name.value.strip(),
            self._hole.value,
            HingeWay(self._way.value),
            Rest(self._rest.value),
        )
        before, self._key = self._key, wish.name

        def work() -> None:
            made = begun_key(instrument, keys, wish, given)
            bench.edit_keys(made, say("key {key} measured", key=wish.name), self.page)

        if self.page.save(work):
            self.page.tell(_("Key {key} is saved.", key=wish.name))
            await self._look_over(wish.name)
        else:
            self._key = before

    @outliving
    async def _look_over(self, key: str) -> None:
        """What the gate says of the key as it is now."""
        from borewright.keywork import key_findings

        bench = self.page.workbench
        if bench.instrument is None or bench.keys is None:
            return
        try:
            found = await bench.kernel(key_findings, bench.instrument, bench.keys)
        except BorewrightError as error:
            self.page.fail(error)
            return
        names = {each.name for each in bench.keys.of_key(key)}
        hinge = bench.keys.hinge(key).hinge
        names |= {post.name for post in bench.keys.posts_of(hinge)}
        self._wrong.clear()
        with self._wrong:
            heading(_("What the check says of key {key}", key=key), 3)
            findings_list([one for one in found if names & set(one.elements)])
