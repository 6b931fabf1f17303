"""What an empty folder shows: two examples, and a place for one's own files."""

from __future__ import annotations

from functools import partial
from pathlib import Path

from nicegui import ui

from borewright.bench.folder import Kind
from borewright.bench.page import Page
from borewright.bench.widgets import FileDrop, button, heading, text
from borewright.bench.words import _
from borewright.bench.workbench import Change
from borewright.tasks.examples import Example, copy_example

_MOST_BYTES = 5_000_000


def build(page: Page) -> None:
    """Offer a start."""
    bench = page.workbench

    def begin(example: Example) -> None:
        made: list[Path] = []
        if page.save(lambda: made.extend(copy_example(example, bench.folder.root))):
            bench.look()
            bench.choose(made[0].name)

    def take(name: str, data: bytes) -> None:
        bench.folder.receive(name, data)
        bench.look()
        instruments = [each.name for each in bench.files(Kind.INSTRUMENT)]
        if name in instruments:
            bench.choose(name)
        bench.tell(Change("files"))

    heading(_("An empty bench"), 1)
    text(_("Begin with an example (invented, and out of tune on purpose), or with your own files."))
    with ui.element("div").classes("bw-cards"):
        for example, title, about, start in (
            (
                Example.CLARINET,
                _("Clarinet"),
                _("17 keys and 6 rings, bought in. The body is yours to draw."),
                _("Begin with the clarinet"),
            ),
            (
                Example.CHALUMEAU,
                _("Chalumeau"),
                _("Eight holes and no keys: a first print in a day."),
                _("Begin with the chalumeau"),
            ),
        ):
            with ui.element("section").classes("bw-card"):
                heading(title)
                text(about)
                button(start, partial(begin, example), primary=True, mark=f"begin-{example.value}")
        with ui.element("section").classes("bw-card"):
            heading(_("Your own"))
            text(_("Instrument (TOML), keywork survey and fingerings (CSV), together."))
            FileDrop(
                _("Put files into the folder"),
                (".toml", ".csv"),
                _MOST_BYTES,
                take,
                many=True,
                mark="own-files",
            )
