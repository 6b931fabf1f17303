"""Where the files lie that an instrument's file names; no room is loaded for that."""

from __future__ import annotations

from pathlib import Path


def named_beside(file: Path, named: str) -> Path:
    """A path that an instrument's file names: relative ones start at that file's folder."""
    return file.parent / named
