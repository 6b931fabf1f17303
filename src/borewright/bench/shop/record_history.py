"""The history of one record: who wrote what when, why, and what it said before."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from nicegui import ui

from borewright.bench.shop.record_words import differences, label, local_time
from borewright.bench.widgets import heading, text
from borewright.bench.words import _

if TYPE_CHECKING:
    from borewright.ledger import Entry
    from borewright.ledger.fields import RecordKind


def history(kind: RecordKind, entries: Sequence[Entry]) -> None:
    """Every version, the newest first, each with the fields that it changed."""
    actions = {
        "added": _("added"),
        "corrected": _("corrected"),
        "withdrawn": _("taken out of use"),
    }
    heading(_("History"), 4)
    with ui.element("ol").classes("bw-history").props("reversed"):
        for number in range(len(entries) - 1, -1, -1):
            entry = entries[number]
            with ui.element("li").props(f'data-mark="version-{entry.version}"'):
                action = actions.get(entry.action, entry.action)
                words = f"{local_time(entry.at)} · {action} · {entry.who}"
                text(words, tag="strong")
                if entry.reason:
                    text(f"„{entry.reason}“" if _.language == "de" else f"“{entry.reason}”")
                before = entries[number - 1].data if number else {}
                changed = differences(kind, before, entry.data)
                if changed:
                    with ui.element("ul"):
                        for field, was, now in changed:
                            said = f"{label(field)}: {was} → {now}" if number else (
                                f"{label(field)}: {now}"
                            )  # fmt: skip
                            text(said, small=True, tag="li")
