"""Inner shapes of barrels and bells, and families made of them.

The shapes are those that makers and players speak of (common practice). All members of a family
have as many bore points, so that one compiled kernel hears them all.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from borewright.errors import FitError
from borewright.model import Instrument, Part
from borewright.model.bores.features import roles
from borewright.words import say

Point = tuple[float, float]

#: How much narrower or wider (mm) the middle of a waisted or bellied barrel is; from memory.
_MIDDLE_MM = 0.2
_PARTS = 8  # straight lines that make a bell
_MOST_MEMBERS = 2000


@dataclass(frozen=True)
class Piece:
    """One barrel or bell: its shape's name, sizes and bore (mm)."""

    shape: str
    length_mm: float
    top_mm: float
    bottom_mm: float
    bore: tuple[Point, ...]

    @property
    def name(self) -> str:
        """``65 mm, 14.95 to 14.85, taper``."""
        return f"{self.length_mm:g} mm, {self.top_mm:.2f} to {self.bottom_mm:.2f}, {self.shape}"


@dataclass(frozen=True)
class Family:
    """Pieces that fit into one place of an instrument; the first is the piece in place."""

    kind: str
    part: str
    pieces: tuple[Piece, ...]


def _straight(top: float, bottom: float) -> float:
    return (top + bottom) / 2


def _waist(top: float, bottom: float) -> float:
    return min(top, bottom) - _MIDDLE_MM


def _belly(top: float, bottom: float) -> float:
    return max(top, bottom) + _MIDDLE_MM


def _late(top: float, bottom: float) -> float:
    return top


def _early(top: float, bottom: float) -> float:
    return bottom


#: Diameter in the middle of a barrel from those at its ends.
BARREL_SHAPES: dict[str, Callable[[float, float], float]] = {
    "straight": _straight,
    "waist": _waist,
    "belly": _belly,
    "cylinder then taper": _late,
    "taper then cylinder": _early,
}

#: Growth of a bell from 0 at its top to 1 at its rim, against the share of its length.
BELL_SHAPES: dict[str, Callable[[float, float], float]] = {
    "cone": lambda share, ratio: share,
    "exponential": lambda share, ratio: (ratio**share - 1) / (ratio - 1),
    "late flare": lambda share, ratio: share**3,
    "very late flare": lambda share, ratio: share**4,
}


def _straight_name(top: float, bottom: float) -> str:
    if abs(top - bottom) < 5e-4:
        return "cylinder"
    return "taper" if top > bottom else "reverse taper"


def barrel_part(instrument: Instrument) -> Part:
    """The barrel: the part above the joints with holes. FitError where there is none."""
    found = roles(instrument).barrels
    if not found:
        raise FitError(
            say("'{instrument}' has no barrel", instrument=instrument.name),
            place=say("barrel"),
            remedy=say(
                "A barrel is a part above the first part with tone holes, without holes of its own."
            ),
        )
    return instrument.parts[found[-1]]


def bell_part(instrument: Instrument) -> Part:
    """The bell: the part below the joints with holes. FitError where there is none."""
    found = roles(instrument).bells
    if not found:
        raise FitError(
            say("'{instrument}' has no bell", instrument=instrument.name),
            place=say("bell"),
            remedy=say(
                "A bell is a part below the last part with tone holes, without holes of its own."
            ),
        )
    return instrument.parts[found[0]]


def barrel_family(
    instrument: Instrument,
    lengths_mm: Sequence[float] | None = None,
    tops_mm: Sequence[float] | None = None,
    bottoms_mm: Sequence[float] | None = None,
    shapes: Sequence[str] | None = None,
) -> Family:
    """Barrels of every length, top, bottom and shape given.

    Parameters
    ----------
    instrument
        The one in hand.
    lengths_mm
        Shoulder to shoulder; by default the barrel's own and up to 3 mm either way, every
        half millimetre.
    tops_mm, bottoms_mm
        Diameters at the two ends, as instrument files give them (they go on through the
        sockets); by default the barrel's own, and 0.2 mm wider and narrower.
    shapes
        Of ``BARREL_SHAPES``; all by default.

    Raises
    ------
    FitError
        For an instrument without barrel, an unknown shape, sizes that are impossible, and more
        than 2000 members.
    """
    part = barrel_part(instrument)
    top, bottom = part.bore_diameter_at(0.0), part.bore_diameter_at(part.length_mm, -1)
    sizes = _sizes(
        lengths_mm or [part.length_mm + step / 2 for step in range(-6, 7)],
        tops_mm or [top - 0.2, top, top + 0.2],
        bottoms_mm or [bottom - 0.2, bottom, bottom + 0.2],
    )
    made = [_own(part, 2)]
    for shape in _known(shapes, BARREL_SHAPES):
        for length, one, other in sizes:
            middle = BARREL_SHAPES[shape](one, other)
            if shape not in ("straight", "waist", "belly") and abs(one - other) < 5e-4:
                continue  # the cylinder again
            name = _straight_name(one, other) if shape == "straight" else shape
            bore = ((0.0, one), (length / 2, middle), (length, other))
            made.append(Piece(name, length, one, other, bore))
    return _family("barrel", part, made)


