"""A key's numbers from what was clicked in a square-on photograph of it, or picked on a scan."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum

import numpy as np

from borewright.errors import KeyworkError
from borewright.keywork.numbers import Measured, Number
from borewright.keywork.photographs import Photograph, circle_of
from borewright.keywork.scans import ScannedKey
from borewright.words import Message, say


class Sight(StrEnum):
    """How a photograph looks at a key."""

    PAD = "pad"
    END = "end"

    @property
    def words(self) -> Message:
        """What a reader is told."""
        return _SIGHTS[self]


_SIGHTS = {
    Sight.PAD: say("square on the cup's back, the tube across the picture"),
    Sight.END: say("along the tube, from its end"),
}


class Target(StrEnum):
    """What is clicked."""

    SCALE = "scale"
    TUBE = "tube"
    RIM = "rim"
    FACE = "face"
    TOP = "top"
    TOUCH = "touch"
    FOOT = "foot"

    @property
    def words(self) -> Message:
        """What a reader is told."""
        return _TARGETS[self]


_TARGETS = {
    Target.SCALE: say("both ends of the scale"),
    Target.TUBE: say("the tube"),
    Target.RIM: say("the cup's rim, at three places or more"),
    Target.FACE: say("both edges of the pad's face"),
    Target.TOP: say("the cup's back"),
    Target.TOUCH: say("the touch's middle"),
    Target.FOOT: say("the foot's end"),
}
#: What a photograph of each sight is clicked for, in order; a tube's ends, or round its end.
TARGETS: dict[Sight, tuple[Target, ...]] = {
    Sight.PAD: (Target.SCALE, Target.TUBE, Target.RIM, Target.TOUCH, Target.FOOT),
    Sight.END: (Target.SCALE, Target.TUBE, Target.FACE, Target.TOP, Target.TOUCH, Target.FOOT),
}
Pixel = tuple[float, float]


@dataclass(frozen=True)
class Clicks:
    """A photograph, what was clicked in it (pixels), and how much nearer than the scale it is.

    ``nearer_mm`` of a target may be negative, where it lies behind the scale's plane.
    """

    sight: Sight
    photograph: Photograph
    points: Mapping[Target, Sequence[Pixel]]
    nearer_mm: Mapping[Target, float] = field(default_factory=dict)

    def places(self, target: Target) -> tuple[np.ndarray, float]:
        """Places (n, 2) in mm of what was clicked, and the uncertainty (mm) of the worst."""
        near, picked = self.nearer_mm.get(target, 0.0), self.points.get(target, ())
        places = [self.photograph.place_mm(pixel, near) for pixel in picked]
        doubts = [self.photograph.uncertainty_mm(pixel, near) for pixel in picked]
        return np.array(places).reshape(-1, 2), max(doubts, default=0.0)


def numbers_from_clicks(clicks: Clicks) -> dict[Number, Measured]:
    """What a photograph tells of a key, with standard uncertainties.

    Two points a length apart each bring their own uncertainty; the middle of n clicks round a rim
    has √(2/n) of one click's (evenly spaced, least squares).

    Raises
    ------
    KeyworkError
        Where the tube is not clicked as the sight asks, or three clicks of a rim lie in one line.
    """
    return _on_pad(clicks) if clicks.sight is Sight.PAD else _on_end(clicks)


def _on_pad(clicks: Clicks) -> dict[Number, Measured]:
    ends, end_off = clicks.places(Target.TUBE)
    if len(ends) != 2 or np.linalg.norm(ends[1] - ends[0]) < 1.0:
        raise KeyworkError(
            say("the tube needs two clicks, one at each end"),
            remedy=say("Click the first end, then the other one."),
        )
    length = float(np.linalg.norm(ends[1] - ends[0]))
    along = (ends[1] - ends[0]) / length
    aside = np.array([-along[1], along[0]])
    found = {Number.LENGTH: Measured(length, math.hypot(end_off, end_off))}
    rim, rim_off = clicks.places(Target.RIM)
    if len(rim):
        x, y, radius = circle_of(rim)
        middle = np.array([x, y]) - ends[0]
        if middle @ aside < 0:
            aside = -aside
        doubt = math.hypot(end_off, rim_off * math.sqrt(2 / len(rim)))
        found[Number.STATION] = Measured(float(middle @ along), doubt)
        found[Number.ARM] = Measured(float(middle @ aside), doubt)
        found[Number.CUP] = Measured(2 * radius, 2 * rim_off / math.sqrt(len(rim)))
    for target, numbers in (
        (Target.TOUCH, (Number.TOUCH_ALONG, Number.TOUCH_ASIDE)),
        (Target.FOOT, (Number.FOOT_ALONG, Number.FOOT_ASIDE)),
    ):
        places, off = clicks.places(target)
        if len(places):
            way, doubt = places.mean(axis=0) - ends[0], math.hypot(end_off, off)
            found[numbers[0]] = Measured(float(way @ along), doubt)
            found[numbers[1]] = Measured(float(way @ aside), doubt)
    return found


def _on_end(clicks: Clicks) -> dict[Number, Measured]:
    round_, tube_off = clicks.places(Target.TUBE)
    if len(round_) < 3:
        raise KeyworkError(
            say("the tube's end needs three clicks round it"),
            remedy=say("Click the end of the tube at three places of its outside, well apart."),
        )
    x, y, radius = circle_of(round_)
    hinge, hinge_off = np.array([x, y]), tube_off * math.sqrt(2 / len(round_))
    found = {Number.TUBE: Measured(2 * radius, 2 * tube_off / math.sqrt(len(round_)))}
    edges, face_off = clicks.places(Target.FACE)
    if len(edges) != 2:
        return found
    top, _ = clicks.places(Target.TOP)
    if len(top) != 1 or np.linalg.norm(edges[1] - edges[0]) < 1.0:
        raise KeyworkError(
            say("the pad's face needs both its edges and the cup's back clicked"),
            remedy=say("Click two edges of the pad's face, well apart, and the back of the cup."),
        )
    middle = edges.mean(axis=0)
    face = (edges[1] - edges[0]) / np.linalg.norm(edges[1] - edges[0])
    over = np.array([-face[1], face[0]])
    over = over if (top[0] - middle) @ over > 0 else -over
    aside = face if (middle - hinge) @ face > 0 else -face
    doubt = math.hypot(hinge_off, face_off)
    found[Number.ARM] = Measured(float((middle - hinge) @ aside), doubt)
    found[Number.HEIGHT] = Measured(float((hinge - middle) @ over), doubt)
    wide = float(np.linalg.norm(edges[1] - edges[0]))
    found[Number.PAD] = Measured(wide, math.hypot(face_off, face_off))
    for target, numbers in (
        (Target.TOUCH, (Number.TOUCH_ASIDE, Number.TOUCH_OVER)),
        (Target.FOOT, (Number.FOOT_ASIDE, Number.FOOT_OVER)),
    ):
        places, off = clicks.places(target)
        if len(places):
            way, doubt = places.mean(axis=0) - hinge, math.hypot(hinge_off, off)
            found[numbers[0]] = Measured(float(way @ aside), doubt)
            found[numbers[1]] = Measured(float(way @ over), doubt)
    return found


def numbers_from_scan(
    scanned: ScannedKey, picked: Mapping[Target, np.ndarray] | None = None
) -> dict[Number, Measured]:
    """What a scan tells of a key; ``picked`` are points (3,) of touch and foot on it.

    What was fitted is as uncertain as the fit leaves over, and no better than a hand scan's
    0.05 mm (from memory); what was picked by hand is right within some tenths.
    """
    tube, cup = max(scanned.tube_residual_mm, 0.05), max(scanned.cup_residual_mm, 0.05)
    both = math.hypot(tube, cup)
    found = {
        Number.LENGTH: Measured(scanned.length_mm, tube),
        Number.TUBE: Measured(scanned.tube_mm, tube),
        Number.STATION: Measured(scanned.station_mm, both),
        Number.ARM: Measured(scanned.m_mm, both),
        Number.HEIGHT: Measured(scanned.h_mm, both),
        Number.TILT: Measured(scanned.tilt_deg),
        Number.PAD: Measured(scanned.rim_mm, 0.3),
    }
    for target, numbers in (
        (Target.TOUCH, (Number.TOUCH_ALONG, Number.TOUCH_ASIDE, Number.TOUCH_OVER)),
        (Target.FOOT, (Number.FOOT_ALONG, Number.FOOT_ASIDE, Number.FOOT_OVER)),
    ):
        if picked and target in picked:
            place = scanned.place_mm(picked[target])
            for number, value in zip(numbers, place, strict=True):
                found[number] = Measured(float(value), 0.5)
    return found
