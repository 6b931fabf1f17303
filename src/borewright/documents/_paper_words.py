"""Small things every workshop paper needs: file names, figures, boxes to tick, lines to sign."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Collection
from datetime import date

from borewright.documents._names import short
from borewright.documents.cautions import CAUTIONS, Hazard
from borewright.words import Reader

BOX = "☐"
TICKED = "☑"
NONE = "–"
LONGEST_NOTE = 600  # letters of a note that a paper prints; the ledger keeps the rest


def file_stem(kind: str, code: str) -> str:
    """A file name from a code that people typed: plain letters, never a path.

    Two codes that differ only in other signs keep different names by a short digest.
    """
    safe = re.sub(r"[^A-Za-z0-9]+", "-", code).strip("-")[:60]
    if safe != code:
        safe = f"{safe}-{hashlib.sha256(code.encode()).hexdigest()[:8]}".strip("-")
    return f"{kind}-{safe}"


def note(text: str) -> str:
    """A note as a paper prints it."""
    return short(text, LONGEST_NOTE)


def sentence(clause: str) -> str:
    """A clause as a sentence of its own."""
    return f"{clause[:1].upper()}{clause[1:].rstrip('.')}."


def sign_line(*names: str) -> list[tuple[str, str]]:
    """Facts to be filled in by hand."""
    return [row for name in names for row in (("", ""), (name, "_ " * 24))]


def number(words: Reader, value: float | None, spec: str = "g") -> str:
    """A figure as the reader writes it, with a true minus; a dash where there is none."""
    return NONE if value is None else words.number(value, spec).replace("-", "−")


def signed(words: Reader, value: float, digits: int = 1) -> str:
    """A figure with its sign, ``+3.1`` or ``−3.1``; plain where it rounds to nothing."""
    rounded = round(value, digits) or 0.0
    return number(words, rounded, f"+.{digits}f" if rounded else f".{digits}f")


def weekday(words: Reader, day: date) -> str:
    """A day with its weekday before it."""
    from babel.dates import format_date

    return f"{format_date(day, 'EEE', locale=words.language)} {day.isoformat()}"


def cautions(words: Reader, wanted: Collection[Hazard]) -> list[tuple[str, str]]:
    """The cautions of these hazards, as points."""
    chosen = [caution for caution in CAUTIONS if caution.hazard in wanted]
    return [(words.tell(each.about), words.tell(each.text)) for each in chosen]
