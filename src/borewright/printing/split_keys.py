"""Keys of a part that is printed in pieces: every element on the piece it stands on."""

from __future__ import annotations

from collections.abc import Sequence

from borewright.model import Instrument, KeySet
from borewright.model.keys import Cup, Element, Ring
from borewright.printing.splitting import Split


def split_keys(keys: KeySet, instrument: Instrument, splits: Sequence[Split]) -> KeySet:
    """The same keys in the same places, told by the pieces' own stations.

    A cup or ring goes with its hole's piece, all else with the piece below its first point; an
    element that reaches over a joint keeps both points, the second beyond its piece's end.

    Parameters
    ----------
    keys
        The set on the whole parts.
    instrument
        The instrument in pieces.
    splits
        What was cut, as :func:`split_to_fit` tells it.
    """
    owners = {hole.name: part.name for part, hole, _ in instrument.placed_holes()}
    return keys.model_copy(
        update={"elements": tuple(_moved(each, splits, owners) for each in keys.elements)}
    )


def _moved(element: Element, splits: Sequence[Split], owners: dict[str, str]) -> Element:
    cuts = [split for split in splits if split.part == element.part]
    if not cuts:
        return element
    starts = {cuts[0].upper: 0.0} | {split.lower: split.station_mm for split in cuts}
    if isinstance(element, Cup | Ring):
        piece = owners[element.hole]
    else:
        piece = [n for n, start in starts.items() if start <= max(element.first.station_mm, 0.0)][
            -1
        ]
    first, second = (
        point.model_copy(update={"station_mm": round(point.station_mm - starts[piece], 6)})
        for point in (element.first, element.second)
    )
    return element.model_copy(update={"part": piece, "first": first, "second": second})


def hinges_over_joints(keys: KeySet) -> list[str]:
    """Keys of a set in pieces whose posts stand on more than one of them, in the set's order."""
    return [
        key
        for key in keys.keys
        if len({post.part for post in keys.posts_of(keys.hinge(key).hinge)}) > 1
    ]
