"""What dimensions are called on the page: their owner by its name, the measure in words."""

from __future__ import annotations

from borewright.model import Dimension
from borewright.words import Message, say

#: Measures of :class:`borewright.model.Dimension`, by their key.
MEASURES = {
    "length": say("length"),
    "bore_station": say("bore station"),
    "bore_diameter": say("bore diameter"),
    "bore_length": say("bore length"),
    "station": say("station"),
    "diameter": say("diameter"),
    "chimney": say("chimney"),
    "into_bore": say("into bore"),
    "lift": say("lift"),
    "undercut_diameter": say("undercut diameter"),
    "undercut_depth": say("undercut depth"),
}


def dimension_words(dimension: Dimension) -> Message:
    """Such as "L3 diameter", or "body bore diameter 3" for a point of a bore."""
    owner, measure = dimension.hole or dimension.part, MEASURES[dimension.measure]
    if dimension.index < 0:
        return say("{owner} {measure}", owner=owner, measure=measure)
    number = dimension.index + 1
    return say("{owner} {measure} {number}", owner=owner, measure=measure, number=number)
