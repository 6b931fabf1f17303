"""Serial numbers in columns by what they wait for next."""

from __future__ import annotations

from functools import partial

from nicegui import ui

from borewright.bench.page import Page
from borewright.bench.shop.book import opened
from borewright.bench.widgets import button, heading, text
from borewright.bench.words import _


def subject_words() -> dict[str, str]:
    """Checks in the page's language."""
    return {
        "bore": _("bore"),
        "cork fit": _("cork fit"),
        "leak": _("leak"),
        "springs": _("springs"),
        "lifts": _("lifts"),
        "tuning": _("tuning"),
        "sign-off": _("sign-off"),
    }


def stage_of(needs: list[str]) -> tuple[int, str]:
    """Order and words of the column for what is waited for next, as the ledger says it."""
    if not needs:
        return 99, _("Delivered")
    first = needs[0]
    if first.startswith("printed "):
        return 0, _("Printing")
    if first.startswith("assembly"):
        return 1, _("Assembly")
    if first.startswith("repair"):
        return 2, _("Repair and check again")
    for number, (name, words) in enumerate(subject_words().items(), 3):
        if first == name:
            return number, _("Sign-off")
        if first.startswith(f"check: {name}"):
            return number, _("Check: {what}", what=words)
    if first == "an order":
        return 20, _("Wants an order")
    return 21, _("Delivery")


def board(page: Page) -> None:
    """The board; a serial number leads to its checks."""
    from borewright.ledger import waiting_for

    found = waiting_for(opened(page.workbench))
    heading(_("Who waits for what"))
    if not found:
        text(_("There are no instruments in the ledger yet."))
        return
    columns: dict[tuple[int, str], list[str]] = {}
    for serial, needs in found.items():
        columns.setdefault(stage_of(needs), []).append(serial)
    chosen = page.selected.get("serial", "")
    with ui.element("div").classes("bw-board"):
        for (_number, words), serials in sorted(columns.items()):
            with ui.element("section").classes("bw-column"):
                heading(f"{words} ({len(serials)})", 3)
                for serial in serials:
                    made = button(
                        serial, partial(page.select, serial=serial), mark=f"serial-{serial}"
                    )
                    made.props["aria-pressed"] = "true" if serial == chosen else "false"
