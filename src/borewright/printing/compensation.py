"""Sizes redrawn so that this printer's errors bring them back to what was designed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from borewright.model import Instrument, Part, ToneHole
from borewright.model.base import Entity
from borewright.printing.calibration import Calibration
from borewright.printing.coupon_features import FeatureKind
from borewright.printing.heights import Heights
from borewright.printing.hole_shape import hole_shape
from borewright.printing.lines import KindCalibration
from borewright.printing.standing import Down
from borewright.solids import PostPlan
from borewright.words import Message, Said, say


class Compensated(Entity):
    """One size: designed and drawn (mm), and the scatter that will remain (mm, one sigma).

    ``sure_mm`` is half the 95 % interval of the error that was taken off. ``beyond`` is true
    where the size lies outside those measured.
    """

    part: str
    feature: Said
    kind: Said
    designed_mm: float
    drawn_mm: float
    scatter_mm: float
    sure_mm: float
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
    lot: str = ""


@dataclass(frozen=True)
class CompensatedInstrument:
    """What is to be exported, and what was done to it.

    ``lifts_mm`` says by how much (mm) the hollow of a tone hole is drawn longer along the body
    than across it (negative: longer across), for a crown comes down and walls are laid wide.
    """

    instrument: Instrument
    posts: list[PostPlan]
    report: CompensationReport
    lifts_mm: dict[str, float] = field(default_factory=dict)


def compensated(
    instrument: Instrument,
    calibration: Calibration,
    posts: Sequence[PostPlan] = (),
    downs: Mapping[str, Down] | None = None,
) -> CompensatedInstrument:
    """Instrument and posts redrawn by a calibration; kinds it refused stay as designed.

    Bores and sockets follow the line for bores, bodies and tenons that for outsides, posts'
    pilots their own. ``downs`` tells by a part's name which end is on the bed: then stations and
    lengths are redrawn too, and side holes get the width and the height that come out round;
    without it they are drawn round, by the mean of their two diameters' lines. Bearings and tube
    heights are left alone. Parts are taken to stand upright.
    """
    work = _Work(calibration, downs or {})
    parts = [work.part(part) for part in instrument.parts]
    made = instrument.model_copy(update={"parts": parts})
    new_posts = [work.post(post) for post in posts]
    report = CompensationReport(
        printer=calibration.printer,
        material=calibration.material,
        lot=calibration.lot,
        sizes=work.sizes,
        refused=calibration.refused,
    )
    return CompensatedInstrument(made, new_posts, report, work.lifts)


class _Work:
    """Redraws sizes and keeps the list of what was done."""

    def __init__(self, calibration: Calibration, downs: Mapping[str, Down]) -> None:
        self.calibration, self._downs = calibration, downs
        self.sizes: list[Compensated] = []
        self.lifts: dict[str, float] = {}
        self._heights: dict[str, Heights] = {}

    def part(self, part: Part) -> Part:
        bore, outside = (self.calibration.of(k) for k in (FeatureKind.BORE, FeatureKind.OUTSIDE))
        along, down = self.calibration.of(FeatureKind.LENGTH), self._downs.get(part.name)
        moved = part
        if along and down:
            heights = self._heights[part.name] = Heights(part, down, along)
            moved = part.model_copy(update=heights.part_changes())
            self._lengths(part, moved, heights, along)
        changes: dict[str, object] = {
            "bore": [
                (new, self._one(part, say("bore at {station_mm:g}", station_mm=at), size, bore))
                for (at, size), (new, _) in zip(part.bore, moved.bore, strict=True)
            ],
            "outside": [
                (
                    new,
                    self._one(part, say("outside at {station_mm:g}", station_mm=at), size, outside),
                )
                for (at, size), (new, _) in zip(part.outside, moved.outside, strict=True)
            ],
            "holes": [self._hole(part, hole) for hole in part.holes],
        }
        for end, socket_words, tenon_words in (
            ("top", say("top socket"), say("top tenon")),
            ("bottom", say("bottom socket"), say("bottom tenon")),
        ):
            socket, tenon = getattr(moved, f"socket_{end}"), getattr(moved, f"tenon_{end}")
            if socket:
                size = self._one(part, socket_words, socket.diameter_mm, bore)
                changes[f"socket_{end}"] = socket.model_copy(update={"diameter_mm": size})
            if tenon:
                size = self._one(part, tenon_words, tenon.diameter_mm, outside)
                changes[f"tenon_{end}"] = tenon.model_copy(update={"diameter_mm": size})
        return moved.model_copy(update=changes)

    def post(self, post: PostPlan) -> PostPlan:
        if heights := self._heights.get(post.part):
            post = replace(post, station_mm=heights.station(post.station_mm))
        line = self.calibration.of(FeatureKind.PILOT)
        if line is None or not post.hole_mm:
            return post
        words = say("post {post}", post=post.name)
        return replace(post, hole_mm=self._drawn(post.part, words, post.hole_mm, line))

    def _lengths(self, part: Part, moved: Part, heights: Heights, along: KindCalibration) -> None:
        bottom = part.length_mm
        found = [(say("length"), part.length_mm, moved.length_mm, (0.0, bottom))]
        for old, new, words, ends in (
            (part.tenon_top, moved.tenon_top, say("top tenon's length"), (0.0, -1)),
            (part.tenon_bottom, moved.tenon_bottom, say("bottom tenon's length"), (bottom, 1)),
        ):
            if old and new:
                tip = ends[0] + ends[1] * old.length_mm
                found.append((words, old.length_mm, new.length_mm, (ends[0], tip)))
        for hollow, new_hollow, words, shoulder in (
            (part.socket_top, moved.socket_top, say("top socket's depth"), 0.0),
            (part.socket_bottom, moved.socket_bottom, say("bottom socket's depth"), bottom),
        ):
            if hollow and new_hollow:
                found.append((words, hollow.depth_mm, new_hollow.depth_mm, (shoulder, shoulder)))
        for words, designed, drawn, between in found:
            from_bed = heights.from_bed(*between)
            sure = along.sure_mm(designed) if from_bed else along.slope_sure * designed
            self._add(part.name, words, along.kind.words, designed, drawn, along, sure)

    def _hole(self, part: Part, hole: ToneHole) -> ToneHole:
        changes: dict[str, object] = {}
        heights = self._heights.get(part.name)
        along = self.calibration.of(FeatureKind.LENGTH)
        station = heights.station(hole.station_mm) if heights else hole.station_mm
        shape = hole_shape(self.calibration, hole.diameter_mm, round_only=heights is None)
        if shape:
            words = say("hole {hole}", hole=hole.name)
            size, (wide, high) = hole.diameter_mm, shape.sides_mm
            self._add(part.name, words, say("side hole"), size, wide, shape.across,
                      shape.across.sure_mm(size))  # fmt: skip
            if shape.lift_mm:
                words = say("hole {hole}, along the body", hole=hole.name)
                self._add(part.name, words, say("side hole"), size, high, shape.upright,
                          shape.upright.sure_mm(size))  # fmt: skip
                self.lifts[hole.name] = shape.lift_mm
            changes["diameter_mm"] = shape.diameter_mm
            if hole.undercut:
                mouth = round(hole.undercut.diameter_mm + shape.diameter_mm - size, 4)
                changes["undercut"] = hole.undercut.model_copy(update={"diameter_mm": mouth})
            if heights:
                station = round(station + heights.up * shape.rise_mm, 4)
        if heights and along:
            words = say("station of hole {hole}", hole=hole.name)
            sure = along.slope_sure * hole.station_mm
            self._add(part.name, words, along.kind.words, hole.station_mm, station, along, sure)
        return hole.model_copy(update={**changes, "station_mm": station})

    def _one(self, part: Part, words: Message, size: float, line: KindCalibration | None) -> float:
        return size if line is None else self._drawn(part.name, words, size, line)

    def _drawn(self, part: str, words: Message, size: float, line: KindCalibration) -> float:
        drawn = round(line.drawn_mm(size), 4)
        self._add(part, words, line.kind.words, size, drawn, line, line.sure_mm(size))
        return drawn

    def _add(
        self,
        part: str,
        words: Message,
        kind: Message,
        designed: float,
        drawn: float,
        line: KindCalibration,
        sure: float,
    ) -> None:
        self.sizes.append(
            Compensated(
                part=part,
                feature=words,
                kind=kind,
                designed_mm=designed,
                drawn_mm=drawn,
                scatter_mm=line.scatter_mm,
                sure_mm=sure,
                beyond=not line.least_mm - 0.5 <= designed <= line.most_mm + 0.5,
            )
        )
