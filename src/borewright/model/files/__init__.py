"""Reading and writing the model's files: TOML for instruments, CSV for tables."""

from borewright.listing import names
from borewright.model.files.atomic import write_bytes as write_bytes
from borewright.model.files.atomic import write_text as write_text
from borewright.model.files.fingerings import read_fingerings as read_fingerings
from borewright.model.files.instruments import load as load
from borewright.model.files.instruments import read_instrument as read_instrument
from borewright.model.files.instruments import save_as as save_as
from borewright.model.files.instruments import starting_text as starting_text
from borewright.model.files.keys import is_key_survey as is_key_survey
from borewright.model.files.keys import keys_text as keys_text
from borewright.model.files.keys import read_keys as read_keys
from borewright.model.files.keys import write_keys as write_keys
from borewright.model.files.surveys import read_survey as read_survey

__all__ = names(__file__)
