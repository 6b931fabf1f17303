"""What the bench draws itself: elements whose JavaScript shares the modules of ``bench/shared``."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from nicegui.element import Element
from nicegui.events import GenericEventArguments

Told = Callable[[dict[str, Any]], Any]


class Drawn(Element, esm={"borewright": "../shared"}):
    """An element whose events carry one dictionary.

    Its component may ``import`` from ``borewright/figures.js`` and its like. This module is loaded
    with the frame, so that every page knows where they are.
    """

    def hear(self, event: str, handler: Told) -> None:
        """Call ``handler`` with what the event tells."""

        def heard(arguments: GenericEventArguments) -> Any:
            return handler(dict(arguments.args))

        self.on(event, heard)

    def give(self, **props: Any) -> None:
        """Show other properties; nothing happens once the view is gone."""
        if not self.is_deleted:
            self.props.update(props)
