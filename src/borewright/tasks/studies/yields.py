"""The yield of a batch from file to answer: scatters, builds, culprits, ways, money."""

from __future__ import annotations

import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING

from borewright.errors import ModelError
from borewright.model import SideHoles, load
from borewright.model.results.yields import WayYield
from borewright.tasks.inputs import fingerings_of
from borewright.tasks.ledger.opening import opened
from borewright.tasks.outputs import check_folder
from borewright.tasks.progress import Cancel, Progress, holes_told, tell
from borewright.tasks.studies.answers import WayAnswer, YieldAnswer, YieldWishes
from borewright.tasks.studies.money import Prices, prices_of, way_cost
from borewright.tasks.studies.offers import Offer, read_offers
from borewright.words import ENGLISH, Reader, say

if TYPE_CHECKING:
    from borewright.printing import Making
    from borewright.studies import Sample, Solving

MOST_WORKERS = 256
#: Ways a table may offer: all choices of four of them are gone through.
MOST_OFFERS = 10


def yield_file(
    file: Path,
    wishes: YieldWishes | None = None,
    *,
    fingerings: Path | None = None,
    ledger: str | None = None,
    batch: str | None = None,
    keep: Path | None = None,
    workers: int = 0,
    cluster: str | None = None,
    output: Path | None = None,
    side_holes: SideHoles | None = None,
    words: Reader = ENGLISH,
    progress: Progress | None = None,
    cancel: Cancel | None = None,
) -> YieldAnswer:
    """How many of a batch will do as they come off the printer, and what would make it more.

    Parameters
    ----------
    file, fingerings, side_holes
        The instrument; as for a prediction.
    wishes
        What is asked, and how it is made.
    ledger, batch
        Place of a ledger, and its batch that prices are taken from; without a batch nothing is
        said of money.
    keep
        A folder where all builds are kept, and from which a study that was cut short goes on;
        None keeps nothing.
    workers, cluster
        So many processes of this machine, or the address of a scheduler (extra ``cluster``);
        neither solves all builds here.
    output
        A folder for the paper and its charts.
    words
        Who reads them.
    progress, cancel
        Told after every chunk; asked there whether to stop.

    Raises
    ------
    ModelError, PrintingError, LedgerError, AcousticsError
        For input that cannot be used, before any build is solved.
    StudyError
        Where a folder holds another study, or workers cannot be had.
    """
    wishes = wishes or YieldWishes()
    _check(wishes, ledger, batch)
    if not 0 <= workers <= MOST_WORKERS:
        raise ModelError(
            say("{workers} workers cannot be", workers=workers),
            place=say("workers"),
            remedy=say("Write 0 to {most}.", most=MOST_WORKERS),
        )
    instrument = load(file)
    table = fingerings_of(instrument, file, fingerings)
    for folder in (keep, output):
        if folder is not None:
            check_folder(folder)
    offers = _offers(wishes)
    prices = None if ledger is None or batch is None else prices_of(opened(ledger), batch)
    from borewright.studies import Rule, run_study, study_of, yield_of

    making = making_now(wishes)
    rule = Rule(
        within_cents=wishes.within_cents,
        beyond_cents=wishes.beyond_cents,
        against_design=wishes.against_design,
        barrel_mm=wishes.barrel_mm,
    )
    tell(progress, cancel, None, say("side holes"))
    study = study_of(
        instrument,
        table,
        making.scatter,
        builds=wishes.builds,
        seed=wishes.seed,
        side_holes=side_holes,
        progress=holes_told(progress, cancel),
    )
    with _folder(keep) as folder:
        with _solving(workers, cluster) as solving:
            run_study(study, folder, solving=solving, told=_chunks_told(progress, cancel))
        tell(progress, cancel, 0.9, say("counting"))
        wanted = None if wishes.wanted_percent is None else wishes.wanted_percent / 100
        result, sample = yield_of(
            study, folder, rule, instruments=wishes.instruments, wanted=wanted
        )
    tell(progress, cancel, 0.95, say("other ways of making"))
    now, ways, cheapest, best = _judged(sample, offers, wishes, prices)
    found = YieldAnswer(
        instrument, wishes, result, now, ways, cheapest, best, prices, making, making.notes, keep
    )
    if output is None:
        return found
    from borewright.tasks.studies.papers import write_yield_papers

    return replace(found, files=write_yield_papers(found, output, words))


def making_now(wishes: YieldWishes) -> Making:
    """How the workshop makes it: printer, coupons, reamers. Raises PrintingError."""
    from borewright.printing import find_printer, making_of, reamed
    from borewright.tasks.printing.coupon import read_coupon

    printer = find_printer(wishes.printer)
    calibration = read_coupon(wishes.measured, printer.name) if wishes.measured else None
    making = making_of(printer, calibration)
    if wishes.reamed_bore_mm is not None:
        making = reamed(making, "bore_diameter", wishes.reamed_bore_mm, say("bores reamed"))
    if wishes.reamed_holes_mm is not None:
        making = reamed(making, "diameter", wishes.reamed_holes_mm, say("holes reamed"))
    return making


