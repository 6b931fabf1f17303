"""The batch plan: which part on which printer by which day, from real printing times.

A print is started by a person in working hours and may run on through the night; a printer
is free again when a person can take the part off. Solved by constraint programming.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import ROUND_CEILING, Decimal
from typing import Any

from borewright.errors import LedgerError
from borewright.ledger.costing import part_prints
from borewright.ledger.kinds import making as kinds
from borewright.ledger.kinds.making import Batch, Instrument, Part, PartState
from borewright.ledger.store import Ledger
from borewright.words import say

QUARTERS = 4  # steps of the plan in an hour
DAY_STEPS = 24 * QUARTERS
MOST_PRINTS = 400


@dataclass(frozen=True)
class Printer:
    """A printer and the tallest part it takes (mm), None where that is not known."""

    name: str
    height_mm: float | None = None


@dataclass(frozen=True)
class PrintNeed:
    """So many prints of one part, each of so many hours and so tall."""

    part: str
    count: int
    hours: float
    height_mm: float | None = None


@dataclass(frozen=True)
class PlannedPrint:
    """One print of the plan; hours count from the plan's first midnight."""

    part: str
    printer: str
    day: date
    start_hour: float
    hours: float
    ready: date


@dataclass(frozen=True)
class Plan:
    """The prints in order of their start, and whether a shorter plan is ruled out."""

    prints: tuple[PlannedPrint, ...]
    ready: date
    proved_shortest: bool


