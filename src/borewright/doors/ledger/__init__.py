"""The commands ``borewright ledger …``: the workshop's records from the shell.

Only light modules are loaded here; a command loads the ledger in its body.
"""

from __future__ import annotations

import typer

import borewright.doors.ledger.customers as customers
import borewright.doors.ledger.papers as papers
import borewright.doors.ledger.records as records
import borewright.doors.ledger.safety as safety
import borewright.doors.ledger.workshop as workshop
from borewright.doors.help import Group

__all__ = ["app"]

app = typer.Typer(
    name="ledger",
    cls=Group,
    help="Keep the workshop's records: keywork, lots, serial numbers, checks, cost, orders.",
    epilog="The ledger is the file workshop.ledger here, unless --ledger or BOREWRIGHT_LEDGER "
    "names another or a postgresql:// address.",
    rich_markup_mode=None,
    no_args_is_help=True,
)
for _module in (records, workshop, papers, safety, customers):
    _module.register(app)
