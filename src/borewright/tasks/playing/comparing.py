"""Comparisons and campaigns from a table of notes, and blind lists for the next one."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from borewright.errors import PlayingError
from borewright.model import write_text
from borewright.model.results.campaign import CampaignResult, Comparison
from borewright.tasks.outputs import check_folder
from borewright.words import say

if TYPE_CHECKING:
    from borewright.playing import Record


def compare_file(
    notes: Path | None, first: str, second: str, by: str, matters: float
) -> Comparison:
    """Compare two things whose takes are in one table."""
    from borewright.playing import compare

    return compare(_read(notes), first, second, by=by, matters_cents=matters)


def separate_file(notes: Path | None, certainty: float) -> tuple[CampaignResult, int]:
    """Instrument, player, day and repeat told apart, and takes advised for a certainty."""
    from borewright.playing import separate, takes_needed

    result = separate(_read(notes))
    return result, takes_needed(result.scatter, certainty, result.notes)


def _read(notes: Path | None) -> list[Record]:
    from borewright.playing import read_records

    if notes is None:
        raise PlayingError(
            say("no notes are given"),
            place="compare",
            remedy=say("Name the table that borewright takes wrote, or ask for --blind PAIRS."),
        )
    return read_records(notes)


def write_blind_lists(
    first: str, second: str, pairs: int, seed: int, folder: Path | None
) -> dict[str, Any]:
    """Write the player's sheet and the helper's key; the answer holds no secret."""
    from borewright.playing import blind_order

    if not (first and second and folder):
        raise PlayingError(
            say("a blind list needs two names and a folder"),
            place="--blind",
            remedy=say("Give --first, --second and --output."),
        )
    check_folder(folder)
    takes = blind_order(first, second, pairs, seed)
    sheet, key = folder / "blind-list.csv", folder / "blind-key.csv"
    lines = [f"{take.take},{take.pair},\n" for take in takes]
    write_text(sheet, "".join(["take,pair,recording\n", *lines]))
    lines = [f'{take.take},{take.pair},"{take.thing}"\n' for take in takes]
    write_text(key, "".join(["take,pair,hand over\n", *lines]))
    return {"pairs": pairs, "takes": len(takes), "sheet": str(sheet), "key": str(key)}
