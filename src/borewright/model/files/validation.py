"""pydantic's findings, turned into one message with place, cause and remedy."""

from __future__ import annotations

import difflib
import re
from collections.abc import Callable
from typing import Any, get_args

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from borewright.errors import ModelError, RefusedValue
from borewright.model.base import NUMBER_WANTED
from borewright.model.plausible import UNIT_SLIP
from borewright.words import (
    Message,
    Place,
    Said,
    Text,
    given,
    joined,
    listed,
    place_of,
    say,
    say_many,
)

_REMEDY = {
    "missing": say("Add it."),
    "extra_forbidden": say("Remove it, or check its spelling."),
    "float_parsing": NUMBER_WANTED,
    "float_type": NUMBER_WANTED,
    "finite_number": say("Write a finite number."),
    "enum": say("Use one of the words named."),
}
_CAUSE = {
    "missing": say("is missing"),
    "extra_forbidden": say("this key is unknown"),
    "model_type": say("is not a table of keys and values"),
    "float_type": say("input should be a valid number"),
    "float_parsing": say("input should be a valid number, unable to parse string as a number"),
    "finite_number": say("input should be a finite number"),
    "int_type": say("input should be a valid integer"),
    "int_parsing": say("input should be a valid integer, unable to parse string as an integer"),
    "int_from_float": say("input should be a valid integer, got a number with a fractional part"),
    "bool_type": say("input should be a valid boolean"),
    "bool_parsing": say("input should be a valid boolean, unable to interpret input"),
    "string_type": say("input should be a valid string"),
    "list_type": say("input should be a valid list"),
    "tuple_type": say("input should be a valid tuple"),
    "dict_type": say("input should be a valid dictionary"),
}
#: Causes with a limit, from what pydantic tells of it.
_LIMIT: dict[str, Callable[[dict[str, Any]], Message]] = {
    "greater_than": lambda its: say("input should be greater than {limit}", limit=its["gt"]),
    "greater_than_equal": lambda its: say(
        "input should be greater than or equal to {limit}", limit=its["ge"]
    ),
    "less_than": lambda its: say("input should be less than {limit}", limit=its["lt"]),
    "less_than_equal": lambda its: say(
        "input should be less than or equal to {limit}", limit=its["le"]
    ),
    "enum": lambda its: say(
        "input should be {words}",
        words=listed(re.findall(r"'[^']*'", its["expected"]), "or"),
    ),
    "string_too_short": lambda its: say_many(
        "string should have at least {count} character",
        "string should have at least {count} characters",
        its["min_length"],
    ),
    "string_too_long": lambda its: say_many(
        "string should have at most {count} character",
        "string should have at most {count} characters",
        its["max_length"],
    ),
    "too_short": lambda its: say_many(
        "list should have at least {count} item after validation, not {found}",
        "list should have at least {count} items after validation, not {found}",
        its["min_length"],
        found=its["actual_length"],
    ),
    "too_long": lambda its: say_many(
        "list should have at most {count} item after validation, not {found}",
        "list should have at most {count} items after validation, not {found}",
        its["max_length"],
        found=its["actual_length"] or say("more"),
    ),
}
_PAIRS = say("Write pairs of station and diameter: bore = [[0, 15], [65, 14.9]].")
_HEADING = say("Write each hole under a heading of its own, [[part.hole]] with double brackets.")
#: What a key should look like, where its kind is often mistaken.
_SHAPE = {
    "bore": _PAIRS,
    "outside": say("Write pairs of station and diameter: outside = [[0, 31], [65, 31]]."),
    "hole": _HEADING,
    "holes": _HEADING,
    "temperament_cents": say("Write twelve numbers in square brackets."),
    "free": say('Write words in square brackets: free = ["hole.station"].'),
}


def model_error(
    error: ValidationError, source: Text | Place, data: Any = None, line: int | None = None
) -> ModelError:
    """The first finding of a ValidationError as a ModelError.

    ``data`` is the document as read; it lends parts and holes their names, so that the
    place reads ``part 'barrel', length_mm`` and not ``parts.1.length_mm``. ``line`` is added
    to the place. Where a measure cannot be millimetres, that is told before anything else.
    """
    findings = error.errors()
    finding = first_finding(error)
    cause, remedy = _words(finding, data)
    others = len(findings) - 1
    more = say("{others} more finding(s) after this one.", others=others)
    if finding["type"] == UNIT_SLIP:
        others = sum(other["type"] == UNIT_SLIP for other in findings) - 1
        more = say("{others} more part(s) or row(s) look the same.", others=others)
    if others:
        remedy = joined([remedy, more])
    lines = (say("line {line}", line=line),) if line else ()
    place = (*place_of(source), *lines, *_place_words(finding["loc"], data))
    return ModelError(cause, place=place, remedy=remedy)


