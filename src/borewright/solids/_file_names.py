"""File names from part names: safe on every system, and no two parts on one file."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence

#: Names that some systems keep for devices, whatever the ending.
_DEVICES = {"con", "prn", "aux", "nul"} | {f"{d}{n}" for d in ("com", "lpt") for n in range(10)}


def file_names(part_names: Sequence[str]) -> list[str]:
    """One stem a part: letters, digits, hyphens; numbered where two would be the same.

    Capitals do not tell files apart everywhere, nor do composed and decomposed accents.
    """
    used: set[str] = set()
    stems = []
    wishes = [_stem(name) for name in part_names]
    for wish in wishes:
        stem, number = wish, 1
        while stem.casefold() in used:
            number += 1
            stem = f"{wish}-{number}"
        used.add(stem.casefold())
        stems.append(stem)
    return stems


def _stem(name: str) -> str:
    plain = unicodedata.normalize("NFKC", name)
    stem = re.sub(r"[^\w]+", "-", plain).strip("-_") or "part"
    return f"part-{stem}" if stem.casefold() in _DEVICES else stem
