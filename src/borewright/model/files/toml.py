"""What TOML's reader refuses, in sentences of ours with line and column.

The standard library tells it in English, in a text; the kinds are told apart by that text.
"""

from __future__ import annotations

import re
import tomllib
from typing import Any

from borewright.errors import ModelError
from borewright.words import Message, Place, say

_POSITION = re.compile(r" \(at (?:line (?P<line>\d+), column (?P<column>\d+)|end of document)\)$")
_VALUE = say("this is no value: a text in quotes, a number, true, false or a list in brackets")
_ESCAPE = say(r"a backslash in a text stands for something else here; write two, or single quotes")
_KINDS = {
    "Invalid statement": say("this is neither a key with its value nor a heading in brackets"),
    "Invalid initial character for a key part": say("a key is missing, or begins with a sign"),
    "Invalid value": _VALUE,
    "Invalid date or datetime": say("there is no such day or time"),
    "Invalid hex value": _ESCAPE,
    "Unescaped '\\' in a string": _ESCAPE,
    "Escaped character is not a Unicode scalar value": _ESCAPE,
    "Unterminated string": say("the quotes of a text are not closed"),
    "Unclosed array": say("a list is not closed, or a comma is missing in it"),
    "Unclosed inline table": say("a table in braces is not closed, or a comma is missing in it"),
    "Expected newline or end of document after a statement": say(
        "after a value or a heading the line must end"
    ),
    "Cannot overwrite a value": say("a key or a table stands twice"),
}
_TWICE = re.compile(
    r"(?:Cannot declare|Cannot mutate immutable namespace|Cannot redefine namespace|"
    r"Duplicate inline table key) (?P<key>.+?)(?: twice)?$"
)
_SIGN = re.compile(
    r"(?P<what>Expected|Found invalid character|Illegal character) "
    r"(?P<quote>['\"])(?P<sign>.+?)(?P=quote)(?: |$)"
)
_SIGNS = say("Numbers use a decimal point, texts stand in quotes, brackets come in pairs.")
_ONCE = say(
    "A key or a table may stand only once; parts and holes are lists, "
    "with the headings [[part]] and [[part.hole]]."
)


def parsed_toml(text: str, place: str) -> dict[str, Any]:
    """The data of a TOML text; ``place`` names its file.

    Raises ModelError with line, column, cause and remedy.
    """
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        position = _POSITION.search(str(error))
        where: Place = ()
        if position and position["line"]:
            line, column = int(position["line"]), int(position["column"])
            where = (say("line {line}", line=line), say("column {column}", column=column))
        elif position:
            where = (say("line {line}", line=len(text.splitlines())), say("the end"))
        reason = _POSITION.sub("", str(error))
        raise ModelError(
            say("is not valid TOML: {reason}", reason=_told(reason)),
            place=(place, *where),
            remedy=_ONCE if _TWICE.match(reason) or reason.startswith("Cannot") else _SIGNS,
        ) from error
    except (ValueError, RecursionError) as error:
        # Thousands of digits or thousands of brackets, from a file that is something else.
        raise ModelError(
            say("is not valid TOML: a number is far too long, or brackets are far too deep"),
            place=place,
            remedy=say("Check that it is the right file."),
        ) from error


def _told(reason: str) -> Message:
    if reason in _KINDS:
        return _KINDS[reason]
    if twice := _TWICE.match(reason):
        # The library shows a key's steps as Python's tuple.
        key = ".".join(re.findall(r"'([^']*)'", twice["key"])) or twice["key"]
        return say("'{key}' stands twice, or is no longer open here", key=key[:80])
    if sign := _SIGN.match(reason):
        if sign["what"] == "Expected":
            return say("the sign {sign} is missing", sign=sign["sign"])
        return say("the sign {sign} cannot stand here", sign=sign["sign"])
    return say("it is written otherwise than TOML allows")
