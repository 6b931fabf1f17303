"""Every table of the ledger in the trade's words: buying, making, proving, selling."""

from __future__ import annotations

from borewright.errors import LedgerError
from borewright.ledger.fields import RecordKind
from borewright.ledger.kinds.buying import BUYING
from borewright.ledger.kinds.making import MAKING
from borewright.ledger.kinds.proving import PROVING
from borewright.ledger.kinds.selling import SELLING

__all__ = ["RECORD_KINDS", "record_kind"]

RECORD_KINDS: dict[str, RecordKind] = {
    kind.name: kind for kind in (*SELLING[:2], *BUYING, *MAKING, *PROVING, *SELLING[2:])
}


def record_kind(name: str) -> RecordKind:
    """The kind of record of this name; a dash may stand for the underscore."""
    found = RECORD_KINDS.get(name.replace("-", "_"))
    if found is None:
        raise LedgerError(
            f"there is no table '{name[:60]}'",
            place="ledger",
            remedy=f"Tables are: {', '.join(RECORD_KINDS)}.",
        )
    return found