def _check(wishes: YieldWishes, ledger: str | None, batch: str | None) -> None:
    if (ledger is None) != (batch is None):
        raise ModelError(
            say("a ledger and a batch belong together"),
            place=say("money"),
            remedy=say("Name both, or neither."),
        )
    for place, value, low, high in (
        (say("instruments"), wishes.instruments, 1, 1000),
        (say("wanted yield"), wishes.wanted_percent or 50.0, 1, 99.9),
        (say("minutes for a note"), float(wishes.note_minutes), 0, 1000),
        (say("scatter of reamed bores"), wishes.reamed_bore_mm or 0.0, 0, 1),
        (say("scatter of reamed holes"), wishes.reamed_holes_mm or 0.0, 0, 1),
        (say("the other nozzle"), wishes.nozzle_mm or 0.4, 0.1, 1.2),
    ):
        if not low <= value <= high:
            raise ModelError(
                say("{value:g} cannot be", value=value),
                place=place,
                remedy=say("Write {low:g} to {high:g}.", low=low, high=high),
            )
    if wishes.nozzle_measured and wishes.nozzle_mm is None:
        raise ModelError(
            say("a coupon of another nozzle is given, but not the nozzle"),
            place=say("the other nozzle"),
            remedy=say("Say how wide it is, in mm."),
        )


def _offers(wishes: YieldWishes) -> list[Offer]:
    found = [] if wishes.offers is None else read_offers(wishes.offers)
    if wishes.nozzle_mm is not None:
        found.insert(0, _nozzle(wishes, wishes.nozzle_mm))
    if len(found) > MOST_OFFERS:
        raise ModelError(
            say("{count} offers are more than can be weighed together", count=len(found)),
            place=str(wishes.offers),
            remedy=say("Leave at most {most}.", most=MOST_OFFERS),
        )
    return found


def _nozzle(wishes: YieldWishes, nozzle_mm: float) -> Offer:
    """Another nozzle on the same printer, its layers thinner or thicker in proportion."""
    from borewright.printing import find_printer, making_of, time_factor
    from borewright.tasks.printing.coupon import read_coupon

    printer = find_printer(wishes.printer)
    layer_mm = printer.layer_mm * nozzle_mm / printer.nozzle_mm
    other = printer.model_copy(update={"nozzle_mm": nozzle_mm, "layer_mm": layer_mm})
    coupons = wishes.nozzle_measured
    made = making_of(other, read_coupon(coupons, printer.name) if coupons else None).scatter
    finished = {
        "bore_diameter": wishes.reamed_bore_mm is not None,
        "diameter": wishes.reamed_holes_mm is not None,
    }
    printed = ("diameter", "bore_diameter", "chimney", "undercut_diameter", "undercut_depth",
               "length", "station", "bore_station")  # fmt: skip
    return Offer(
        f"{nozzle_mm:g} mm nozzle",
        {kind: made.of(kind) for kind in printed if not finished.get(kind)},
        once=wishes.nozzle_price,
        print_time=Decimal(str(round(time_factor(printer, other), 4))),
    )


def _judged(
    sample: Sample, offers: list[Offer], wishes: YieldWishes, prices: Prices | None
) -> tuple[WayAnswer, list[WayAnswer], WayAnswer | None, WayAnswer | None]:
    """How it is made now, every offer alone, the cheapest that reaches the wish, and the best."""
    from borewright.studies import taken_together, way_yield

    now = way_yield(sample, [])

    def answer(made: WayYield, taken: list[Offer], against: WayYield) -> WayAnswer:
        if prices is None:
            return WayAnswer(made, taken)
        cost = way_cost(prices, wishes.instruments, wishes.note_minutes, made, against, taken)
        return WayAnswer(made, taken, cost)

    alone = [answer(way_yield(sample, [o.way], checked=True), [o], now) for o in offers]
    if not offers:
        return answer(now, [], now), [], None, None
    together = list(taken_together(sample, [offer.way for offer in offers]))
    nothing = together[0][1]
    all_ways = [answer(made, [offers[n] for n in taken], nothing) for taken, made in together]
    wanted = None if wishes.wanted_percent is None else wishes.wanted_percent / 100
    reaching = [w for w in all_ways if wanted and w.made.what_if.share.value >= wanted]

    def price(way: WayAnswer) -> Decimal:
        if way.cost is not None:
            return way.cost.way.amount
        return sum((o.once + wishes.instruments * o.each for o in way.offers), Decimal(0))

    def spent(way: WayAnswer) -> Decimal:
        return Decimal(0) if way.cost is None else -way.cost.saved.amount

    def anew(way: WayAnswer | None) -> WayAnswer | None:
        """The chosen one over all builds at hand, and checked."""
        if way is None:
            return None
        made = way_yield(sample, [o.way for o in way.offers], checked=True)
        return answer(made, way.offers, now)

    cheapest = anew(min(reaching, key=price, default=None))
    best = anew(min(all_ways, key=spent)) if prices is not None else None
    return answer(now, [], now), alone, cheapest, best


@contextmanager
def _folder(keep: Path | None) -> Iterator[Path]:
    if keep is not None:
        yield keep
        return
    with tempfile.TemporaryDirectory(prefix="borewright-") as folder:
        yield Path(folder)


@contextmanager
def _solving(workers: int, cluster: str | None) -> Iterator[Solving]:
    from borewright.studies import solved_here, spread_over

    if not workers and cluster is None:
        yield solved_here
        return
    with spread_over(workers, cluster) as solving:
        yield solving


def _chunks_told(progress: Progress | None, cancel: Cancel | None) -> Callable[[int, int], None]:
    def told(done: int, total: int) -> None:
        said = say("builds, chunk {done} of {total}", done=done, total=total)
        tell(progress, cancel, 0.9 * done / total, said)

    return told
