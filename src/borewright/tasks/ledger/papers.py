"""The workshop's papers printed from the ledger, in the language of whoever gets them."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING

from borewright.errors import LedgerError
from borewright.tasks.ledger.batch_papers import PlanHours
from borewright.words import ENGLISH, LANGUAGES, Reader, joined, say

if TYPE_CHECKING:
    from borewright.documents import Letterhead, Paper, ReportFiles
    from borewright.ledger import Ledger
    from borewright.model import SensitivityMap


class PaperKind(StrEnum):
    """What can be printed, and of what."""

    TRAVELLER = "traveller"
    CERTIFICATE = "certificate"
    CARE = "care"
    QUOTATION = "quotation"
    KEYWORK_ORDER = "keywork-order"
    BATCH = "batch"
    PLAN = "plan"
    SET_UP = "set-up"


#: Papers that a customer gets.
FOR_CUSTOMERS = (PaperKind.CERTIFICATE, PaperKind.CARE, PaperKind.QUOTATION)


@dataclass(frozen=True)
class PaperWishes:
    """What a paper needs besides its record.

    ``design`` and ``sensitivity`` are the set-up card's, ``quantity`` and ``tolerance_mm`` the
    keywork order's, ``hours`` the plan's.
    """

    design: str | None = None
    quantity: int | None = None
    tolerance_mm: float = 0.1
    sensitivity: SensitivityMap | None = None
    hours: PlanHours = field(default_factory=PlanHours)


def write_ledger_paper(
    book: Ledger,
    kind: PaperKind,
    code: str,
    output: Path,
    *,
    who: str,
    words: Reader = ENGLISH,
    wishes: PaperWishes | None = None,
) -> ReportFiles:
    """Write a paper as PDF and HTML into a folder; a certificate is put on record.

    Parameters
    ----------
    book, kind, code
        The ledger, which paper, and of which record.
    output
        The folder.
    who
        Who issues it.
    words
        The reader here: papers are in their language unless the order of the customer, or the
        setting ``language``, names another.
    wishes
        What some papers need besides.

    Raises
    ------
    LedgerError
        Where something is missing, or no certificate may be issued; then nothing is written.
    """
    from borewright.documents import write_paper

    head, reader = letterhead(book), Reader(paper_language(book, kind, code, words.language))
    return write_paper(output, _paper(book, kind, code, who, wishes or PaperWishes()), head, reader)


def _paper(book: Ledger, kind: PaperKind, code: str, who: str, wishes: PaperWishes) -> Paper:
    from borewright.tasks.ledger import batch_papers, buying_papers, instrument_papers

    match kind:
        case PaperKind.TRAVELLER:
            return instrument_papers.traveller(book, code)
        case PaperKind.CERTIFICATE:
            return instrument_papers.certificate(book, code, who)
        case PaperKind.CARE:
            return instrument_papers.care_sheet(book, code)
        case PaperKind.QUOTATION:
            return buying_papers.quotation(book, code)
        case PaperKind.BATCH:
            return batch_papers.batch_report(book, code)
        case PaperKind.PLAN:
            return batch_papers.batch_plan(book, code, wishes.hours)
        case PaperKind.KEYWORK_ORDER:
            if wishes.quantity is None:
                place = say("keywork order")
                raise LedgerError(
                    say("the number of sets is missing"),
                    place=place,
                    remedy=say("Give it with --quantity."),
                )
            return buying_papers.keywork_order(
                book, code, wishes.quantity, wishes.tolerance_mm, wishes.design
            )
        case PaperKind.SET_UP:
            if wishes.design is None:
                raise LedgerError(
                    say("the design is missing"),
                    place=say("set-up card"),
                    remedy=say("Name a design of the ledger with --design."),
                )
            return buying_papers.set_up_card(book, code, wishes.design, wishes.sensitivity)


def paper_language(book: Ledger, kind: PaperKind, code: str, otherwise: str) -> str:
    """The language a paper is printed in: the customer's, the owner's setting, the reader's."""
    from borewright.ledger import order_of
    from borewright.ledger.kinds.making import Instrument
    from borewright.ledger.kinds.selling import Order, Setting

    if kind in FOR_CUSTOMERS:
        if kind is PaperKind.QUOTATION:
            order: Order | None = book.one(Order, code)
        else:
            order = order_of(book, book.one(Instrument, code))
        if order is not None and order.language is not None:
            return order.language.value
    for setting in book.every(Setting, {"code": "language"}):
        tag = setting.value.split("-")[0].lower()
        if tag not in LANGUAGES:
            raise LedgerError(
                say("there are no papers in the language '{tag}'", tag=setting.value),
                place=("setting", "language"),
                remedy=say("Choose among {languages}.", languages=joined(LANGUAGES, ", ")),
            )
        return tag
    return otherwise


def letterhead(book: Ledger) -> Letterhead:
    """The owner's letterhead, from the settings."""
    from borewright.documents import Letterhead
    from borewright.ledger import names_of
    from borewright.ledger.kinds.selling import Setting

    known = {setting.code: setting.value for setting in book.every(Setting)}
    mark = ""
    if "mark" in known:
        try:
            mark = book.kept_file(known["mark"])[1].decode("utf-8")
        except UnicodeDecodeError as error:
            raise LedgerError(
                say("is not an SVG text"),
                place=("setting", "mark"),
                remedy=say("Keep an SVG file."),
            ) from error
    return Letterhead(
        owner=known.get("owner", ""),
        address=tuple(names_of(known.get("address"))),
        mark_svg=mark,
        paper=known.get("paper", "A4"),
    )
