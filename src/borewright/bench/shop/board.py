"""Serial numbers in columns by what they wait for next."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from nicegui import ui

from borewright.bench.page import Page
from borewright.bench.shop.book import opened
from borewright.bench.widgets import button, heading, text
from borewright.bench.words import _
from borewright.ledger import Subject, Wait, WaitKind, waiting_for


def subject_words() -> dict[str, str]:
    """Checks in the page's language."""
    return {subject.value: _.tell(subject.words) for subject in Subject}


def stage_of(waits: Sequence[Wait]) -> tuple[int, str]:
    """Order and words of the column for what is waited for next."""
    if not waits:
        return 99, _("Delivered")
    first = waits[0]
    match first.kind:
        case WaitKind.PRINT:
            return 0, _("Printing")
        case WaitKind.ASSEMBLY:
            return 1, _("Assembly")
        case WaitKind.REPAIR:
            return 2, _("Repair and check again")
        case WaitKind.CHECK if first.subject is not None:
            number = 3 + list(Subject).index(first.subject)
            return number, _("Check: {what}", what=_.tell(first.subject.words))
        case WaitKind.SIGN_OFF:
            return 19, _("Sign-off")
        case WaitKind.ORDER:
            return 20, _("Wants an order")
    return 21, _("Delivery")


def board(page: Page) -> None:
    """The board; a serial number leads to its checks."""
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
