"""Families of barrels and bells for the instrument of a file."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

from borewright.errors import ModelError
from borewright.model import FingeringTable, Instrument, load
from borewright.model.bores.families import FamilyTable
from borewright.tasks.inputs import fingerings_of
from borewright.tasks.outputs import check_folder
from borewright.words import ENGLISH, Reader, say


class Wishes(NamedTuple):
    """What was typed: sizes as lists with commas between, shapes, range."""

    kind: str
    sizes: tuple[str, str, str]
    shapes: str
    span: tuple[float, float]
    by: str
    how_many: int
    character: bool


def family_of_file(
    file: Path,
    wishes: Wishes,
    *,
    plot: Path | None = None,
    fingerings: Path | None = None,
    words: Reader = ENGLISH,
) -> tuple[FamilyTable, list[Path]]:
    """Map a family, choose from it, draw it; ``words`` reads the pictures.

    Raises
    ------
    ModelError, FitError
        For input that cannot be read, sizes that are none, and ranges that are none.
    """
    if plot is not None:
        check_folder(plot)
    instrument = load(file)
    table = fingerings_of(instrument, file, fingerings)
    lengths, tops, bottoms = (_sizes(text) for text in wishes.sizes)
    shapes = [shape.strip() for shape in wishes.shapes.split(",") if shape.strip()]
    from borewright.fit.families import barrel_family, bell_family, choose, map_family

    make = barrel_family if wishes.kind == "barrel" else bell_family
    family = make(instrument, lengths, tops, bottoms, shapes or None)
    found = choose(
        map_family(instrument, table, family), *wishes.span, by=wishes.by, count=wishes.how_many
    )
    if wishes.character:
        found = _with_character(found, instrument, table)
    pictures: list[Path] = []
    if plot is not None:
        from borewright.documents.family import family_chart

        pictures = [
            family_chart(found, plot / f"{wishes.kind}s.{s}", words=words) for s in ("svg", "png")
        ]
    return found, pictures


def _sizes(text: str) -> list[float] | None:
    if not text.strip():
        return None
    try:
        return [float(each) for each in text.split(",")]
    except ValueError as error:
        raise ModelError(
            say("'{text}' is not a list of sizes", text=text[:60]),
            place=(say("sizes"),),
            remedy=say("Write millimetres with commas between, such as 64,65,66.5."),
        ) from error


def _with_character(
    found: FamilyTable, instrument: Instrument, table: FingeringTable
) -> FamilyTable:
    from borewright.acoustics.character import character, differences
    from borewright.fit.families import Piece
    from borewright.fit.families.mapping import with_piece

    own = character(instrument, table)
    chosen = []
    for each in found.chosen:
        member = found.members[each.member]
        piece = Piece(
            member.shape, member.length_mm, member.top_mm, member.bottom_mm, tuple(member.bore)
        )
        other = with_piece(instrument, found.part, piece)
        compared = differences(own, character(other, table))
        chosen.append(
            each.model_copy(
                update={"character": compared.registers, "sentences": compared.sentences}
            )
        )
    return found.model_copy(update={"chosen": chosen})
