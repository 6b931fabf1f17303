"""Commands of the workshop's day: checks, sign-off, surveys, cost and the batch plan."""

from __future__ import annotations

from datetime import date, datetime
from typing import Annotated

import typer

from borewright.doors.answering import FAULTS, Answering, answer
from borewright.doors.arguments import AsJson
from borewright.doors.ledger.options import (
    Code,
    Fields,
    LedgerPlace,
    Sensitivity,
    Who,
    author,
    values_of,
)
from borewright.tasks.ledger.opening import DEFAULT_PLACE, opened, read_sensitivities
from borewright.words import say


def register(app: typer.Typer) -> None:
    """Put these commands on the ledger's command line."""
    for name, command in (
        ("check", check),
        ("sign-off", sign_off),
        ("waiting", waiting),
        ("survey", survey),
        ("compare", compare),
        ("set-up", set_up),
        ("cost", cost),
        ("price", price_order),
        ("plan", plan),
    ):
        app.command(name, cls=Answering)(command)


def check(
    serial: Code,
    subject: Annotated[str, typer.Argument(metavar="CHECK", help="bore, leak, tuning and so on.")],
    fields: Fields = None,
    ledger: LedgerPlace = DEFAULT_PLACE,
    who: Who = "",
    as_json: AsJson = False,
) -> None:
    """Record a check of an instrument and judge it by its limits.

    The exit code is 1 where it failed; the record is kept either way.
    """
    from borewright.doors.ledger.showing import check_line, record_as_dict
    from borewright.ledger import Check, record_check

    values = values_of(fields) | {"instrument": serial, "subject": subject.replace("-", " ")}
    record = record_check(opened(ledger), values, who=author(who))
    done = Check.read(record)
    answer(record_as_dict(record), lambda words: [check_line(done, words)], as_json)
    if not done.passed:
        raise typer.Exit(FAULTS)


def sign_off(
    serial: Code,
    note: Annotated[str, typer.Option(help="Anything worth remembering.")] = "",
    ledger: LedgerPlace = DEFAULT_PLACE,
    who: Who = "",
    as_json: AsJson = False,
) -> None:
    """Sign an instrument off, once everything else is done."""
    from borewright.doors.ledger.showing import record_as_dict
    from borewright.ledger import sign_off as sign

    record = sign(opened(ledger), serial, who=author(who), note=note)
    answer(
        record_as_dict(record),
        lambda words: [words("{serial} is signed off.", serial=serial)],
        as_json,
    )


def waiting(
    batch: Annotated[str | None, typer.Option(help="Only instruments of this batch.")] = None,
    ledger: LedgerPlace = DEFAULT_PLACE,
    as_json: AsJson = False,
) -> None:
    """List what each instrument waits for."""
    from borewright.doors.ledger.showing import waiting_lines
    from borewright.ledger import waiting_for

    book, serials = opened(ledger), None
    if batch is not None:
        book.get("batch", batch)
        serials = [str(r["code"]) for r in book.records("instrument", {"batch": batch})]
    found = waiting_for(book, serials)
    data = {serial: [str(wait) for wait in waits] for serial, waits in found.items()}
    answer({"waiting_for": data}, lambda words: waiting_lines(found, words), as_json)


def survey(
    source: Annotated[str, typer.Argument(metavar="SOURCE", help="The keywork source.")],
    sensitivity: Sensitivity = None,
    ledger: LedgerPlace = DEFAULT_PLACE,
    as_json: AsJson = False,
) -> None:
    """Show mean, scatter and outliers of the sets measured; with sensitivities, in cents too."""
    from borewright.doors.ledger.showing import survey_as_dict, survey_lines
    from borewright.ledger import survey_statistics, tuning_scatter
    from borewright.ledger.likeness import likeness_of
    from borewright.tasks.ledger.key_surveys import surveyed_numbers

    book = opened(ledger)
    surveyed = surveyed_numbers(book)
    found = survey_statistics(book, source, surveyed)
    alike = likeness_of(book, surveyed)
    effect = None
    if sensitivity is not None:
        scatter = {one.name: one.scatter_mm for one in found if one.scatter_mm is not None}
        effect = tuning_scatter(scatter, read_sensitivities(sensitivity))
    answer(
        survey_as_dict(found, effect, alike),
        lambda words: survey_lines(found, effect, words, alike),
        as_json,
    )


