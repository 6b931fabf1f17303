"""An instrument between two instruments, feature by feature."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import Field, ValidationError

from borewright.errors import ModelError
from borewright.model.base import Entity, Finite
from borewright.model.bores.features import flare_start, roles, throat_end
from borewright.model.bores.morphing import Stretch, mix, morph
from borewright.model.files.validation import model_error
from borewright.model.hole import ToneHole
from borewright.model.instrument import Instrument
from borewright.model.part import Part, Socket, Tenon
from borewright.words import Joined, joined, say

FEATURES = ("barrel", "throat", "cylinder", "flare_start", "flare", "bell", "holes")
_JOINTS = {
    "tenon_top": say("tenon at its top"),
    "tenon_bottom": say("tenon at its bottom"),
    "socket_top": say("socket at its top"),
    "socket_bottom": say("socket at its bottom"),
}
_Share = Annotated[Finite, Field(ge=0, le=1)]


class Fractions(Entity):
    """The second parent's share of each feature, from 0 (the first parent) to 1.

    ``throat`` is the taper at the top of the upper joint, its length and widening;
    ``cylinder`` the joints' diameters between throat and flare; ``flare_start`` the station
    where the last joint begins to widen; ``flare`` how much it widens below; ``holes`` tone
    holes with the body they stand in (lengths of joints, outsides, tenons, sockets).
    """

    barrel: _Share = 0.5
    throat: _Share = 0.5
    cylinder: _Share = 0.5
    flare_start: _Share = 0.5
    flare: _Share = 0.5
    bell: _Share = 0.5
    holes: _Share = 0.5

    @classmethod
    def all(cls, fraction: float, **others: float) -> Fractions:
        """One fraction for all features, save those named."""
        return cls(**{**dict.fromkeys(FEATURES, fraction), **others})


def blend_instruments(first: Instrument, second: Instrument, fractions: Fractions) -> Instrument:
    """The blend; at all fractions 0 or 1 it has the bore and the holes of that parent.

    Mouthpiece, reed, climate, pitch, wishes and marks stay those of the first.

    Raises
    ------
    ModelError
        Where the two are not built alike (parts, joints, holes), and where the blend would be
        no sound body.
    """
    ours, theirs = roles(first), roles(second)
    if ours != theirs:
        raise ModelError(
            say(
                "'{first}' and '{second}' are not made of the same parts: {first_parts} "
                "against {second_parts}",
                first=first.name,
                second=second.name,
                first_parts=_parts_words(first),
                second_parts=_parts_words(second),
            ),
            place="blend",
            remedy=say("Blend instruments that come apart in the same places."),
        )
    data: dict[str, Any] = first.model_dump()
    data["name"] = f"{first.name}, blended"
    data["serial"] = ""
    for number, (part, other) in enumerate(zip(first.parts, second.parts, strict=True)):
        if number in ours.barrels:
            size = fractions.barrel
        elif number in ours.bells:
            size = fractions.bell
        else:
            size = fractions.holes
        changed = data["parts"][number]
        length = mix(part.length_mm, other.length_mm, size)
        changed["length_mm"] = round(length, 4)
        changed["bore"] = _bore(part, other, number, ours.joints, fractions, size)
        changed["outside"] = _whole(part.outside, other.outside, size, length)
        _blend_joints(changed, part, other, fractions.holes)
        changed["holes"] = _holes(part, other, fractions.holes)
        if fractions.holes == 1:
            changed["thumb_rest"] = other.model_dump()["thumb_rest"]
    try:
        return Instrument.model_validate(data)
    except ValidationError as error:
        raise model_error(error, data["name"], data) from error


def _parts_words(instrument: Instrument) -> Joined:
    return joined(
        (
            say("{part} ({holes} holes)", part=part.name, holes=len(part.holes))
            for part in instrument.parts
        ),
        " + ",
    )


def _whole(
    first: list[tuple[float, float]],
    second: list[tuple[float, float]],
    fraction: float,
    length: float,
) -> list[tuple[float, float]]:
    ends = [(profile[0][0], profile[-1][0]) for profile in (first, second)]
    to = tuple(mix(ends[0][side], ends[1][side], fraction) for side in (0, 1))
    made = morph(first, second, [Stretch(ends[0], ends[1], (to[0], to[1]), fraction)])
    return _reaching(made, length)


def _reaching(profile: list[tuple[float, float]], length: float) -> list[tuple[float, float]]:
    """The profile with ends that rounding has not left a trifle short of the part's."""
    length = round(length, 4)
    (s0, d0), (s1, d1) = profile[0], profile[-1]
    if 0 < s0 < 1e-3:
        profile = [(0.0, d0), *profile[1:]]
    if 0 < length - s1 < 1e-3:
        profile = [*profile[:-1], (length, d1)]
    return profile


