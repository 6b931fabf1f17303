"""Sizes redrawn so that this printer's errors bring them back to what was designed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from borewright.model import Instrument, Part
from borewright.model.base import Entity
from borewright.printing.calibration import Calibration, KindCalibration
from borewright.printing.coupon import FeatureKind
from borewright.solids import PostPlan
from borewright.words import Message, Said, say


class Compensated(Entity):
    """One size: designed and drawn (mm), and the scatter that will remain (mm, one sigma).

    ``beyond`` is true where the size lies outside those measured on the coupon.
    """

    part: str
    feature: Said
    kind: Said
    designed_mm: float
    drawn_mm: float
    scatter_mm: float
    beyond: bool

    @property
    def by_mm(self) -> float:
        """Drawn less designed (mm)."""
        return self.drawn_mm - self.designed_mm


class CompensationReport(Entity):
    """Every size that was redrawn, and the kinds that were left as they are, with the reason."""

    printer: str
    material: str
    sizes: list[Compensated]
    refused: dict[FeatureKind, Said]


@dataclass(frozen=True)
class CompensatedInstrument:
    """What is to be exported, and what was done to it."""

    instrument: Instrument
    posts: list[PostPlan]
    report: CompensationReport


def compensated(
    instrument: Instrument, calibration: Calibration, posts: Sequence[PostPlan] = ()
) -> CompensatedInstrument:
    """Instrument and posts redrawn by a calibration; kinds it refused stay as designed.

    Bores and sockets follow the line for bores, bodies and tenons that for outsides, side
    holes the mean of their two diameters' lines (a drawn hole is round), posts' pilots their
    own. Stations, bearings and tube heights are left alone. Parts are taken to stand upright.
    """
    work = _Work(calibration)
    parts = [work.part(part) for part in instrument.parts]
    made = instrument.model_copy(update={"parts": parts})
    new_posts = [work.post(post) for post in posts]
    report = CompensationReport(
        printer=calibration.printer,
        material=calibration.material,
        sizes=work.sizes,
        refused=calibration.refused,
    )
    return CompensatedInstrument(made, new_posts, report)


class _Work:
    """Redraws sizes and keeps the list of what was done."""

    def __init__(self, calibration: Calibration) -> None:
        self.calibration = calibration
        self.sizes: list[Compensated] = []

    def part(self, part: Part) -> Part:
        bore, outside = (self.calibration.of(k) for k in (FeatureKind.BORE, FeatureKind.OUTSIDE))
        changes: dict[str, object] = {
            "bore": [
                (at, self._one(part, say("bore at {station_mm:g}", station_mm=at), size, bore))
                for at, size in part.bore
            ],
            "outside": [
                (
                    at,
                    self._one(part, say("outside at {station_mm:g}", station_mm=at), size, outside),
                )
                for at, size in part.outside
            ],
            "holes": [
                hole.model_copy(
                    update={"diameter_mm": self._hole(part, hole.name, hole.diameter_mm)}
                )
                for hole in part.holes
            ],
        }
        for end, socket_words, tenon_words in (
            ("top", say("top socket"), say("top tenon")),
            ("bottom", say("bottom socket"), say("bottom tenon")),
        ):
            socket, tenon = getattr(part, f"socket_{end}"), getattr(part, f"tenon_{end}")
            if socket:
                size = self._one(part, socket_words, socket.diameter_mm, bore)
                changes[f"socket_{end}"] = socket.model_copy(update={"diameter_mm": size})
            if tenon:
                size = self._one(part, tenon_words, tenon.diameter_mm, outside)
                changes[f"tenon_{end}"] = tenon.model_copy(update={"diameter_mm": size})
        return part.model_copy(update=changes)

    def post(self, post: PostPlan) -> PostPlan:
        line = self.calibration.of(FeatureKind.PILOT)
        if line is None or not post.hole_mm:
            return post
        drawn = self._drawn(post.part, say("post {post}", post=post.name), post.hole_mm, line)
        return replace(post, hole_mm=drawn)

    def _one(self, part: Part, words: Message, size: float, line: KindCalibration | None) -> float:
        return size if line is None else self._drawn(part.name, words, size, line)

    def _hole(self, part: Part, name: str, size: float) -> float:
        pair = [self.calibration.of(k) for k in (FeatureKind.HOLE_ACROSS, FeatureKind.HOLE_UPRIGHT)]
        across, upright = pair
        if across is None or upright is None:
            return size
        return self._drawn(part.name, say("hole {hole}", hole=name), size, _mean(across, upright))

    def _drawn(self, part: str, words: Message, size: float, line: KindCalibration) -> float:
        drawn = round(line.drawn_mm(size), 4)
        kind = say("side hole") if line.kind is FeatureKind.HOLE_ACROSS else line.kind.words
        self.sizes.append(
            Compensated(
                part=part,
                feature=words,
                kind=kind,
                designed_mm=size,
                drawn_mm=drawn,
                scatter_mm=line.scatter_mm,
                beyond=not line.least_mm - 0.5 <= size <= line.most_mm + 0.5,
            )
        )
        return drawn


def _mean(across: KindCalibration, upright: KindCalibration) -> KindCalibration:
    """The line of the mean diameter of both readings of a side hole."""
    offset = (across.error_mm(across.middle_mm) + upright.error_mm(across.middle_mm)) / 2
    return across.model_copy(
        update={
            "offset_mm": offset,
            "slope": (across.slope + upright.slope) / 2,
            # The mean of two independent readings scatters less than either.
            "scatter_mm": (across.scatter_mm**2 + upright.scatter_mm**2) ** 0.5 / 2,
            "least_mm": max(across.least_mm, upright.least_mm),
            "most_mm": min(across.most_mm, upright.most_mm),
        }
    )