def compare(
    quantity: Annotated[int, typer.Option(min=1, help="So many sets are to be bought.")],
    plating: Annotated[str | None, typer.Option(help="Only quotes of this plating.")] = None,
    ledger: LedgerPlace = DEFAULT_PLACE,
    as_json: AsJson = False,
) -> None:
    """Compare keywork sources by the criteria you weigh, with the arithmetic."""
    from borewright.doors.ledger.showing import standings_as_dict, standings_lines
    from borewright.ledger import compare_sources
    from borewright.tasks.ledger.key_surveys import surveyed_numbers

    book = opened(ledger)
    found = compare_sources(book, quantity, plating=plating, surveyed=surveyed_numbers(book))
    answer(standings_as_dict(found), lambda words: standings_lines(found, words), as_json)


def set_up(
    sample: Annotated[str, typer.Argument(metavar="SAMPLE", help="The keywork set.")],
    design: Annotated[str, typer.Option(help="The design it is for.")],
    sensitivity: Sensitivity = None,
    ledger: LedgerPlace = DEFAULT_PLACE,
    as_json: AsJson = False,
) -> None:
    """Show lifts, levers, touch forces and heights, and what to put right."""
    from borewright.doors.ledger.showing import set_up_as_dict, set_up_lines
    from borewright.tasks.ledger.designs import set_up_rows

    known = None if sensitivity is None else read_sensitivities(sensitivity)
    keys = set_up_rows(opened(ledger), sample, design, known)
    answer(set_up_as_dict(sample, keys), lambda words: set_up_lines(keys, words), as_json)


def cost(
    batch: Annotated[str, typer.Argument(metavar="BATCH", help="The batch.")],
    margin: Annotated[str, typer.Option(help="Wanted margin, in percent of the price.")] = "25",
    price: Annotated[str | None, typer.Option(help="A price to judge, before tax.")] = None,
    quantity: Annotated[
        list[int] | None, typer.Option(min=1, help="Another size of batch; may be repeated.")
    ] = None,
    plating: Annotated[
        list[str] | None, typer.Option(help="Another plating; may be repeated.")
    ] = None,
    ledger: LedgerPlace = DEFAULT_PLACE,
    as_json: AsJson = False,
) -> None:
    """Show unit cost, price for a margin, break-even, and what other choices would bring."""
    from borewright.doors.ledger.showing_costs import cost_as_dict, cost_lines
    from borewright.tasks.ledger.costs import amount_from, cost_answer

    found = cost_answer(
        opened(ledger),
        batch,
        amount_from(margin, "--margin"),
        None if price is None else amount_from(price, "--price"),
        quantity or [],
        plating or [],
    )
    answer(cost_as_dict(found), lambda words: cost_lines(found, words), as_json)


def price_order(
    order: Annotated[str, typer.Argument(metavar="ORDER", help="The order's number.")],
    margin: Annotated[str, typer.Option(help="Wanted margin, in percent of the price.")] = "25",
    batch: Annotated[
        str | None, typer.Option(help="The batch; the one its instruments are made in otherwise.")
    ] = None,
    ledger: LedgerPlace = DEFAULT_PLACE,
    who: Who = "",
    as_json: AsJson = False,
) -> None:
    """Price an order at what its batch costs, with a margin; nothing is typed again."""
    from borewright.ledger import price_order, unit_price
    from borewright.tasks.ledger.costs import amount_from

    wanted = amount_from(margin, "--margin")
    priced = price_order(opened(ledger), order, margin_percent=wanted, who=author(who), batch=batch)
    price, tax_percent = unit_price(priced), priced.tax_percent or 0
    data = {
        "order": order,
        "unit_price": price.plain,
        "currency": price.currency,
        "tax_percent": f"{tax_percent:f}",
        "version": priced.version,
    }
    said = say(
        "Order {order}: {price} for each, before {tax:f} % tax.",
        order=order,
        price=price.words,
        tax=tax_percent,
    )
    answer(data, lambda words: [words.tell(said)], as_json)


def plan(
    batch: Annotated[str, typer.Argument(metavar="BATCH", help="The batch.")],
    from_day: Annotated[
        datetime | None,
        typer.Option("--from", formats=["%Y-%m-%d"], help="The first day; the batch's otherwise."),
    ] = None,
    opens: Annotated[int, typer.Option(help="Prints are started from this hour on.")] = 8,
    closes: Annotated[int, typer.Option(help="No print is started from this hour on.")] = 18,
    weekends: Annotated[
        bool, typer.Option("--free-weekends", help="Start nothing on Saturday and Sunday.")
    ] = False,
    ledger: LedgerPlace = DEFAULT_PLACE,
    as_json: AsJson = False,
) -> None:
    """Plan which part is printed on which printer by which day."""
    from borewright.doors.ledger.showing import plan_as_dict, plan_lines
    from borewright.ledger import plan_batch

    first: date | None = from_day.date() if from_day else None
    found = plan_batch(
        opened(ledger), batch, first, opens=opens, closes=closes, free_weekends=weekends
    )
    answer(plan_as_dict(found), lambda words: plan_lines(found, words), as_json)
