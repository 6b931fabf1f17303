"""Measured bores smoothed and put into instruments; bores laid over each other."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any, NamedTuple

from borewright.errors import ModelError
from borewright.model import Instrument, load, read_instrument, save_as
from borewright.model.bores import (
    BoreLine,
    MeasuredBore,
    OverlayTable,
    SmoothedBore,
    assembled_bore,
    overlay_table,
    with_bore,
)
from borewright.tasks.outputs import check_folder, check_target
from borewright.words import ENGLISH, Reader, say


class SmoothedParts(NamedTuple):
    """Smoothed parts, and the files written."""

    parts: list[SmoothedBore]
    output: Path | None
    pictures: list[Path]

    def as_dict(self) -> dict[str, Any]:
        """For JSON."""
        return {
            "parts": [part.model_dump(mode="json") for part in self.parts],
            "output": str(self.output) if self.output else None,
            "pictures": [str(path) for path in self.pictures],
        }


def read_smoothed(path: Path, part: str = "") -> list[SmoothedBore]:
    """Smoothed parts of a measured bore's file; ModelError where ``part`` is not in it."""
    from borewright.fit.bores import smooth_bore
    from borewright.model.files.bores import read_bore

    bore: MeasuredBore = read_bore(path)
    chosen = [each for each in bore.parts if part in ("", each.name)]
    if part and not chosen and len(bore.parts) == 1:
        chosen = [bore.parts[0].model_copy(update={"name": part})]
    if not chosen:
        raise ModelError(
            say("there is no part '{part}'", part=part),
            place=str(path),
            remedy=say(
                "Measured parts are: {parts}.", parts=", ".join(each.name for each in bore.parts)
            ),
        )
    return [smooth_bore(each) for each in chosen]


def put_into(instrument: Instrument, parts: Sequence[SmoothedBore]) -> Instrument:
    """The instrument with smoothed bores in the parts of the same names."""
    for each in parts:
        instrument = with_bore(instrument, each.name, each.line())
    return instrument


def measure_bore(
    readings: Path,
    *,
    part: str = "",
    into: Path | None,
    output: Path | None,
    plot: Path | None,
    words: Reader = ENGLISH,
) -> SmoothedParts:
    """Smooth the readings of a file; put the bore into an instrument where that is asked for.

    ``words`` reads the pictures.

    Raises
    ------
    ModelError
        For input that cannot be read or does not fit, and outputs that cannot be written.
    """
    if (into is None) != (output is None):
        raise ModelError(
            say("an instrument and a place to save it go together"),
            place=("--into", "--output"),
            remedy=say("Give both, or neither."),
        )
    if output is not None:
        check_target(output)
    if plot is not None:
        check_folder(plot)
    parts = read_smoothed(readings, part)
    if into is not None and output is not None:
        if output.exists():
            raise ModelError(
                say("is there already"),
                place=str(output),
                remedy=say("Name another file with --output."),
            )
        instrument, document = read_instrument(into)
        save_as(put_into(instrument, parts), output, document)
    pictures = []
    if plot is not None:
        from borewright.documents.bore_measured import smoothed_chart

        for each in parts:
            for suffix in ("svg", "png"):
                name = f"bore-{each.name.replace(' ', '-')}.{suffix}"
                pictures.append(smoothed_chart(each, plot / name, words=words))
    return SmoothedParts(parts, output, pictures)


def overlay_files(
    files: Sequence[Path],
    *,
    part: str = "",
    every_mm: float = 10.0,
    plot: Path | None = None,
    words: Reader = ENGLISH,
) -> tuple[OverlayTable, list[Path]]:
    """Deviations of bores from the first of them; measured ones are smoothed first.

    ``words`` reads the pictures.

    Raises
    ------
    ModelError
        For input that cannot be read, or bores that cannot be compared.
    """
    if plot is not None:
        check_folder(plot)
    lines = [_line(file, part) for file in files]
    table = overlay_table(lines, every_mm)
    pictures = []
    if plot is not None:
        from borewright.documents.bore_overlay import overlay_chart

        pictures = [
            overlay_chart(lines, table, plot / f"bores.{s}", words=words) for s in ("svg", "png")
        ]
    return table, pictures


def _line(file: Path, part: str) -> BoreLine:
    if file.suffix.lower() != ".csv":
        instrument = load(file)
        names = [each.name for each in instrument.parts]
        if part and part not in names:
            raise ModelError(
                say("there is no part '{part}'", part=part),
                place=str(file),
                remedy=say("Parts are: {parts}.", parts=", ".join(names)),
            )
        line = assembled_bore(instrument, part or None)
        return line.model_copy(update={"name": f"{file.parent.name}/{file.stem}"})
    smoothed = read_smoothed(file, part)
    if len(smoothed) > 1:
        raise ModelError(
            say("{count} parts were measured", count=len(smoothed)),
            place=str(file),
            remedy=say("Compare one of them, with --part."),
        )
    [one] = smoothed
    return BoreLine(
        name=f"{file.parent.name}/{file.stem}",
        points=one.line(),
        marks=[(each.station_mm, each.diameter_mm) for each in one.readings],
    )
