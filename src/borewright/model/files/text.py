"""Reading text files: UTF-8 or UTF-16, with or without a byte order mark, any line ends."""

from __future__ import annotations

from pathlib import Path

from borewright.errors import ModelError
from borewright.model.files.atomic import shown
from borewright.words import say

MOST_BYTES = 5_000_000


def read_text(path: Path) -> str:
    """Text of a file, line ends made plain; ModelError where it is not text or not readable."""
    return with_plain_line_ends(read_raw_text(path))


def with_plain_line_ends(text: str) -> str:
    """The text with every line end, of whatever system, as a plain newline."""
    return text.replace("\r\n", "\n").replace("\r", "\n")


def read_raw_text(path: Path) -> str:
    """Text of a file with its own line ends; ModelError where it is not text or not readable."""
    place = shown(path)
    try:
        if path.is_dir():
            raise ModelError(say("is a folder"), place=place, remedy=say("Name a file."))
        with path.open("rb") as stream:
            # One byte more than allowed tells a file that is too large, even an endless one.
            raw = stream.read(MOST_BYTES + 1)
    except FileNotFoundError as error:
        raise ModelError(
            say("does not exist"), place=place, remedy=say("Check the name and the folder.")
        ) from error
    except (OSError, ValueError) as error:
        raise ModelError(
            say("cannot be read ({reason})", reason=getattr(error, "strerror", None) or str(error)),
            place=place,
            remedy=say("Check the name, and that you may read it."),
        ) from error
    if len(raw) > MOST_BYTES:
        raise ModelError(
            say(
                "is larger than {megabytes:.0f} MB, far more than such a file ever holds",
                megabytes=MOST_BYTES / 1e6,
            ),
            place=place,
            remedy=say("Check that it is the right file."),
        )
    encoding = "utf-16" if raw[:2] in (b"\xff\xfe", b"\xfe\xff") else "utf-8-sig"
    try:
        text = raw.decode(encoding)
    except UnicodeDecodeError as error:
        name = "UTF-16" if encoding == "utf-16" else "UTF-8"
        raise ModelError(
            say("is not readable text (byte {start} is not {name})", start=error.start, name=name),
            place=place,
            remedy=say("Save it again as text in UTF-8."),
        ) from error
    if "\x00" in text:
        raise ModelError(
            say("is not text"), place=place, remedy=say("Name a text file, saved as UTF-8.")
        )
    return text
