"""What a maker holds in a fit, as candidates to be freed: lower end, bell, barrel, bores, holes."""

from __future__ import annotations

from typing import NamedTuple

from borewright.errors import FitError
from borewright.fit.freedom import freedoms
from borewright.fit.search import Problem
from borewright.model import Instrument, KeyworkSurvey
from borewright.model.bores.features import roles
from borewright.model.fit_wishes import FREE_OF_HOLES
from borewright.words import Said, say


class Candidate(NamedTuple):
    """One thing to try: the problem with a limit relaxed, or with something held freed."""

    words: Said
    change: Said
    problem: Problem
    is_held: bool


def held_candidates(
    instrument: Instrument, survey: KeyworkSurvey | None, problem: Problem
) -> list[Candidate]:
    """What is held now, each as the same problem with it freed as well."""
    found = []
    # What is free already keeps its limits, a reamer's among them.
    kept = {(each.dimension, each.measure): each for each in problem.freedoms}
    for words, change, wishes in _groups(instrument):
        free = [*instrument.fit.free, *wishes]
        wider = instrument.fit.model_copy(update={"free": free})
        try:
            freed = freedoms(instrument.model_copy(update={"fit": wider}), survey)
        except FitError:
            continue  # it has nothing of the kind, or no room: nothing to offer
        if len(freed) > len(problem.freedoms):
            freed = [kept.get((each.dimension, each.measure), each) for each in freed]
            found.append(Candidate(words, change, problem._replace(freedoms=freed), True))
    return found


def _groups(instrument: Instrument) -> list[tuple[Said, Said, list[str]]]:
    """Words of the thing, of freeing it, and the wishes that do."""
    role = roles(instrument)
    parts = [part.name for part in instrument.parts]
    groups: list[tuple[Said, Said, list[str]]] = []
    lower = parts[role.joints[-1]]
    lower_wishes = [f"{lower}.{word}" for word in ("flare_start", "flare_law", "lower_end")]
    groups.append(
        (
            say("the lower end of {part}", part=lower),
            say("Freeing the lower end of {part} (where the flare starts, how full and how wide "
                "it is)", part=lower),
            lower_wishes,
        )
    )  # fmt: skip
    bell_wishes = []
    for number in role.bells:
        bell = parts[number]
        wishes = [f"{bell}.{word}" for word in ("length", "bore_diameter", "flare_law")]
        bell_wishes += wishes
        groups.append(
            (
                say("{part}", part=bell),
                say("Freeing {part} (its length, throat, rim and flare)", part=bell),
                wishes,
            )
        )
    if bell_wishes:
        groups.append(
            (
                say("the lower end and the bell"),
                say("Freeing the lower end and the bell"),
                lower_wishes + bell_wishes,
            )
        )
    for number in role.barrels:
        barrel = parts[number]
        groups.append(
            (
                say("{part}", part=barrel),
                say("Freeing {part} (its length and both ends)", part=barrel),
                [f"{barrel}.length", f"{barrel}.bore_diameter"],
            )
        )
    for number in role.joints:
        joint = parts[number]
        groups.append(
            (
                say("the bore of {part}", part=joint),
                say("Freeing the bore of {part} (its cylinders, tapers and steps)", part=joint),
                [f"{joint}.bore_diameter", f"{joint}.bore_station"],
            )
        )
    # Neighbours meet at a joint, so a part alone can follow only as far as the next one lets it.
    groups.append(
        (
            say("all bores together"),
            say("Freeing the bores of all parts together (and the bell's length)"),
            [
                *(f"{part}.{word}" for part in parts for word in ("bore_diameter", "bore_station")),
                *bell_wishes,
            ],
        )
    )
    groups += [
        (say("{measure} of the holes", measure=words), change, [f"hole.{measure}"])
        for measure, words, change in (
            ("diameter", say("diameters"), say("Freeing the holes' diameters")),
            ("chimney", say("chimneys"), say("Freeing the holes' chimneys")),
            ("undercut", say("undercuts"), say("Freeing the holes' undercuts")),
        )
        if measure in FREE_OF_HOLES
    ]
    return groups
