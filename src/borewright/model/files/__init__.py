"""Reading and writing the model's files: TOML for instruments, CSV for tables."""

from borewright.model.files.atomic import write_bytes, write_text
from borewright.model.files.fingerings import read_fingerings
from borewright.model.files.instruments import (
    load,
    read_instrument,
    save_as,
    starting_text,
)
from borewright.model.files.keys import is_key_survey, keys_text, read_keys, write_keys
from borewright.model.files.surveys import read_survey

__all__ = [
    "is_key_survey",
    "keys_text",
    "load",
    "read_fingerings",
    "read_instrument",
    "read_keys",
    "read_survey",
    "save_as",
    "starting_text",
    "write_bytes",
    "write_keys",
    "write_text",
]