def _bore(
    part: Part,
    other: Part,
    number: int,
    joints: tuple[int, ...],
    fractions: Fractions,
    size: float,
) -> list[tuple[float, float]]:
    length = mix(part.length_mm, other.length_mm, size)
    if number not in joints:
        return _whole(part.bore, other.bore, size, length)
    marks = []
    for one in (part, other):
        top, bottom = one.bore[0][0], one.bore[-1][0]
        end = throat_end(one) if number == joints[0] else top
        start = flare_start(one) if number == joints[-1] else bottom
        if start < end:
            raise ModelError(
                say("'{name}' has no cylinder between throat and flare", name=one.name),
                place=(say("part '{name}'", name=one.name), "bore"),
                remedy=say("Blend such bores as a whole, by hand."),
            )
        marks.append((top, end, start, bottom))
    shares = (fractions.holes, fractions.throat, fractions.flare_start, fractions.holes)
    to = [
        mix(ours, theirs, share)
        for ours, theirs, share in zip(marks[0], marks[1], shares, strict=True)
    ]
    if number != joints[0]:
        to[1] = to[0]
    if number != joints[-1]:
        to[2] = to[3]
    if not to[0] <= to[1] <= to[2] <= to[3]:
        raise ModelError(
            say(
                "in '{part}' the flare would start at {flare_mm:.1f} mm, with the throat's end at "
                "{throat_mm:.1f} and the bore from {top_mm:.1f} to {bottom_mm:.1f}",
                part=part.name,
                flare_mm=to[2],
                throat_mm=to[1],
                top_mm=to[0],
                bottom_mm=to[3],
            ),
            place="blend",
            remedy=say("Choose fractions that lie closer together."),
        )
    spans = [
        Stretch(marks[0][i : i + 2], marks[1][i : i + 2], (to[i], to[i + 1]), share, anchored)  # type: ignore[arg-type]
        for i, share, anchored in (
            (0, fractions.throat, "bottom"),
            (1, fractions.cylinder, ""),
            (2, fractions.flare, "top"),
        )
    ]
    return _reaching(morph(part.bore, other.bore, spans), length)


def _blend_joints(changed: dict[str, Any], part: Part, other: Part, share: float) -> None:
    for field in _JOINTS:
        ours: Tenon | Socket | None = getattr(part, field)
        theirs: Tenon | Socket | None = getattr(other, field)
        if (ours is None) != (theirs is None):
            raise ModelError(
                say(
                    "only one of the two parts called '{part}' and '{other}' has a {joint}",
                    part=part.name,
                    other=other.name,
                    joint=_JOINTS[field],
                ),
                place="blend",
                remedy=say("Give both the same kind of joint."),
            )
        if ours is not None and theirs is not None:
            changed[field] = _numbers(ours.model_dump(), theirs.model_dump(), share)


def _numbers(ours: dict[str, Any], theirs: dict[str, Any], share: float) -> dict[str, Any]:
    """Two records of the same kind: numbers blended, the rest from the nearer parent."""
    nearer = theirs if share > 0.5 else ours
    return {
        key: round(mix(ours[key], theirs[key], share), 4)
        if isinstance(ours[key], float) and isinstance(theirs[key], float)
        else nearer[key]
        for key in ours
    }


def _holes(part: Part, other: Part, share: float) -> list[dict[str, Any]]:
    if share == 0:
        return [hole.model_dump() for hole in part.holes]
    theirs = {hole.name: hole for hole in other.holes}
    missing = sorted({hole.name for hole in part.holes} ^ set(theirs))
    if missing:
        raise ModelError(
            say(
                "only one of the two has the hole '{hole}' in '{part}'",
                hole=missing[0],
                part=part.name,
            ),
            place="blend",
            remedy=say("Keep the holes of the first with the fraction 0 for holes."),
        )
    return [_hole(hole, theirs[hole.name], share) for hole in part.holes]


def _hole(ours: ToneHole, theirs: ToneHole, share: float) -> dict[str, Any]:
    if ours.cover is not theirs.cover:
        raise ModelError(
            say(
                "'{hole}' is covered by a {first} in one and by a {second} in the other",
                hole=ours.name,
                first=ours.cover,
                second=theirs.cover,
            ),
            place=("blend", say("hole {hole}", hole=ours.name)),
            remedy=say("Keep the holes of the first with the fraction 0 for holes."),
        )
    made = _numbers(ours.model_dump(), theirs.model_dump(), share)
    if ours.pad and theirs.pad:
        made["pad"] = _numbers(ours.pad.model_dump(), theirs.pad.model_dump(), share)
    if (ours.undercut or theirs.undercut) and share != 1:
        made["undercut"] = _undercut(ours, theirs, share)
    return made


def _undercut(ours: ToneHole, theirs: ToneHole, share: float) -> dict[str, Any]:
    """A hole without undercut has one no wider than itself."""
    pairs = []
    for hole, other in ((ours, theirs), (theirs, ours)):
        whose = hole.undercut or other.undercut
        assert whose is not None  # one of the two has it
        wide = hole.undercut.diameter_mm if hole.undercut else hole.diameter_mm
        pairs.append({"diameter_mm": wide, "depth_mm": whose.depth_mm})
    return _numbers(pairs[0], pairs[1], share)
