"""pydantic's findings, turned into one message with place, cause and remedy."""

from __future__ import annotations

from typing import Any

from pydantic import ValidationError

from borewright.errors import ModelError

_REMEDY = {
    "missing": "Add it.",
    "extra_forbidden": "Remove it, or check its spelling.",
    "float_parsing": "Write a number such as 12.5.",
    "float_type": "Write a number such as 12.5.",
    "finite_number": "Write a finite number.",
    "enum": "Use one of the words named.",
}


def model_error(error: ValidationError, source: str, data: Any = None) -> ModelError:
    """The first finding of a ValidationError as a ModelError.

    ``data`` is the document as read; it lends parts and holes their names, so that the
    place reads ``part 'barrel', length_mm`` and not ``parts.1.length_mm``.
    """
    finding = error.errors()[0]
    others = error.error_count() - 1
    kind = finding["type"]
    message = finding["msg"].removeprefix("Value error, ").rstrip(".")
    if kind == "value_error":
        cause, _, remedy = message.partition(". ")
    else:
        found = finding["input"]
        shown = "" if isinstance(found, dict | list) or kind == "missing" else f" (found {found!r})"
        cause, remedy = message[0].lower() + message[1:] + shown, _REMEDY.get(kind, "")
        if not remedy:
            remedy = "Correct the value."
    if others:
        remedy = f"{remedy.rstrip('.')}. {others} more finding(s) after this one."
    words = _place_words(finding["loc"], data)
    return ModelError(cause, place=", ".join([source, *words]), remedy=_sentence(remedy))


def _sentence(text: str) -> str:
    return text if not text or text.endswith(".") else f"{text}."


def _place_words(location: tuple[int | str, ...], data: Any) -> list[str]:
    words: list[str] = []
    node = data
    singular = {"parts": "part", "holes": "hole", "rows": "row", "fingerings": "row"}
    for step in location:
        if isinstance(step, int):
            node = node[step] if isinstance(node, list) and step < len(node) else None
            name = node.get("name") if isinstance(node, dict) else None
            label = words.pop() if words else "item"
            label = singular.get(label, label)
            words.append(f"{label} '{name}'" if name else f"{label} {step + 1}")
        else:
            node = node.get(step) if isinstance(node, dict) else None
            words.append(str(step))
    return words
