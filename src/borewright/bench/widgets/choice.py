"""A choice among a few words."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from nicegui.element import Element


class Choice(Element, component="choice.js"):
    """A labelled native select.

    ``options`` is {value: words}; ``on_choose`` gets the value chosen.
    """

    def __init__(
        self,
        label: str,
        options: Mapping[str, str],
        value: str,
        on_choose: Callable[[str], Any],
        *,
        help: str = "",
        mark: str = "",
    ) -> None:
        super().__init__()
        self.props.update(label=label, options=dict(options), value=value, help=help, mark=mark)
        self._on_choose = on_choose
        self.on("choose", lambda event: self._chosen(str(event.args)))

    @property
    def value(self) -> str:
        """The value chosen."""
        return str(self.props["value"])

    def set(self, value: str, options: Mapping[str, str] | None = None) -> None:
        """Show another value, or other options."""
        if options is not None:
            self.props["options"] = dict(options)
        self.props["value"] = value
        self.update()

    def _chosen(self, value: str) -> Any:
        if value in self.props["options"]:
            self.props["value"] = value
            return self._on_choose(value)
        return None
