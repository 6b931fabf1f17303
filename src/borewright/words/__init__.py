"""Messages as data, and readers who are told them in their own language.

Where something is found, refused or advised, it is *said*: ``say("the wall is {wall_mm:.1f} mm
thin", wall_mm=1.2)`` keeps the sentence's template and its values. Which words are shown is
decided at the surface, by the :class:`Reader` there: ``Reader("de").tell(message)``. English
stands in the code and is the catalogue's key; other languages stand in ``catalogues``, one file
each, in gettext's format.
"""

from borewright.words.message import (
    Joined,
    Message,
    Place,
    Said,
    Text,
    Where,
    given,
    joined,
    listed,
    place_of,
    say,
    say_as,
    say_many,
)
from borewright.words.reader import ENGLISH, Reader
from borewright.words.translations import LANGUAGES, catalogue, language_wished

__all__ = [
    "ENGLISH",
    "LANGUAGES",
    "Joined",
    "Message",
    "Place",
    "Reader",
    "Said",
    "Text",
    "Where",
    "catalogue",
    "given",
    "joined",
    "language_wished",
    "listed",
    "place_of",
    "say",
    "say_as",
    "say_many",
]
