"""One open page: which view it shows, what is selected, and its ways to speak to the person."""

from __future__ import annotations

import logging
from collections.abc import Callable, Coroutine, Mapping
from typing import Any, Concatenate, ParamSpec, Protocol, TypeVar
from urllib.parse import urlencode

from nicegui import Client, ui

from borewright.bench.folder import ChangedElsewhereError
from borewright.bench.rights import Right, require
from borewright.bench.views import VIEWS, WELCOME, View
from borewright.bench.widgets.units import Units
from borewright.bench.words import reader_of, set_reader
from borewright.bench.workbench import Change, Workbench
from borewright.errors import BorewrightError
from borewright.words import LANGUAGES, say

_log = logging.getLogger("borewright.bench")
_P = ParamSpec("_P")
_T = TypeVar("_T")


class _OnPage(Protocol):
    page: Page


_S = TypeVar("_S", bound=_OnPage)
#: What an address says besides what is selected.
_ADDRESS = {"view", "file", "language"}


def outliving(
    work: Callable[Concatenate[_S, _P], Coroutine[Any, Any, _T]],
) -> Callable[Concatenate[_S, _P], Coroutine[Any, Any, _T]]:
    """A method that goes on after the button that began it is gone: it stays on its page."""

    async def stays(self: _S, /, *given: _P.args, **named: _P.kwargs) -> _T:
        with self.page.client:
            return await work(self, *given, **named)

    return stays


class Page:
    """What a view's ``build(page)`` gets.

    Attributes
    ----------
    workbench
        The folder's, shared by all pages.
    selected
        What the address names besides the view: ``note``, ``hole`` and whatever a view adds.
    units
        Millimetres or inches, for widgets that show lengths.
    kept
        What views keep for this page alone, until it is closed.
    """

    def __init__(self, workbench: Workbench, client: Client, query: Mapping[str, str]) -> None:
        self.workbench = workbench
        self.client = client
        self.view: View = next((v for v in VIEWS if v.name == query.get("view")), VIEWS[0])
        self.selected = {k: v[:80] for k, v in query.items() if k not in _ADDRESS}
        set_reader(client, query.get("language") or str(workbench.settings.get("language", "")))
        self.kept: dict[str, Any] = {}
        self.fill: Callable[[], None] = lambda: None
        self.content: Any = None
        self.message: Any = None
        self.heading: Any = None
        self._was_empty = workbench.instrument is None
        self._view_listeners: list[Callable[[Change], None]] = []
        self._select_listeners: list[Callable[[], None]] = []
        self.keys: dict[str, tuple[str, Callable[[], Any]]] = {}
        self.view_keys: dict[str, tuple[str, Callable[[], Any]]] = {}
        self._frame_listeners: list[Callable[[Change], None]] = []
        end = workbench.listen(self._changed)
        client.on_delete(end)
        client.on_exception(self._failed)

    @property
    def language(self) -> str:
        """The language of this page's reader."""
        return reader_of(self.client).language

    @property
    def units(self) -> Units:
        """Units of length that the page shows."""
        return Units(self.workbench.settings.get("units", "mm"))

    # Listening -------------------------------------------------------------------------------

    def on_change(self, listener: Callable[[Change], None]) -> None:
        """Call ``listener`` at changes while this view is shown; it may touch its elements."""
        self._view_listeners.append(listener)

    def on_frame_change(self, listener: Callable[[Change], None]) -> None:
        """Call ``listener`` at changes as long as the page lives."""
        self._frame_listeners.append(listener)

    def on_select(self, listener: Callable[[], None]) -> None:
        """Call ``listener`` when :attr:`selected` changes while this view is shown."""
        self._select_listeners.append(listener)

    def on_key(self, key: str, words: str, action: Callable[[], Any]) -> None:
        """A key of this view, such as ``n`` or ``shift+n``; ``words`` stand in the list of keys."""
        self.view_keys[key] = (words, action)

    def _changed(self, change: Change) -> None:
        if self.client.is_deleted:
            return
        with self.client.content:
            if change.what == "settings" and change.by is None:
                self.reload()
                return
            empty = self.workbench.instrument is None
            if change.what == "instrument" and empty != self._was_empty:
                self.show(self.view.name)
            for listener in [*self._frame_listeners, *self._view_listeners]:
                listener(change)

    # Showing ---------------------------------------------------------------------------------

    def show(self, view: str, **selected: str) -> None:
        """Show a view in place of the one shown, without loading the page anew."""
        self.view = next(each for each in VIEWS if each.name == view)
        self.selected |= selected
        self._view_listeners, self._select_listeners, self.view_keys = [], [], {}
        self._was_empty = self.workbench.instrument is None
        self.content.clear()
        with self.content:
            if self._was_empty:
                WELCOME.build(self)
            else:
                self.view.build(self)
        self.write_address()
        if self.heading is not None:
            self.heading()

    def select(self, **selected: str) -> None:
        """Select a note, a hole; an empty text takes a selection away. The address follows."""
        wanted = {k: v for k, v in (self.selected | selected).items() if v}
        if wanted == self.selected:
            return
        self.selected = wanted
        self.write_address()
        for listener in self._select_listeners:
            listener()

    def write_address(self) -> None:
        """Let the address lead back to this view and selection."""
        query = {"view": self.view.name, "language": self.language, **self.selected}
        if self.workbench.file:
            query["file"] = self.workbench.file
        self.client.run_javascript(f"history.replaceState(null, '', {'?' + urlencode(query)!r})")

    async def speak(self, language: str) -> None:
        """Tell everything on this page anew in another language; other pages stay as they are."""
        set_reader(self.client, language if language in LANGUAGES else "en")
        # First, because charts write their figures as the document's language does.
        await self.client.run_javascript(f"document.documentElement.lang = '{self.language}'")
        self._frame_listeners = []
        with self.client:
            self.fill()

    def reload(self) -> None:
        """Load the page anew, where it is."""
        self.client.run_javascript("location.reload()")

    # Speaking --------------------------------------------------------------------------------

    def tell(self, text: str) -> None:
        """Say something in passing."""
        with self.client.content:
            ui.notify(text, position="bottom", timeout=4000, classes="bw-note")

    def fail(self, error: BorewrightError) -> None:
        """Show an error with place, cause and remedy until it is closed or the next success."""
        if self.message is not None:
            with self.client:
                self.message.show(error)

    def clear_message(self) -> None:
        """Take the error shown away."""
        if self.message is not None:
            self.message.hide()

    def save(self, make: Callable[[], object]) -> bool:
        """Call ``make``, which saves something; errors are shown. Whether it was saved."""
        try:
            require(Right.WORK)
            make()
        except ChangedElsewhereError as error:
            self.workbench.look()
            self.fail(error)
            return False
        except BorewrightError as error:
            self.fail(error)
            return False
        self.clear_message()
        return True

    def _failed(self, error: Exception) -> None:
        if isinstance(error, BorewrightError):
            self.fail(error)
            return
        _log.error("unforeseen", exc_info=error)
        self.fail(
            BorewrightError(
                say("something went wrong that nobody foresaw ({kind})", kind=type(error).__name__),
                remedy=say("What was saved is safe. Load the page anew and try again."),
            )
        )
