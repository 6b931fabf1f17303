"""The bench's texts: English in the code, other languages in catalogues.

A language may have several: ``de.po``, and ``de-NAME.po`` for a group of views. Those called
``de-rooms-NAME.po`` hold texts that the rooms write; see :mod:`borewright.bench.words.rooms`.

``_("Some text")`` gives a text in the language chosen for this server; ``{name}`` in it is
filled from keyword arguments.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

LANGUAGES = {"en": "English", "de": "Deutsch"}


class Words:
    """Callable that translates; ``language`` is the one in use."""

    def __init__(self) -> None:
        self.language = "en"

    def __call__(self, text: str, /, **values: object) -> str:
        """The text in the language in use, with its places filled."""
        found = catalogue(self.language).get(text, text)
        return found.format(**values) if values else found


@cache
def catalogue(language: str) -> dict[str, str]:
    """Translations of a language by English text; empty for English."""
    if language == "en" or language not in LANGUAGES:
        return {}
    from babel.messages.pofile import read_po

    found: dict[str, str] = {}
    for file in sorted(Path(__file__).parent.glob(f"{language}*.po")):
        if file.name.startswith(f"{language}-rooms-"):
            continue
        with file.open("rb") as stream:
            for message in read_po(stream, locale=language):
                if isinstance(message.id, str) and isinstance(message.string, str):
                    found[message.id] = message.string or message.id
    return found


_ = Words()
