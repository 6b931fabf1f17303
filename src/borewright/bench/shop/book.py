"""The folder's ledger, opened once a page; every reading and writing goes through its room."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from importlib.resources import as_file, files
from pathlib import Path
from typing import TYPE_CHECKING

from borewright.bench.folder import Kind
from borewright.bench.page import Page
from borewright.bench.rights import Right, require
from borewright.bench.words import _
from borewright.bench.workbench import Change, Workbench
from borewright.errors import BorewrightError, LedgerError
from borewright.tasks.ledger.opening import DEFAULT_PLACE
from borewright.words import say

if TYPE_CHECKING:
    from borewright.ledger import Ledger


#: The invented batch's tables in an order in which each finds what it names.
_FIRST = ("setting", "source", "quote", "sample", "measurement", "lever", "trial", "criterion")
_THEN = ("score", "lot", "printer", "expense", "order")
_LAST = ("batch", "instrument", "print_job", "part", "assembly", "labour", "check")
_DESIGN = "loan clarinet 3"


def ledger_path(bench: Workbench) -> Path | None:
    """The folder's ledger; where there are several, the usual name goes first."""
    names = [each.name for each in bench.files(Kind.LEDGER)]
    if not names:
        return None
    return bench.folder.path(DEFAULT_PLACE if DEFAULT_PLACE in names else names[0])


@cache
def _opened(path: Path) -> Ledger:
    from borewright.ledger import Ledger

    return Ledger(path)


def forget() -> None:
    """Open ledgers anew when they are asked for next: another file stands in their place."""
    _opened.cache_clear()


def opened(bench: Workbench) -> Ledger:
    """The folder's ledger; LedgerError where there is none or it cannot be used."""
    path = ledger_path(bench)
    if path is None:
        raise LedgerError(
            say("there is no ledger in this folder"),
            place=bench.folder.root.name,
            remedy=say("Start one on this page."),
        )
    return _opened(path)


def start(bench: Workbench) -> None:
    """Start an empty ledger in the folder."""
    from borewright.ledger import Ledger

    Ledger(bench.folder.path(DEFAULT_PLACE), create=True).engine.dispose()
    _opened.cache_clear()
    bench.look()


def start_example(bench: Workbench) -> None:
    """Start a ledger that holds the invented batch of twelve."""
    from borewright.ledger import import_csv
    from borewright.tasks.ledger.designs import values_with_file

    start(bench)
    book = opened(bench)
    who = _("example")
    with as_file(files("borewright") / "examples") as examples:
        tables = examples / "batch-of-twelve"

        def load(*kinds: str) -> None:
            for kind in kinds:
                file = tables / f"{kind}.csv"
                import_csv(book, kind, file.read_text(encoding="utf-8"), who=who, place=file.name)

        load(*_FIRST, *_THEN)
        design = examples / "loan-clarinet" / "clarinet.toml"
        values = values_with_file(book, "design", {"code": _DESIGN}, design)
        book.add("design", values, who=who)
        load(*_LAST)


def worker(page: Page) -> str:
    """Who writes on this page; LedgerError where nobody said."""
    who = page.selected.get("who", "").strip()
    if not who:
        raise LedgerError(
            say("it is not known who writes this"),
            place=say("Who works here"),
            remedy=say("Write your name into that field first."),
        )
    return who


def write(page: Page, act: Callable[[Ledger, str], object]) -> bool:
    """Write into the ledger as the page's worker; errors are shown, other pages are told."""
    saved = page.save(lambda: act(opened(page.workbench), worker(page)))
    if saved:
        page.workbench.tell(Change("ledger", page))
    return saved


def attempt(page: Page, act: Callable[[Ledger, str], object]) -> BorewrightError | None:
    """As :func:`write`, but what is wrong is handed back, to be shown where it belongs."""
    try:
        require(Right.WORK)
        act(opened(page.workbench), worker(page))
    except BorewrightError as error:
        return error
    page.clear_message()
    page.workbench.tell(Change("ledger", page))
    return None


def stamp(bench: Workbench) -> list[tuple[int, int]]:
    """What tells that somebody wrote into the ledger; SQLite writes beside the file first."""
    path = ledger_path(bench)
    if path is None:
        return []
    found = [path, path.with_name(f"{path.name}-wal")]
    return [(s.st_mtime_ns, s.st_size) for s in (p.stat() for p in found if p.exists())]
