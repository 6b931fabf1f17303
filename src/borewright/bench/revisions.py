"""Named revisions: give the present state a name, bring an earlier one back."""

from __future__ import annotations

from functools import partial

from nicegui import ui

from borewright.bench.page import Page
from borewright.bench.widgets import button, dialog, text
from borewright.bench.widgets.number_field import TextField
from borewright.bench.words import _
from borewright.bench.workbench import Change


def revisions_dialog(page: Page) -> None:
    """Open the dialog."""
    folder = page.workbench.folder
    with dialog(_("Revisions")) as box:
        text(_("A revision is the state of all files of the folder, under a name of yours."))
        field = TextField(_("Name"), "", placeholder=_("first print"), mark="revision-name")

        def keep() -> None:
            if page.save(lambda: folder.name_revision(field.value)):
                page.workbench.tell(Change("files", page))
                box.close()
                page.tell(_("Kept as '{name}'.", name=field.value))

        def back(name: str) -> None:
            if page.save(partial(page.workbench.restore, name, page)):
                box.close()
                page.tell(_("'{name}' is back. Undo leads to where you were.", name=name))

        button(_("Keep this state"), keep, primary=True, mark="keep-revision")
        for revision in folder.revisions():
            with ui.element("div").classes("bw-row"):
                text(f"{revision.name} · {revision.when[:16].replace('T', ' ')}", tag="span")
                button(_("Bring back"), partial(back, revision.name), label=revision.name)
