"""Messages as data, and readers who are told them in their own language.

Where something is found, refused or advised, it is *said*: ``say("the wall is {wall_mm:.1f} mm
thin", wall_mm=1.2)`` keeps the sentence's template and its values. Which words are shown is
decided at the surface, by the :class:`Reader` there: ``Reader("de").tell(message)``. English
stands in the code and is the catalogue's key; other languages stand in ``catalogues``, one file
each, in gettext's format.
"""

from borewright.listing import names
from borewright.words.choice import Choice as Choice
from borewright.words.message import Joined as Joined
from borewright.words.message import Message as Message
from borewright.words.message import Place as Place
from borewright.words.message import Said as Said
from borewright.words.message import Text as Text
from borewright.words.message import Where as Where
from borewright.words.message import given as given
from borewright.words.message import joined as joined
from borewright.words.message import listed as listed
from borewright.words.message import place_of as place_of
from borewright.words.message import say as say
from borewright.words.message import say_as as say_as
from borewright.words.message import say_many as say_many
from borewright.words.reader import ENGLISH as ENGLISH
from borewright.words.reader import Reader as Reader
from borewright.words.translations import LANGUAGES as LANGUAGES
from borewright.words.translations import catalogue as catalogue
from borewright.words.translations import language_wished as language_wished

__all__ = names(__file__)