def bell_family(
    instrument: Instrument,
    lengths_mm: Sequence[float] | None = None,
    tops_mm: Sequence[float] | None = None,
    rims_mm: Sequence[float] | None = None,
    shapes: Sequence[str] | None = None,
) -> Family:
    """Bells of every length, top, rim and shape given; as :func:`barrel_family`.

    By default the bell's own length and up to 4 mm either way, its own top, rims up to 4 mm
    either way, all ``BELL_SHAPES`` and the bell's own shape stretched ("as it is").
    """
    part = bell_part(instrument)
    top, rim = part.bore_diameter_at(0.0), part.bore_diameter_at(part.length_mm, -1)
    sizes = _sizes(
        lengths_mm or [part.length_mm + step for step in (-4, -2, 0, 2, 4)],
        tops_mm or [top],
        rims_mm or [rim - 4, rim, rim + 4],
    )
    known: dict[str, Callable[[float, float], float]] = {"as it is": _growth(part), **BELL_SHAPES}
    made = [_own(part, _PARTS)]
    for shape in _known(shapes, known):
        for length, one, other in sizes:
            if other <= one:
                raise FitError(
                    say(
                        "a bell of {top_mm:g} mm at its top cannot have a rim of {rim_mm:g} mm",
                        top_mm=one,
                        rim_mm=other,
                    ),
                    place="rims",
                    remedy=say("Give rims wider than the top."),
                )
            shares = _shares(part)
            bore = tuple(
                (length * share, one + (other - one) * known[shape](share, other / one))
                for share in shares
            )
            made.append(Piece(shape, length, one, other, bore))
    return _family("bell", part, made)


def _shares(part: Part) -> list[float]:
    """Places of a bell's points: its own, and between them so that none are far apart."""
    own = sorted({min(max(station / part.length_mm, 0.0), 1.0) for station, _ in part.bore})
    even = [number / _PARTS for number in range(_PARTS + 1)]
    extra = [share for share in even if all(abs(share - each) > 0.04 for each in own)]
    return sorted([*own, *extra])


def _growth(part: Part) -> Callable[[float, float], float]:
    top, rim = part.bore_diameter_at(0.0), part.bore_diameter_at(part.length_mm, -1)

    def growth(share: float, ratio: float) -> float:
        if rim == top:
            return share
        return (part.bore_diameter_at(share * part.length_mm, -1) - top) / (rim - top)

    return growth


def _own(part: Part, pieces: int) -> Piece:
    top, bottom = part.bore_diameter_at(0.0), part.bore_diameter_at(part.length_mm, -1)
    shares = [0.0, 0.5, 1.0] if pieces == 2 else _shares(part)
    bore = tuple(
        (share * part.length_mm, part.bore_diameter_at(share * part.length_mm, -1 if share else 1))
        for share in shares
    )
    return Piece("as it is", part.length_mm, top, bottom, bore)


def _sizes(*lists: Sequence[float]) -> list[tuple[float, float, float]]:
    for values in lists:
        for value in values:
            if not (math.isfinite(value) and value > 0):
                raise FitError(
                    say("a size of {size_mm:g} mm is impossible", size_mm=value),
                    place=say("family"),
                    remedy=say("Give lengths and diameters in millimetres, such as 64,65,66."),
                )
    members = math.prod(len(values) for values in lists)
    if members > _MOST_MEMBERS:
        raise _too_many(members)
    return [(a, b, c) for a, b, c in itertools.product(*lists)]


def _too_many(count: int) -> FitError:
    return FitError(
        say("the family has {count} members", count=count),
        place=say("family"),
        remedy=say("Name fewer sizes; {most} members at most.", most=_MOST_MEMBERS),
    )


def _known(
    shapes: Sequence[str] | None, known: dict[str, Callable[[float, float], float]]
) -> list[str]:
    for shape in shapes or ():
        if shape not in known:
            raise FitError(
                say("the shape '{shape}' is unknown", shape=shape),
                place="shapes",
                remedy=say("Shapes are: {shapes}.", shapes=", ".join(known)),
            )
    return list(shapes or known)


def _family(kind: str, part: Part, pieces: list[Piece]) -> Family:
    if len(pieces) > _MOST_MEMBERS:
        raise _too_many(len(pieces))
    return Family(kind, part.name, tuple(pieces))
