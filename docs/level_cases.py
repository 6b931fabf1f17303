"""The resonators of docs/levels.md: invented tubes, and the example clarinet's lower half."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from borewright.model import Instrument, Part, ToneHole

FROZEN = Path(__file__).parent / "level_clarinet.json"


@dataclass(frozen=True)
class Case:
    """One resonator with a fingering."""

    name: str
    instrument: Instrument
    open_holes: tuple[str, ...] = ()
    #: Of the reference's elements: many holes under pads want more.
    order: int = 3


def cases() -> list[Case]:
    """All cases, the plainest first."""
    pipe = _tube(300, [(0, 15), (300, 15)], 22)
    flare = _instrument(
        Part(
            name="tube",
            length_mm=300,
            bore=[(0, 15), (180, 15), (300, 30)],
            outside=[(0, 19), (180, 19), (300, 34)],
        )
    )
    row = [("h1", 290, 7), ("h2", 315, 8), ("h3", 340, 8), ("h4", 365, 9), ("h5", 395, 10)]
    five = _tube(450, [(0, 15), (450, 15)], 29, row)
    one = _tube(450, [(0, 15), (450, 15)], 29, row[2:3])
    lower = lower_half()
    return [
        Case("pipe", pipe),
        Case("flared end", flare),
        Case("one open hole", one, ("h3",)),
        Case("five open holes", five, ("h1", "h2", "h3", "h4", "h5")),
        Case("two closed, three open", five, ("h3", "h4", "h5")),
        Case("fork", five, ("h2", "h5")),
        Case("clarinet's bore, no holes", _bare(lower)),
        Case("clarinet, all closed", lower, (), order=4),
        Case("clarinet, one open", lower, ("EB",), order=4),
        Case("clarinet, three open", lower, ("R3", "FC", "EB"), order=4),
    ]


def lower_half() -> Instrument:
    """Lower joint and bell of the fitted example clarinet, closed at the joint's top.

    Frozen as it was fitted when its resonators were solved: a later fit may move its holes.
    """
    return Instrument.model_validate_json(FROZEN.read_text(encoding="utf-8"))


def _tube(
    length: float,
    bore: list[tuple[float, float]],
    outside: float,
    holes: list[tuple[str, float, float]] | None = None,
) -> Instrument:
    return _instrument(
        Part(
            name="tube",
            length_mm=length,
            bore=bore,
            outside=[(0, outside), (length, outside)],
            holes=[
                ToneHole(name=name, station_mm=station, diameter_mm=diameter)
                for name, station, diameter in holes or []
            ],
        )
    )


def _instrument(part: Part) -> Instrument:
    return Instrument(name="invented tube", invented=True, parts=[part], outside_interaction=True)


def _bare(instrument: Instrument) -> Instrument:
    """The same bore and outside without holes."""
    parts = [part.model_copy(update={"holes": []}) for part in instrument.parts]
    return instrument.model_copy(update={"parts": parts})
