"""Members of a family that span a range, and are otherwise as alike as can be."""

from __future__ import annotations

import math

from borewright.errors import FitError
from borewright.model.bores.families import Chosen, FamilyTable, Member
from borewright.words import Said, say

SPANS = ("pitch", "twelfths")
#: How much a cent of the figure that does not span counts against a cent of missing the range.
_ASIDE = 0.1


def choose(
    table: FamilyTable, low_cents: float, high_cents: float, by: str = "pitch", count: int = 3
) -> FamilyTable:
    """Choose members that span a range evenly, from its low to its high end.

    Of members that hit a place, the one is taken that leaves the rest alone: twelfths and
    evenness where pitch spans the range, pitch where twelfths do.

    Parameters
    ----------
    table
        From :func:`map_family`.
    low_cents, high_cents
        The range, against the part in place.
    by
        ``pitch`` or ``twelfths``.
    count
        How many, two at least.

    Raises
    ------
    FitError
        For a range that is none, another word for ``by``, and a family that is too small.
    """
    if by not in SPANS:
        raise FitError(
            say("'{by}' spans nothing", by=by), place="by", remedy=say("Write pitch or twelfths.")
        )
    if not (math.isfinite(low_cents) and math.isfinite(high_cents) and low_cents < high_cents):
        raise FitError(
            say(
                "{low_cents:g} to {high_cents:g} cents is no range",
                low_cents=low_cents,
                high_cents=high_cents,
            ),
            place=("low", "high"),
            remedy=say("Give the flatter or narrower end first, such as -10 and 10."),
        )
    if count < 2 or len(table.members) < count:
        raise FitError(
            say(
                "{count} cannot be chosen from {members}",
                count=count,
                members=len(table.members),
            ),
            place=say("family"),
            remedy=say("Choose two or more, from a family with as many members at least."),
        )
    wanted = [low_cents + (high_cents - low_cents) * n / (count - 1) for n in range(count)]
    left = list(range(len(table.members)))
    chosen = []
    for place in wanted:
        best = min(left, key=lambda number: _cost(table.members[number], place, by))
        left.remove(best)
        chosen.append(
            Chosen(
                member=best,
                wanted_cents=place,
                misses_by_cents=_figure(table.members[best], by) - place,
            )
        )
    figures = [_figure(each, by) for each in table.members]
    reach = (min(figures), max(figures))
    return table.model_copy(
        update={
            "by": by,
            "low_cents": low_cents,
            "high_cents": high_cents,
            "reach_cents": reach,
            "chosen": chosen,
            "notices": _notices(low_cents, high_cents, reach, by),
        }
    )


def _figure(member: Member, by: str) -> float:
    return member.pitch_cents if by == "pitch" else member.twelfths_cents


def _cost(member: Member, place: float, by: str) -> float:
    aside = member.twelfths_cents if by == "pitch" else member.pitch_cents
    return math.sqrt(
        (_figure(member, by) - place) ** 2
        + (_ASIDE * aside) ** 2
        + (_ASIDE * member.unevenness_cents) ** 2
    )


def _notices(low: float, high: float, reach: tuple[float, float], by: str) -> list[Said]:
    if low >= reach[0] - 1 and high <= reach[1] + 1:
        return []
    return [
        say(
            "The range {low:+g} to {high:+g} cents is wider than this family reaches: {by} from "
            "{least:+.1f} to {most:+.1f}. Give other lengths or diameters.",
            low=low,
            high=high,
            by=say("pitch") if by == "pitch" else say("twelfths"),
            least=reach[0],
            most=reach[1],
        )
    ]