def plan_prints(
    needs: Sequence[PrintNeed],
    printers: Sequence[Printer],
    first_day: date,
    *,
    opens: int = 8,
    closes: int = 18,
    free_weekends: bool = False,
) -> Plan:
    """The plan that has everything printed soonest.

    Parameters
    ----------
    needs, printers
        What is to be printed, and on what.
    first_day
        The day work begins.
    opens, closes
        Hours of the day between which a print can be started.
    free_weekends
        Whether nothing is started on Saturdays and Sundays.

    Raises
    ------
    LedgerError
        Where a part fits no printer, there is nothing to print, or far too much of it.
    """
    jobs = [need for need in needs for _ in range(need.count)]
    _check(jobs, needs, printers, opens, closes)
    # A person starts the next print, so the sum of all, a day each at the least, is enough.
    days = 14 + 2 * sum(1 + math.ceil(job.hours / 24) for job in jobs)
    starts = [
        (day * DAY_STEPS + opens * QUARTERS, day * DAY_STEPS + closes * QUARTERS - 1)
        for day in range(days)
        if not free_weekends or (first_day + timedelta(days=day)).weekday() < 5
    ]
    rough = _one_after_another(jobs, printers, starts)
    end = max(start + _steps(job) for job, (_, start) in zip(jobs, rough, strict=True))
    chosen, proved = _solved(jobs, printers, [s for s in starts if s[0] < end], rough, end)
    prints = []
    for job, (printer, start) in zip(jobs, chosen, strict=True):
        day, step = divmod(start, DAY_STEPS)
        ready = first_day + timedelta(days=(start + _steps(job)) // DAY_STEPS)
        prints.append(
            PlannedPrint(
                job.part,
                printers[printer].name,
                first_day + timedelta(days=day),
                step / QUARTERS,
                job.hours,
                ready,
            )
        )
    prints.sort(key=lambda p: (p.day, p.start_hour, p.printer))
    return Plan(tuple(prints), max(p.ready for p in prints), proved)


def _check(
    jobs: Sequence[PrintNeed],
    needs: Sequence[PrintNeed],
    printers: Sequence[Printer],
    opens: int,
    closes: int,
) -> None:
    if not 0 <= opens < closes <= 24:
        raise LedgerError(
            say("hours {opens} to {closes} are no working day", opens=opens, closes=closes),
            place=say("plan"),
            remedy=say("Write hours such as 8-18."),
        )
    if not jobs:
        raise LedgerError(
            say("there is nothing to print"),
            place=say("plan"),
            remedy=say("Nothing has to be done."),
        )
    if len(jobs) > MOST_PRINTS:
        raise LedgerError(
            say(
                "{count} prints are more than the {most} a plan can hold",
                count=len(jobs),
                most=MOST_PRINTS,
            ),
            place=say("plan"),
            remedy=say("Plan a smaller batch, and the next one after it."),
        )
    for need in needs:
        if need.hours <= 0:
            raise LedgerError(
                say("'{part}' takes no time", part=need.part),
                place=say("plan"),
                remedy=say("Enter the hours of a print of it."),
            )
        if not any(_fits(need, printer) for printer in printers):
            cause = say("'{part}' fits no printer that is in order", part=need.part)
            if need.height_mm:
                cause = say(
                    "'{part}' fits no printer that is in order, it is {height_mm:g} mm tall",
                    part=need.part,
                    height_mm=need.height_mm,
                )
            remedy = say("Split or tilt the part, or record a taller printer.")
            raise LedgerError(cause, place=say("plan"), remedy=remedy)


def _fits(need: PrintNeed, printer: Printer) -> bool:
    return (
        printer.height_mm is None or need.height_mm is None or need.height_mm <= printer.height_mm
    )


def _steps(job: PrintNeed) -> int:
    return max(1, math.ceil(job.hours * QUARTERS))


def _one_after_another(
    jobs: Sequence[PrintNeed], printers: Sequence[Printer], starts: Sequence[tuple[int, int]]
) -> list[tuple[int, int]]:
    """A plan that surely works: the longest prints first, each where it is ready soonest."""
    free = [0] * len(printers)
    placed: dict[int, tuple[int, int]] = {}
    for index in sorted(range(len(jobs)), key=lambda i: -jobs[i].hours):
        fitting = [p for p, printer in enumerate(printers) if _fits(jobs[index], printer)]
        options = [(_next_start(free[p], starts), p) for p in fitting]
        start, printer = min(options)
        placed[index] = (printer, start)
        free[printer] = start + _steps(jobs[index])
    return [placed[index] for index in range(len(jobs))]


def _next_start(free: int, starts: Sequence[tuple[int, int]]) -> int:
    return next(max(free, first) for first, last in starts if last >= free)


def _solved(
    jobs: Sequence[PrintNeed],
    printers: Sequence[Printer],
    starts: Sequence[tuple[int, int]],
    rough: Sequence[tuple[int, int]],
    end: int,
) -> tuple[list[tuple[int, int]], bool]:
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    allowed = cp_model.Domain.from_intervals([list(pair) for pair in starts])
    finish = model.new_int_var(0, end, "finish")
    on: dict[tuple[int, int], Any] = {}
    begin: list[Any] = []
    busy: list[list[Any]] = [[] for _ in printers]
    for index, job in enumerate(jobs):
        start = model.new_int_var_from_domain(allowed, f"start {index}")
        begin.append(start)
        model.add(start + _steps(job) <= finish)
        model.add_hint(start, rough[index][1])
        for number, printer in enumerate(printers):
            if not _fits(job, printer):
                continue
            chosen = model.new_bool_var(f"{index} on {number}")
            on[index, number] = chosen
            busy[number].append(
                model.new_optional_fixed_size_interval_var(
                    start, _steps(job), chosen, f"print {index} on {number}"
                )
            )
            model.add_hint(chosen, rough[index][0] == number)
        model.add_exactly_one(on[index, p] for p in range(len(printers)) if (index, p) in on)
    for intervals in busy:
        model.add_no_overlap(intervals)
    for index in range(1, len(jobs)):
        if jobs[index] == jobs[index - 1]:
            model.add(begin[index - 1] <= begin[index])  # prints that are alike keep their order
    model.minimize(finish)
    solver = cp_model.CpSolver()
    # Counted in work done rather than seconds, with one worker: the same plan every time.
    solver.parameters.max_deterministic_time = 10.0
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    status = solver.solve(model)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return list(rough), False
    placed = [
        (next(p for p in range(len(printers)) if (i, p) in on and solver.value(on[i, p])),
         solver.value(begin[i]))
        for i in range(len(jobs))
    ]  # fmt: skip
    return placed, status == cp_model.OPTIMAL


def plan_batch(
    ledger: Ledger,
    batch: str,
    first_day: date | None = None,
    *,
    opens: int = 8,
    closes: int = 18,
    free_weekends: bool = False,
) -> Plan:
    """A plan for what a batch still lacks, with spare prints for the rejects to be expected."""
    record = ledger.one(Batch, batch)
    begins = first_day or record.started
    if begins is None:
        raise LedgerError(
            say("has no first day"),
            place=say("batch {batch}", batch=batch),
            remedy=say("Give one, or correct the day its work starts."),
        )
    prints, rejects = part_prints(ledger, record.design)
    serials = {each.code for each in ledger.every(Instrument, {"batch": batch})}
    good = {"design": record.design, "outcome": PartState.GOOD}
    made = [part.name for part in ledger.every(Part, good) if part.instrument in serials]
    needs = []
    for one in prints:
        lacking = record.quantity - made.count(one.part)
        spare = Decimal(max(0, lacking)) / (1 - rejects.rate)
        count = int(spare.to_integral_value(rounding=ROUND_CEILING))
        needs.append(PrintNeed(one.part, count, one.hours, one.height_mm))
    printers = [
        Printer(each.code, each.height_mm)
        for each in ledger.every(kinds.Printer)
        if not each.out_of_order
    ]
    return plan_prints(
        needs, printers, begins, opens=opens, closes=closes, free_weekends=free_weekends
    )
