"""Settings of the bench: language, units, light or dark."""

from __future__ import annotations

from borewright.bench.page import Page
from borewright.bench.widgets import Choice, dialog
from borewright.bench.words import _
from borewright.words import LANGUAGES


def settings_dialog(page: Page) -> None:
    """Open the dialog; the language is this page's alone, and that of pages to come."""
    bench = page.workbench

    def choose(key: str, value: str) -> None:
        page.save(lambda: bench.set_setting(key, value))

    async def speak(language: str) -> None:
        page.save(lambda: bench.set_setting("language", language, page))
        await page.speak(language)

    with dialog(_("Settings")):
        Choice(
            _("Language"),
            LANGUAGES,
            _.language,
            speak,
            mark="language",
        )
        Choice(
            _("Lengths"),
            {"mm": _("millimetres"), "in": _("inches")},
            bench.settings.get("units", "mm"),
            lambda value: choose("units", value),
            mark="units",
        )
        Choice(
            _("Colours"),
            {"auto": _("as the system"), "light": _("light"), "dark": _("dark")},
            bench.settings.get("colours", "auto"),
            lambda value: choose("colours", value),
            mark="colours",
        )
