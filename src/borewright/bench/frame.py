"""What stands round every view: name, views, the file on the bench, undo, settings, keys."""

from __future__ import annotations

from functools import partial

from nicegui import ui
from nicegui.elements.mixins.text_element import TextElement

from borewright.bench.folder import Kind
from borewright.bench.keys import Keys, list_of_keys
from borewright.bench.page import Page
from borewright.bench.revisions import revisions_dialog
from borewright.bench.settings import settings_dialog
from borewright.bench.views import VIEWS
from borewright.bench.widgets import Choice, Message, button
from borewright.bench.widgets.buttons import enable
from borewright.bench.words import _
from borewright.bench.workbench import Change


def build_frame(page: Page) -> None:
    """Fill an empty page: frame, and the view that its address names."""
    header = ui.header(fixed=False, elevated=False).classes("bw-header")
    rest = ui.element("div")

    def fill() -> None:
        header.clear()
        rest.clear()
        _fill(page, header, rest)

    page.fill = fill
    fill()


def _fill(page: Page, header: ui.element, rest: ui.element) -> None:
    """Everything that the page says, in its language."""
    bench = page.workbench
    with header:
        link = ui.element("a").props('href="#bw-content"').classes("bw-skip")
        with link:
            TextElement(tag="span", text=_("To the content"))
        TextElement(tag="span", text="Borewright").classes("bw-brand")
        with _nav():
            tabs = {
                view.name: button(
                    _.tell(view.title), partial(page.show, view.name), mark=f"view-{view.name}"
                )
                for view in VIEWS
            }
        file = Choice(_("On the bench"), {}, "", bench.choose, mark="file")
        with ui.element("div").classes("bw-tools"):
            undo = button(_("Undo"), lambda: page.save(partial(bench.undo, page)), mark="undo")
            redo = button(_("Redo"), lambda: page.save(partial(bench.redo, page)), mark="redo")
            button(_("Revisions"), lambda: revisions_dialog(page), mark="revisions")
            button(_("Settings"), lambda: settings_dialog(page), mark="settings")
            button("?", lambda: list_of_keys(page), label=_("List of keys"), mark="keys")
    with rest:
        page.message = Message()
        page.content = ui.element("div").props('id="bw-content" tabindex="-1"')
        page.content.classes("bw-content")
    page.keys = {
        **{each.key: (_.tell(each.title), partial(page.show, each.name)) for each in VIEWS},
        "ctrl+z": (_("Undo"), lambda: page.save(partial(bench.undo, page))),
        "ctrl+shift+z": (_("Redo"), lambda: page.save(partial(bench.redo, page))),
        "ctrl+y": (_("Redo"), lambda: page.save(partial(bench.redo, page))),
        "v": (_("Revisions"), lambda: revisions_dialog(page)),
        "?": (_("List of keys"), lambda: list_of_keys(page)),
    }
    with rest:
        keys = Keys(page)

    def heading() -> None:
        keys.set_keys()
        for name, tab in tabs.items():
            tab.props["aria-current"] = "page" if name == page.view.name else "false"
            tab.update()
        ui.page_title(
            f"{_.tell(page.view.title)} · {bench.file or bench.folder.root.name} · Borewright"
        )

    def changed(change: Change) -> None:
        if change.what == "job":
            return
        names = {each.name: each.name for each in bench.files(Kind.INSTRUMENT)}
        file.set(bench.file, names)
        file.set_visibility(bool(names))
        for made, words, what in (
            (undo, _("Undo"), bench.folder.can_undo),
            (redo, _("Redo"), bench.folder.can_redo),
        ):
            made.props["title"] = f"{words}: {_.tell(what)}" if what else words
            enable(made, bool(what))
        if bench.trouble is not None:
            page.fail(bench.trouble)
        elif change.what == "instrument":
            page.clear_message()

    page.heading = heading
    page.on_frame_change(changed)
    changed(Change("files"))
    page.show(page.view.name)


def _nav() -> ui.element:
    nav = ui.element("nav").classes("bw-nav")
    nav.props["aria-label"] = _("Views")
    return nav
