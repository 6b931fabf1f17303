"""What a batch's study says, in sentences: the same on command line, page and paper."""

from __future__ import annotations

from typing import TYPE_CHECKING

from borewright.tasks.studies.money import counting_words
from borewright.words import Said, Text, joined, say, say_many

if TYPE_CHECKING:
    from borewright.model.results.yields import Share
    from borewright.tasks.studies.answers import WayAnswer, YieldAnswer


def percent_words(share: Share) -> Said:
    """A share with its interval."""
    return say(
        "{percent:.1f} % (95 % interval {low:.1f} to {high:.1f} %)",
        percent=100 * share.value,
        low=100 * share.low,
        high=100 * share.high,
    )


def headline(found: YieldAnswer) -> Said:
    """How many of the batch will do as they are."""
    result = found.result
    outlook = result.outlook
    return say_many(
        "Of {count} instrument, {mean:.1f} will do as it comes: every standard note within "
        "{within:g} cents {against}. That is {percent} of {builds} virtual ones.",
        "Of {count} instruments, {mean:.1f} will do as they come: every standard note within "
        "{within:g} cents {against}. That is {percent} of {builds} virtual ones.",
        outlook.instruments,
        mean=outlook.mean,
        within=result.within_cents,
        against=say("of the design") if result.against_design else say("of the pitch standard"),
        percent=percent_words(result.good),
        builds=result.good.of,
    )


def sentences(found: YieldAnswer) -> list[Said]:
    """The answer in sentences, most wanted first."""
    result = found.result
    outlook, off = result.outlook, result.good.of - result.good.count
    told = [
        headline(found),
        say(
            "Instruments of one batch share printer and lot, so batches differ: nine in ten have "
            "{low} to {high} that will do.",
            low=outlook.low,
            high=outlook.high,
        ),
    ]
    if result.design_off:
        told.append(
            say(
                "The design itself is outside at {notes}: no printer puts that right. Fit it "
                "first, or count from the design.",
                notes=" ".join(result.design_off),
            )
        )
    if off > result.beyond.count:
        told.append(
            say(
                "The others need {notes:.1f} notes each put right by hand.",
                notes=result.notes_off,
            )
        )
    if result.beyond.count:
        told.append(
            say(
                "{percent} have a note beyond {cents:g} cents, which is to be made anew.",
                percent=percent_words(result.beyond),
                cents=result.beyond_cents,
            )
        )
    if off and result.telling:
        told.append(
            say(
                "Which of them, a tuner tells: try {notes} first; they show {share:.0f} % of "
                "those that need work.",
                notes=" ".join(result.telling),
                share=100 * result.telling_share,
            )
        )
    if off and result.kinds:
        worst = result.kinds[0]
        told.append(
            say(
                "Most of it comes from {what} ({share:.0f} % of the variance); were they perfect, "
                "{percent:.1f} % would do.",
                what=worst.what,
                share=100 * worst.variance_share,
                percent=100 * worst.perfect.share.value,
            )
        )
    allotted = result.allotment
    if allotted is not None and not allotted.reached:
        told.append(
            say(
                "{wanted:g} % cannot be had by tolerances: without any scatter {percent:.1f} % "
                "would do.",
                wanted=100 * allotted.wanted,
                percent=100 * allotted.share.value,
            )
        )
    return [*told, *_ways(found)]


def _ways(found: YieldAnswer) -> list[Said]:
    told = [_verdict(found, way) for way in found.ways]
    wanted = found.wishes.wanted_percent
    if found.ways and wanted is not None:
        if found.cheapest is None:
            told.append(say("Nothing that is offered reaches {wanted:g} %.", wanted=wanted))
        elif not found.cheapest.offers:
            told.append(say("{wanted:g} % is reached as it is made now.", wanted=wanted))
        else:
            told.append(
                say(
                    "{wanted:g} % costs least with {ways}: {percent:.1f} %.",
                    wanted=wanted,
                    ways=found.cheapest.made.name,
                    percent=100 * found.cheapest.made.what_if.share.value,
                )
            )
    if found.best is not None and found.best.cost is not None and found.ways:
        if not found.best.offers:
            told.append(say("The batch costs least as it is made now."))
        else:
            told.append(
                say(
                    "The batch costs least with {ways}: {saved} less than now.",
                    ways=found.best.made.name,
                    saved=found.best.cost.saved.words,
                )
            )
    return told


def _verdict(found: YieldAnswer, way: WayAnswer) -> Said:
    """Whether one way is worth it."""
    gained, sure = 100 * way.made.what_if.gained, 100 * way.made.what_if.sure
    yields = say(
        "{name}: {percent:.1f} % will do, {gained:+.1f} % (± {sure:.1f}).",
        name=way.made.name,
        percent=100 * way.made.what_if.share.value,
        gained=gained,
        sure=sure,
    )
    if way.cost is None:
        return yields
    count = found.wishes.instruments
    if way.cost.saved.amount > 0:
        worth = say_many(
            "Worth it: it saves {saved} on {count} instrument.",
            "Worth it: it saves {saved} on {count} instruments.",
            count,
            saved=way.cost.saved.words,
        )
    else:
        lost = way.cost.saved * -1
        worth = say_many(
            "Not worth it: it costs {lost} more than it saves on {count} instrument.",
            "Not worth it: it costs {lost} more than it saves on {count} instruments.",
            count,
            lost=lost.words,
        )
    parts: list[Text] = [yields, worth]
    if way.cost.pays_from is not None and way.cost.saved.amount <= 0:
        parts.append(say("It pays from {count} instruments on.", count=way.cost.pays_from))
    return joined(parts)


def small_print(found: YieldAnswer) -> list[Said]:
    """How it was reckoned, and how exact it is."""
    result = found.result
    told: list[Said] = [*found.notes]
    exact: Said = say(
        "Computed by the engine in single precision: of {checked} builds solved anew in double, "
        "one has a note that the other lacks; look at what is kept.",
        checked=result.checked,
    )
    if result.precision_cents is not None:
        exact = say(
            "Computed by the engine in single precision, right to {precision:.3f} cent in "
            "{checked} builds solved anew in double.",
            precision=result.precision_cents,
            checked=result.checked,
        )
    told.append(exact)
    told.append(
        say(
            "By derivatives alone {percent:.1f} % would do, their cents {rms:.2f} off (root mean "
            "square).",
            percent=100 * result.first_order.value,
            rms=result.first_order_rms_cents,
        )
    )
    told.append(
        say(
            "What-ifs are the same builds moved along the derivatives; ranges of a batch are "
            "first order."
        )
    )
    checks = [w.made.checked_cents for w in found.ways if w.made.checked_cents is not None]
    if checks:
        told.append(
            say(
                "Solved anew in the other ways, builds lie {cents:.2f} cent from the moved ones "
                "(root mean square).",
                cents=max(checks),
            )
        )
    if found.prices is not None:
        told.append(counting_words(found.wishes.note_minutes))
    elif found.ways:
        told.append(say("Name a batch of the ledger, and it is said what is worth its money."))
    told.append(
        say(
            "Builds are played in the design's own air by its own player; {level}.",
            level=result.model_level,
        )
    )
    return told
