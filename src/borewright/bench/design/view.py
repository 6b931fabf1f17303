"""The Body view."""

from __future__ import annotations

from borewright.bench.page import Page
from borewright.bench.widgets import heading


def build(page: Page) -> None:
    """Fill the page."""
    assert page.workbench.instrument is not None
    heading(page.workbench.instrument.name, 1)
