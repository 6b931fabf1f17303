"""A step of the work on one instrument, as the ledger knows it and a traveller shows it."""

from __future__ import annotations

from dataclasses import dataclass

from borewright.words import Text


@dataclass(frozen=True)
class WorkStep:
    """One step: what, its limit, whether it is done, and by whom."""

    what: Text
    limit: Text = ""
    done: bool = False
    who: str = ""
