"""Blending: a share for every feature, the holes fitted again, the outcome as a new file."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from nicegui import ui

from borewright.bench.jobs import Task
from borewright.bench.page import Page, outliving
from borewright.bench.print.making import digest
from borewright.bench.sound.blending import (
    KeptBlend,
    blend_before,
    blend_with,
    checked_name,
    free_name,
    keep_blend,
)
from borewright.bench.sound.others import parents
from borewright.bench.sound.wishes import keep, wishes_of
from borewright.bench.widgets import (
    Choice,
    JobBar,
    button,
    findings_list,
    heading,
    table,
    text,
)
from borewright.bench.widgets.drawn import Drawn
from borewright.bench.widgets.links import file_link
from borewright.bench.widgets.number_field import TextField
from borewright.bench.widgets.units import decimal
from borewright.bench.words import _
from borewright.bench.workbench import Change
from borewright.errors import BorewrightError
from borewright.model import TuningTable
from borewright.model.bores import FEATURES
from borewright.model.dimensions import MEASURES

_MOST_SHOWN = 5
_CHANGE = "blend"


class Share(Drawn, component="share.js"):
    """The other's share of one feature, from 0 to 1."""

    def __init__(self, label: str, mark: str, percent: int, on_set: Callable[[], Any]) -> None:
        super().__init__()
        self.props.update(label=label, value=percent, mark=mark)
        self._on_set = on_set
        self.hear("share", self._set)

    def _set(self, told: dict[str, Any]) -> None:
        self.give(value=max(0, min(100, int(told["value"]))))
        self._on_set()

    @property
    def percent(self) -> int:
        """The share chosen, in percent."""
        return int(self.props["value"])


