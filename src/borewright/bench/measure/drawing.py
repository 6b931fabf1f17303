"""The drawing beside the form: what every number of a key means."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from borewright.bench.widgets.drawn import Drawn
from borewright.bench.words import _
from borewright.keywork.numbers import Number

#: A key of nobody's, for what is not measured yet (mm, degrees).
SKETCH = {
    Number.LENGTH: 26.0,
    Number.TUBE: 3.2,
    Number.ROD: 2.0,
    Number.STATION: 6.0,
    Number.ARM: 17.0,
    Number.HEIGHT: -6.0,
    Number.CUP: 10.5,
    Number.PAD: 9.5,
    Number.LIFT: 2.5,
    Number.TOUCH_ALONG: 20.0,
    Number.TOUCH_ASIDE: -15.0,
    Number.TOUCH_OVER: 5.0,
    Number.SPRING: 0.7,
    Number.SPRING_LENGTH: 20.0,
    Number.SPRING_BENT: 2.5,
}


class KeyDrawing(Drawn, component="key_drawing.js"):
    """Three sights of a key to scale, every number with its line."""

    def __init__(self, numbers: Sequence[Number]) -> None:
        super().__init__()
        self.props.update(
            numbers=[{"name": each.value, "label": _.tell(each.words)} for each in numbers],
            values={},
            ring=None,
            chosen="",
            words={
                "pad": _("Looking on the cup's back, the tube across"),
                "end": _("Looking along the tube from its first end"),
                "side": _("Looking at the tube from the side"),
            },
        )

    def show(self, values: Mapping[Number, float], ring: Sequence[float] | None = None) -> None:
        """Draw other numbers; ``ring`` is where a ring's middle lies along and aside."""
        self.give(
            values={number.value: value for number, value in values.items()},
            ring=None if ring is None else list(ring),
        )

    def choose(self, number: Number) -> None:
        """Let a number stand out."""
        self.give(chosen=number.value)
