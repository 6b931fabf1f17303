"""Post holes made shallower where they would come too near the bore."""

from __future__ import annotations

from borewright.fit._body_limits import under_post_mm
from borewright.fit._post_walls import UNDER_POST_MM
from borewright.fit.clearance import EXACT_MM
from borewright.model import Instrument, KeyworkSurvey, SurveyRow
from borewright.model.results.seating import Seated
from borewright.words import say

#: A shank is cut shorter by a tenth of a millimetre at a time, and keeps this share of its thread:
#: less would tear out of a printed wall (from memory).
_CUT_MM = 0.1
_KEPT = 0.8


def with_shallow_posts(
    instrument: Instrument, survey: KeyworkSurvey
) -> tuple[Instrument, list[Seated]]:
    """The instrument with post holes as deep as the walls over its bore allow.

    One depth serves all posts, so that one drill stop and one length of shank do.
    """
    posts = survey.posts()
    drawn = instrument.body.post_depth_mm
    depth, tightest = drawn, None
    made = instrument
    while (thin := _thinnest(made, posts)) is not None and depth - _CUT_MM >= _KEPT * drawn:
        tightest = thin
        depth = round(depth - _CUT_MM, 2)
        body = instrument.body.model_copy(update={"post_depth_mm": depth})
        made = instrument.model_copy(update={"body": body})
    if tightest is None or thin is not None:  # nothing to mend, or not by this
        return instrument, []
    change = Seated(
        part=tightest.part,
        hole="",
        what=say("depth of all post holes"),
        before=say("{value_mm:.2f} mm", value_mm=drawn),
        after=say("{value_mm:.2f} mm", value_mm=depth),
        because=say("wall over the bore at post '{post}'", post=tightest.name),
    )
    return made, [change]


def _thinnest(instrument: Instrument, posts: list[SurveyRow]) -> SurveyRow | None:
    """The post with the least wall under it, where that is too little."""
    walls = [
        (under_post_mm(instrument.body, instrument.part(post.part), post), number)
        for number, post in enumerate(posts)
    ]
    wall, number = min(walls, default=(UNDER_POST_MM, 0))
    return posts[number] if wall < UNDER_POST_MM - EXACT_MM else None
