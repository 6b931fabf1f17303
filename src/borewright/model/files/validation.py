"""pydantic's findings, turned into one message with place, cause and remedy."""

from __future__ import annotations

import difflib
from typing import Any, get_args

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from borewright.errors import ModelError
from borewright.model.plausible import UNIT_SLIP

_REMEDY = {
    "missing": "Add it.",
    "extra_forbidden": "Remove it, or check its spelling.",
    "float_parsing": "Write a number such as 12.5.",
    "float_type": "Write a number such as 12.5.",
    "finite_number": "Write a finite number.",
    "enum": "Use one of the words named.",
}
_CAUSE = {
    "missing": "is missing",
    "extra_forbidden": "this key is unknown",
    "model_type": "is not a table of keys and values",
}
#: What a key should look like, where its kind is often mistaken.
_SHAPE = {
    "bore": "Write pairs of station and diameter: bore = [[0, 15], [65, 14.9]].",
    "outside": "Write pairs of station and diameter: outside = [[0, 31], [65, 31]].",
    "hole": "Write each hole under a heading of its own, [[part.hole]] with double brackets.",
    "holes": "Write each hole under a heading of its own, [[part.hole]] with double brackets.",
    "temperament_cents": "Write twelve numbers in square brackets.",
    "free": 'Write words in square brackets: free = ["hole.station"].',
}
_SINGULAR = {"parts": "part", "holes": "hole", "rows": "row", "fingerings": "row"}


def model_error(
    error: ValidationError, source: str, data: Any = None, line: int | None = None
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
    if finding["type"] == UNIT_SLIP:
        others = sum(other["type"] == UNIT_SLIP for other in findings) - 1
        more = f"{others} more part(s) or row(s) look the same."
    else:
        more = f"{others} more finding(s) after this one."
    remedy = _sentence(remedy)
    if others:
        remedy = f"{remedy} {more}"
    steps = [source, *([f"line {line}"] if line else []), *_place_words(finding["loc"], data)]
    return ModelError(cause, place=", ".join(steps), remedy=remedy)


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


def _words(finding: ErrorDetails, data: Any) -> tuple[str, str]:
    kind = finding["type"]
    message = finding["msg"].removeprefix("Value error, ").rstrip(".")
    if kind == UNIT_SLIP:
        return finding["ctx"]["cause"], finding["ctx"]["remedy"]
    if kind == "value_error":
        cause, _, remedy = message.partition(". ")
        return cause, remedy
    found = finding["input"]
    cause = _CAUSE.get(kind, message[0].lower() + message[1:])
    plain = not isinstance(found, dict | list | tuple | BaseModel)
    if plain and kind not in ("missing", "extra_forbidden"):
        shown = repr(found) if isinstance(found, str | int | float) else str(found)
        cause += f" (found {shown if len(shown) <= 60 else shown[:57] + '…'})"
    location = finding["loc"]
    names = [step for step in location if isinstance(step, str)]
    remedy = _REMEDY.get(kind, "")
    if kind == "extra_forbidden":
        remedy = _likely(location) or remedy
    elif names and names[-1] in _SHAPE and (kind != "missing" or location[-1] != names[-1]):
        remedy = _SHAPE[names[-1]]
    return cause, remedy or "Correct the value."


def _likely(location: tuple[int | str, ...]) -> str:
    """The known key that a misspelt one probably means, as a remedy."""
    from borewright.model.instrument import Instrument

    model: Any = Instrument
    for step in location[:-1]:
        if isinstance(step, str):
            field = getattr(model, "model_fields", {}).get(step)
            model = _model_within(field.annotation) if field else None
    known = ["hole" if name == "holes" else name for name in getattr(model, "model_fields", {})]
    close = difflib.get_close_matches(str(location[-1]), known, n=1, cutoff=0.6)
    return f"Perhaps '{close[0]}' is meant." if close else ""


def _model_within(annotation: Any) -> Any:
    """The class inside ``list[Part]`` or ``Pad | None``."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    inner = [_model_within(argument) for argument in get_args(annotation)]
    return next((model for model in inner if model is not None), None)


def _sentence(text: str) -> str:
    return text if not text or text.endswith(".") else f"{text}."


def _place_words(location: tuple[int | str, ...], data: Any) -> list[str]:
    words: list[str] = []
    node = data
    for step in location:
        if isinstance(step, int):
            node = node[step] if isinstance(node, list) and step < len(node) else None
            name = node.get("name") if isinstance(node, dict) else None
            label = words.pop() if words else "item"
            label = _SINGULAR.get(label, label)
            words.append(f"{label} '{_one_line(name)}'" if name else f"{label} {step + 1}")
        else:
            node = node.get(step) if isinstance(node, dict) else None
            words.append(_one_line(step))
    return words


def _one_line(text: object) -> str:
    return (
        str(text)[:60].encode("unicode_escape").decode()
        if not str(text).isprintable()
        else (str(text)[:60])
    )
