"""Every table of the ledger in the trade's words: buying, making, proving, selling."""

from __future__ import annotations

from borewright.errors import LedgerError
from borewright.ledger.fields import RecordKind
from borewright.ledger.kinds.buying import BUYING
from borewright.ledger.kinds.making import MAKING
from borewright.ledger.kinds.proving import PROVING
from borewright.ledger.kinds.selling import SELLING
from borewright.words import joined, say

__all__ = ["RECORD_KINDS", "record_kind"]

RECORD_KINDS: dict[str, RecordKind] = {
    each.kind.name: each.kind for each in (*SELLING[:2], *BUYING, *MAKING, *PROVING, *SELLING[2:])
}


def record_kind(name: str) -> RecordKind:
    """The kind of record of this name; a dash may stand for the underscore."""
    found = RECORD_KINDS.get(name.replace("-", "_"))
    if found is None:
        raise LedgerError(
            say("there is no table '{name}'", name=name[:60]),
            place=say("ledger"),
            remedy=say("Tables are: {names}.", names=joined(RECORD_KINDS, ", ")),
        )
    return found
