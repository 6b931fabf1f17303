"""Small things every workshop paper needs: file names, boxes to tick, lines to sign."""

from __future__ import annotations

import hashlib
import re

from borewright.documents._names import short

BOX = "☐"
TICKED = "☑"
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


def sign_line(*names: str) -> list[tuple[str, str]]:
    """Facts to be filled in by hand."""
    return [row for name in names for row in (("", ""), (name, "_ " * 24))]