class BlendCard:
    """Choosing the other and its shares; what the blend does."""

    def __init__(self, page: Page) -> None:
        self.page, self.bench = page, page.workbench
        words, now = _feature_words(), wishes_of(self.bench)
        with ui.element("section").classes("bw-card bw-apart").props('data-mark="blending"'):
            heading(_("Blend"))
            text(
                _(
                    "An instrument between this one and another, feature by feature: 0 % is this "
                    "one's, 100 % the other's. A measured bore (CSV) of the folder may stand in "
                    "for the other. Then the holes are fitted again to the bore."
                )
            )
            with ui.element("div").classes("bw-row"):
                offered = parents(self.bench)
                chosen = now.blend_with if now.blend_with in offered else ""
                self._other = Choice(
                    _("The other"), offered, chosen, self._choose, mark="blend-with"
                )
                self._name = TextField(_("Save as"), free_name(self.bench), mark="blend-name")
                button(_("Blend and fit the holes"), self._run, primary=True, mark="run-blend")
            with ui.element("div").classes("bw-shares"):
                self._shares = {
                    name: Share(words[name], f"share-{name}", percent, self._keep_shares)
                    for name, percent in zip(FEATURES, now.shares, strict=True)
                }
            self._bar = JobBar(_("Nothing was saved."))
            self._outcome = ui.element("div").props('role="status"')
        page.on_change(self._changed)
        self._bar.resume(self.bench.jobs, Task.BLEND)
        self._show()

    def _choose(self, key: str) -> None:
        keep(self.page, blend_with=key)

    def _keep_shares(self) -> None:
        keep(self.page, shares=[each.percent for each in self._shares.values()])

    def _changed(self, change: Change) -> None:
        if change.job is not None and change.job.task is Task.BLEND:
            self._bar.show(change.job)
        elif change.what in ("files", "instrument"):
            offered = parents(self.bench)
            kept = self._other.value
            self._other.set(kept if kept in offered else "", offered)
        if change.what in (_CHANGE, "instrument"):
            self._show()
        if change.what == _CHANGE:
            self._propose_name()

    def _propose_name(self) -> None:
        """Propose another name where the one that stands there is taken now."""
        try:
            checked_name(self.bench, self._name.value)
        except BorewrightError:
            self._name.show(free_name(self.bench))

    @outliving
    async def _run(self) -> None:
        bench, key, fingerings = self.bench, self._other.value, self.bench.fingerings
        if bench.jobs.running(Task.BLEND):
            return
        if not key or fingerings is None:
            self.page.tell(_("Choose the other instrument first.") if fingerings else _(
                "No fingering table: name one in the file to see pitches."))  # fmt: skip
            return
        try:
            name = checked_name(bench, self._name.value)
            shares = {each: slider.percent / 100 for each, slider in self._shares.items()}
        except BorewrightError as error:
            self.page.fail(error)
            return
        file, of, words = bench.file, digest(bench.path), _.reader
        job = await bench.jobs.run(
            Task.BLEND, lambda job: blend_with(job, bench, key, shares, words)
        )
        if job.error is not None:
            self.page.fail(job.error)
        elif job.result is not None and self.page.save(
            lambda: bench.folder.receive(name, job.result.content)
        ):
            keep_blend(bench, KeptBlend(file, of, name, job.result))
            bench.tell(Change("files", self.page))
            bench.tell(Change(_CHANGE, self.page))

    def _show(self) -> None:
        if self._outcome.is_deleted:
            return
        self._outcome.clear()
        kept = blend_before(self.bench)
        if kept is None:
            return
        name, made, result = kept.name, kept.blend, kept.blend.result
        with self._outcome:
            if kept.of != digest(self.bench.path):
                text(_("The instrument was changed since: blend it again."), tag="strong")
            text(_before_after(result.blended, result.refitted or result.blended)).props(
                'data-mark="blend-summary"'
            )
            with ui.element("p"):
                text(f"{_('Saved as')}\u00a0", tag="span")
                file_link(name, name, mark="blend-file")
                text(_("; choose it above to go on with it."), tag="span")
            picture = ui.element("img").classes("bw-overlay").props('data-mark="blend-bores"')
            picture.props["src"] = made.picture
            picture.props["alt"] = _("The bores of {first}, {second} and their blend",
                                     first=result.first, second=result.second)  # fmt: skip
            table(
                _("Cents from the pitch standard"),
                (_("instrument"), _("mean"), _("worst"), _("at")),
                [
                    (words, decimal(of.summary.rms_cents, 1),
                     _.number(of.summary.worst_cents, "+.1f"),
                     of.summary.worst_note)
                    for words, of in (
                        (result.first, result.first_table), (result.second, result.second_table),
                        (_("the blend"), result.blended),
                        (_("its holes fitted"), result.refitted or result.blended),
                    )
                ],
                right=1,
            )  # fmt: skip
            if result.paying:
                heading(_("Holes that pay, the dearest first"), 3)
                with ui.element("ul"):
                    for hole in result.paying[:_MOST_SHOWN]:
                        moves = ", ".join(
                            f"{_.tell(MEASURES[m.measure])} {_.number(m.by_mm, '+.2f')} mm"
                            for m in hole.moves
                        )
                        text(f"{hole.hole}: {moves}", tag="li")
            for each in result.out_of_reach:
                text(_("Out of reach: {note}, {cents} cents. {advice}", note=each.fingering,
                       cents=_.number(each.cents, "+.1f"),
                       advice=_.tell(each.advice)))  # fmt: skip
            for notice in result.notices:
                text(_.tell(notice))
            if not result.finished:
                text(_("The fit stopped before its end: this is the best so far."))
            if result.findings:
                heading(_("What the checks say"), 3)
                findings_list(result.findings)


def _before_after(before: TuningTable, after: TuningTable) -> str:
    return _(
        "Blended: mean {rms}, worst {worst} cents at {note}. "
        "With the holes fitted: mean {rms2}, worst {worst2} cents at {note2}.",
        rms=decimal(before.summary.rms_cents, 1),
        worst=_.number(before.summary.worst_cents, "+.1f"),
        note=before.summary.worst_note,
        rms2=decimal(after.summary.rms_cents, 1),
        worst2=_.number(after.summary.worst_cents, "+.1f"),
        note2=after.summary.worst_note,
    )


def _feature_words() -> dict[str, str]:
    return {
        "barrel": _("Barrel"),
        "throat": _("Throat taper"),
        "cylinder": _("Cylinder"),
        "flare_start": _("Start of the flare"),
        "flare": _("Flare"),
        "bell": _("Bell"),
        "holes": _("Tone holes and body"),
    }
