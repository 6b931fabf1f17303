"""Commands on customers' data: who there is, everything on one, erased on request."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Annotated

import typer

from borewright.doors.answering import Answering, answer
from borewright.doors.arguments import AsJson
from borewright.doors.ledger.options import LedgerPlace, Reason, Who, author
from borewright.tasks.ledger.opening import DEFAULT_PLACE, opened

Name = Annotated[str, typer.Argument(metavar="NAME", help="The customer, as orders name them.")]


def register(app: typer.Typer) -> None:
    """Put these commands on the ledger's command line."""
    app.command("customers", cls=Answering)(list_customers)
    app.command("hand-out", cls=Answering)(hand_out)
    app.command("erase-customer", cls=Answering)(erase)


def list_customers(ledger: LedgerPlace = DEFAULT_PLACE, as_json: AsJson = False) -> None:
    """List the customers that orders name."""
    from borewright.ledger import customer_names

    found = customer_names(opened(ledger))
    answer({"customers": found}, lambda words: found, as_json)


def hand_out(
    name: Name,
    output: Annotated[
        Path, typer.Option(metavar="FILE", readable=False, help="Where to write it, as JSON.")
    ],
    ledger: LedgerPlace = DEFAULT_PLACE,
) -> None:
    """Write everything on a customer into one file, to hand out when they ask.

    Orders with their history, instruments, service visits, certificates, and where else the name
    stands. Only its owner may read the file.
    """
    from borewright.ledger import customer_data
    from borewright.model import write_bytes

    found = customer_data(opened(ledger), name)
    text = json.dumps(found.as_dict(), indent=1, ensure_ascii=False) + "\n"
    write_bytes(output, text.encode(), private=True)
    answer({}, lambda words: [str(output)], False)


def erase(
    name: Name,
    reason: Reason = "",
    who: Who = "",
    ledger: LedgerPlace = DEFAULT_PLACE,
    as_json: AsJson = False,
) -> None:
    """Erase a customer on request: a pseudonym takes the name's place, in the history too.

    Contact and note of the orders go; numbers, prices and serial numbers stay. Told are the papers
    that are out, and records whose texts still hold the name. Backups made before still hold it.
    """
    from borewright.ledger import erase_customer

    done = erase_customer(opened(ledger), name, who=author(who), reason=reason)
    answer(
        {
            "pseudonym": done.pseudonym,
            "orders": done.orders,
            "papers": [str(each) for each in done.papers],
            "named_in": done.named_in,
        },
        lambda words: [
            words(
                "Orders now of '{pseudonym}': {count}.",
                count=len(done.orders), pseudonym=done.pseudonym,
            ),
            *[words("Issued: {paper}", paper=words.tell(each)) for each in done.papers],
            *[words("The name still stands in: {record}", record=each) for each in done.named_in],
            words("Make a new backup, and destroy those made before."),
        ],
        as_json,
    )  # fmt: skip
