"""Joints drawn apart, as a person writes them: ``barrel=1.5``, several with a semicolon between."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from borewright.errors import RefusedValue
from borewright.model.instrument import Instrument
from borewright.words import Joined, joined, say


def read_pulled(texts: Iterable[str]) -> dict[str, float]:
    """Parts and how far (mm) each is drawn from the next below.

    Raises
    ------
    RefusedValue
        For something that is not such a pair.
    """
    gaps: dict[str, float] = {}
    for text in texts:
        for pair in filter(None, (each.strip() for each in text.split(";"))):
            name, _, number = pair.partition("=")
            try:
                by_mm = float(number.strip().replace(",", "."))
            except ValueError:
                by_mm = float("nan")
            if not name.strip() or not 0.0 <= by_mm < float("inf"):
                raise RefusedValue(
                    say("'{text}' does not say which joint is pulled by how much", text=pair[:60]),
                    say("Write the part and millimetres, such as barrel=1.5"),
                )
            gaps[name.strip()] = by_mm
    return gaps


def pulled_text(gaps: Mapping[str, float]) -> str:
    """The text that :func:`read_pulled` reads back."""
    return "; ".join(f"{part}={by_mm:g}" for part, by_mm in gaps.items())


def pulled_words(gaps: Mapping[str, float]) -> Joined:
    """Joints drawn apart, in words."""
    said = [say("{part} pulled {by_mm:g} mm", part=p, by_mm=by) for p, by in gaps.items() if by]
    return joined(said or [say("no joint pulled")], ", ")


def drawn_apart(instrument: Instrument, gaps: Mapping[str, float]) -> Instrument:
    """The instrument with its joints drawn apart so far (mm), and no others.

    Raises
    ------
    RefusedValue
        For a part that there is not, and a joint that cannot be drawn so far.
    """
    found = instrument.model_copy(update={"pulled": dict(gaps)})
    found.joint_gaps_mm()
    return found
