"""Names that people typed, made safe to set in a line of text or a drawing."""

from __future__ import annotations

import unicodedata

# Joiners belong to some scripts' spelling and to composed emoji; other format characters
# could turn the direction of the text that follows a name.
_KEPT_FORMATS = "\u200c\u200d"


def plain(text: str) -> str:
    """One line of text: control and direction characters out, runs of blanks made one."""
    kept = [
        " " if unicodedata.category(letter) in ("Cc", "Zl", "Zp") else letter
        for letter in text
        if unicodedata.category(letter) not in ("Cf", "Cs") or letter in _KEPT_FORMATS
    ]
    return " ".join("".join(kept).split())


def short(text: str, letters: int) -> str:
    """At most so many letters, the last one an ellipsis where some were left out."""
    text = plain(text)
    return text if len(text) <= letters else text[: letters - 1].rstrip() + "…"
