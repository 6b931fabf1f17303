"""Key-fit blanks: slices of a joint's outside with seats and posts only, to try keys on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from borewright.errors import PrintingError
from borewright.keywork import Mechanism
from borewright.model import Instrument, KeySet, Part, ToneHole
from borewright.model.keys import Cup, Link, Ring, points_of
from borewright.solids import PostPlan, plan_posts
from borewright.words import say

#: Body beyond the outermost seat or post (mm); wall of a blank, or a post's hole and a floor.
_BEYOND_MM, _WALL_MM, _FLOOR_MM = 6.0, 5.0, 1.5


@dataclass(frozen=True)
class Blank:
    """One slice: the keys that are tried on it, and where it was taken from (mm)."""

    name: str
    part: str
    keys: tuple[str, ...]
    start_mm: float
    end_mm: float


@dataclass(frozen=True)
class Blanks:
    """Slices as an instrument of their own, with the posts that stand on them."""

    instrument: Instrument
    posts: list[PostPlan]
    blanks: list[Blank]


def key_fit_blanks(instrument: Instrument, keys: KeySet, wanted: Sequence[str] = ()) -> Blanks:
    """Slices of the outside with seats, chimneys and posts; the bore is a plain wide tube.

    Parameters
    ----------
    instrument, keys
        The body and what shall fit it.
    wanted
        Keys to try; what they drive or are driven by, and what shares their rod, comes along.
        All of them unless given.

    Raises
    ------
    PrintingError
        Where there is no key of a name.
    """
    tried = _with_others(keys, wanted)
    mechanism = Mechanism(keys, instrument)
    spans: dict[str, list[tuple[float, float, set[str]]]] = {}
    for key in keys.keys:
        if key in tried:
            owner, start, end = _span(mechanism, key)
            spans.setdefault(owner, []).append((start, end, {key}))
    blanks: list[Blank] = []
    parts: list[Part] = []
    posts: list[PostPlan] = []
    every_post = plan_posts(instrument, points_of(keys))
    for part in instrument.parts:
        for start, end, names in _merged(spans.get(part.name, [])):
            low, high = max(start - _BEYOND_MM, 0.0), min(end + _BEYOND_MM, part.length_mm)
            name = f"blank {len(blanks) + 1}"
            ordered = tuple(key for key in keys.keys if key in names)
            blanks.append(Blank(name, part.name, ordered, low, high))
            parts.append(_slice(instrument, part, name, low, high))
            posts += [
                _moved(post, name, low)
                for post in every_post
                if post.part == part.name
                and low + post.base_across_mm / 2 < post.station_mm < high - post.base_across_mm / 2
            ]
    features = instrument.body.model_copy(
        update={"alignment_marks": False, "orientation_text": False}
    )
    sliced = instrument.model_copy(
        update={"parts": parts, "body": features, "keys": "", "serial": ""}
    )
    return Blanks(sliced, posts, blanks)


def _with_others(keys: KeySet, wanted: Sequence[str]) -> set[str]:
    unknown = [key for key in wanted if key not in keys.keys]
    if unknown:
        raise PrintingError(
            say("there is no key '{key}'", key=unknown[0][:40]),
            place=keys.source or say("key survey"),
            remedy=say("Keys are: {keys}.", keys=" ".join(keys.keys)),
        )
    found = set(wanted) or set(keys.keys)
    rods = {key: keys.hinge(key).hinge for key in keys.keys}
    while True:
        more = {link.to for link in keys.of(Link) if link.key in found}
        more |= {link.key for link in keys.of(Link) if link.to in found}
        more |= {key for key in keys.keys if rods[key] in {rods[each] for each in found}}
        if more <= found:
            return found
        found |= more


def _span(mechanism: Mechanism, key: str) -> tuple[str, float, float]:
    """Part and stations that a key's posts, seats and rings need."""
    keys = mechanism.keys
    hinge = keys.hinge(key)
    stations = []
    for post in keys.posts_of(hinge.hinge):
        stations += [post.first.station_mm - post.head_mm, post.first.station_mm + post.head_mm]
    for element in keys.of_key(key):
        if isinstance(element, Cup | Ring):
            half = element.outside_mm / 2
            stations += [element.first.station_mm - half, element.first.station_mm + half]
    return hinge.part, min(stations), max(stations)


def _merged(
    spans: list[tuple[float, float, set[str]]],
) -> list[tuple[float, float, set[str]]]:
    """Spans that overlap, or leave too little between them for two slices, as one."""
    merged: list[tuple[float, float, set[str]]] = []
    for start, end, names in sorted(spans, key=lambda span: span[0]):
        if merged and start - _BEYOND_MM < merged[-1][1] + _BEYOND_MM:
            first, last, before = merged[-1]
            merged[-1] = (first, max(last, end), before | names)
        else:
            merged.append((start, end, names))
    return merged


def _slice(instrument: Instrument, part: Part, name: str, low: float, high: float) -> Part:
    stations = [low, *(s for s, _ in part.outside if low < s < high), high]
    outside = [(s - low, part.outside_diameter_at(s, -1 if s == high else 1)) for s in stations]
    wall = max(_WALL_MM, instrument.body.post_depth_mm + _FLOOR_MM)
    chimney = instrument.fit.chimney_wall_mm
    holes = [
        _open(hole, low)
        for hole in part.holes
        if low + (reach := hole.seat_radius_mm(chimney)) < hole.station_mm < high - reach
    ]
    bore = min(diameter for _, diameter in outside) - 2 * wall
    return part.model_copy(
        update={
            "name": name,
            "length_mm": high - low,
            "bore": [(0.0, bore), (high - low, bore)],
            "outside": outside,
            "holes": holes,
            "tenon_top": None,
            "tenon_bottom": None,
            "socket_top": None,
            "socket_bottom": None,
            "thumb_rest": None,
        }
    )


def _open(hole: ToneHole, low: float) -> ToneHole:
    return hole.model_copy(
        update={"station_mm": hole.station_mm - low, "undercut": None, "into_bore_mm": 0.0}
    )


def _moved(post: PostPlan, name: str, low: float) -> PostPlan:
    return replace(post, part=name, station_mm=post.station_mm - low)
