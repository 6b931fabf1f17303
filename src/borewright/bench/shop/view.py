"""The Shop view: the board, the checks of one instrument, orders, cost, papers."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from nicegui import ui

from borewright.bench.page import Page
from borewright.bench.shop.board import board
from borewright.bench.shop.book import ledger_path, opened, stamp, start, start_example
from borewright.bench.shop.checks import ChecksCard
from borewright.bench.shop.costs import CostCard
from borewright.bench.shop.damaged import DamagedCard
from borewright.bench.shop.keywork import KeyworkCard
from borewright.bench.shop.orders import OrderForm, orders_card
from borewright.bench.shop.papers import PapersCard
from borewright.bench.shop.records import RecordsCard
from borewright.bench.shop.whole import WholeCard
from borewright.bench.widgets import JobBar, button, heading, text
from borewright.bench.widgets.number_field import TextField
from borewright.bench.words import _
from borewright.bench.workbench import Change
from borewright.errors import BorewrightError


def build(page: Page) -> None:
    """Fill the page's content."""
    heading(_("Shop"), 1)
    if ledger_path(page.workbench) is None:
        _no_ledger(page)
        return
    try:
        opened(page.workbench)
    except BorewrightError as error:
        text(error.told(_.reader)).props('role="alert"')
        with ui.element("section").classes("bw-card"):
            DamagedCard(page)
        _no_ledger(page)
        return
    bar = JobBar()
    with ui.element("div").classes("bw-row"):
        TextField(
            _("Who works here"),
            page.selected.get("who", ""),
            lambda value: page.select(who=value.strip()[:80]),
            mark="who",
        )
    cards: list[tuple[ui.element, Callable[[], object]]] = []
    #: Cards with fields: they are brought up to date, never drawn anew under what is typed.
    checks, costs, papers, keywork, records = (_Slot() for _each in range(5))

    def card(fill: Callable[[], object], mark: str) -> ui.element:
        box = ui.element("section").classes("bw-card").props(f'data-mark="{mark}"')
        _fill(box, fill)
        return box

    with ui.element("div").classes("bw-stack"):
        for fill, mark in (
            (lambda: board(page), "board"),
            (lambda: orders_card(page), "orders"),
        ):
            cards.append((card(fill, mark), fill))
            if mark == "board":
                card(lambda: checks.hold(ChecksCard(page)), "checks")
        card(lambda: OrderForm(page), "order-form")
        card(lambda: costs.hold(CostCard(page)), "costs")
        card(lambda: papers.hold(PapersCard(page)), "paper-card")
        card(lambda: keywork.hold(KeyworkCard(page)), "keywork")
        card(lambda: records.hold(RecordsCard(page)), "records")
        card(lambda: WholeCard(page), "whole")

    known = [stamp(page.workbench)]

    def refresh() -> None:
        known[0] = stamp(page.workbench)
        for box, fill in cards:
            box.clear()
            _fill(box, fill)
        for slot in (checks, costs, papers, keywork, records):
            slot.refresh()

    def changed(change: Change) -> None:
        if change.job is not None:
            bar.show(change.job)
        elif change.what == "ledger" or (
            change.what == "files" and stamp(page.workbench) != known[0]
        ):
            refresh()
        elif change.what == "files":
            papers.refresh()

    page.on_change(changed)
    seen = [page.selected.get("serial", "")]

    def selected() -> None:
        now = page.selected.get("serial", "")
        if now != seen[0]:
            seen[0] = now
            refresh()
        for slot in (records, papers):
            if slot.card is not None:
                slot.card.selected()

    page.on_select(selected)


class _Slot:
    """Room for a card that may not be there because the ledger had something to object to."""

    def __init__(self) -> None:
        self.card: Any = None

    def hold(self, card: Any) -> None:
        """Keep the card."""
        self.card = card

    def refresh(self) -> None:
        """Bring it up to date."""
        if self.card is not None:
            self.card.refresh()


def _fill(box: ui.element, fill: Callable[[], object]) -> None:
    """Fill a card; what the ledger has to object to stands in its place."""
    with box:
        try:
            fill()
        except BorewrightError as error:
            text(error.told(_.reader)).props('role="alert"')


def _no_ledger(page: Page) -> None:
    def begin(make: Callable[[], None]) -> None:
        if page.save(make):
            page.workbench.tell(Change("files", page))
            # The button pressed goes away with what it stands in.
            with page.client.content:
                page.show("shop")

    bench = page.workbench
    with ui.element("section").classes("bw-card"):
        text(
            _(
                "The ledger keeps serial numbers, lots, checks, cost and orders of a small batch. "
                "Nothing in it is ever overwritten: a correction is a new version, with who made "
                "it and when. This folder has none yet."
            )
        )
        with ui.element("div").classes("bw-row"):
            button(
                _("Start a ledger"), lambda: begin(lambda: start(bench)), primary=True,
                mark="start-ledger",
            )  # fmt: skip
            button(
                _("Look at an invented batch of twelve"),
                lambda: begin(lambda: start_example(bench)),
                mark="start-example",
            )
