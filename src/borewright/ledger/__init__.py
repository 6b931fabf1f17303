"""The workshop's records: keywork, lots, serial numbers, checks, cost and orders.

Kept in a database, SQLite by default or PostgreSQL by address. This room knows no physics, no
CAD and no page. A name loads its module when it is first used, so importing this is light.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from borewright.ledger.kinds import RECORD_KINDS, record_kind
    from borewright.ledger.store import Entry, Ledger

_WHERE = {
    "RECORD_KINDS": "kinds",
    "Entry": "store",
    "Ledger": "store",
    "record_kind": "kinds",
}

__all__ = [
    "RECORD_KINDS",
    "Entry",
    "Ledger",
    "record_kind",
]


def __getattr__(name: str) -> Any:
    if name not in _WHERE:
        raise AttributeError(f"module '{__name__}' has no attribute '{name}'")
    return getattr(import_module(f"{__name__}.{_WHERE[name]}"), name)