def first_finding(error: ValidationError) -> ErrorDetails:
    """The finding to tell: a wrong unit before a misspelt key, and that before all others.

    A misspelt key is also found missing under its right name; the spelling says more.
    """
    findings = error.errors()
    for kind in (UNIT_SLIP, "extra_forbidden"):
        for finding in findings:
            if finding["type"] == kind:
                return finding
    return findings[0]


def _words(finding: ErrorDetails, data: Any) -> tuple[Text, Text]:
    kind, its = finding["type"], finding.get("ctx", {})
    if kind == UNIT_SLIP:
        return its["cause"], its["remedy"]
    if kind == "value_error" and isinstance(its["error"], RefusedValue):
        return its["error"].cause, its["error"].remedy
    found, message = finding["input"], finding["msg"]
    # A kind that the model has no use for today is told as pydantic does.
    known = _LIMIT[kind](its) if kind in _LIMIT else _CAUSE.get(kind)
    cause: Said = known or given(message[0].lower() + message[1:])
    plain = not isinstance(found, dict | list | tuple | BaseModel)
    if plain and kind not in ("missing", "extra_forbidden"):
        shown = repr(found) if isinstance(found, str | int | float) else str(found)
        shown = shown if len(shown) <= 60 else shown[:57] + "…"
        cause = joined([cause, say("(found {shown})", shown=shown)])
    location = finding["loc"]
    names = [step for step in location if isinstance(step, str)]
    remedy = _REMEDY.get(kind)
    if kind == "extra_forbidden":
        remedy = _likely(location) or remedy
    elif names and names[-1] in _SHAPE and (kind != "missing" or location[-1] != names[-1]):
        remedy = _SHAPE[names[-1]]
    return cause, remedy or say("Correct the value.")


def _likely(location: tuple[int | str, ...]) -> Message | None:
    """The known key that a misspelt one probably means, as a remedy."""
    from borewright.model.instrument import Instrument

    model: Any = Instrument
    for step in location[:-1]:
        if isinstance(step, str):
            field = getattr(model, "model_fields", {}).get(step)
            model = _model_within(field.annotation) if field else None
    known = ["hole" if name == "holes" else name for name in getattr(model, "model_fields", {})]
    close = difflib.get_close_matches(str(location[-1]), known, n=1, cutoff=0.6)
    return say("Perhaps '{key}' is meant.", key=close[0]) if close else None


def _model_within(annotation: Any) -> Any:
    """The class inside ``list[Part]`` or ``Pad | None``."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    inner = [_model_within(argument) for argument in get_args(annotation)]
    return next((model for model in inner if model is not None), None)


def _place_words(location: tuple[int | str, ...], data: Any) -> Place:
    words: list[Text] = []
    node = data
    for step in location:
        if isinstance(step, int):
            node = node[step] if isinstance(node, list) and step < len(node) else None
            name = node.get("name") if isinstance(node, dict) else None
            words.append(_item(words.pop() if words else "", step + 1, _one_line(name or "")))
        else:
            node = node.get(step) if isinstance(node, dict) else None
            words.append(_one_line(step))
    return tuple(words)


def _item(of: Text, number: int, name: str) -> Message:
    """One of a list: by its name where it has one, otherwise by its number."""
    if of == "parts":
        return say("part '{name}'", name=name) if name else say("part {number}", number=number)
    if of == "holes":
        return say("hole '{name}'", name=name) if name else say("hole {number}", number=number)
    if of in ("rows", "fingerings"):
        return say("row '{name}'", name=name) if name else say("row {row}", row=number)
    return say("{of} {number}", of=of or say("item"), number=number)


def _one_line(text: object) -> str:
    return (
        str(text)[:60].encode("unicode_escape").decode()
        if not str(text).isprintable()
        else (str(text)[:60])
    )
