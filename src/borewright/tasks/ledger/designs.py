"""Records that keep a file; a design's kept file read as an instrument again."""

from __future__ import annotations

import tempfile
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from borewright.errors import LedgerError
from borewright.tasks.ledger.key_surveys import kept_keys, kept_survey
from borewright.tasks.ledger.opening import read_file
from borewright.words import say

if TYPE_CHECKING:
    from borewright.ledger import KeySetUp, Ledger
    from borewright.model import Instrument, SensitivityMap
    from borewright.model.results.key_figures import KeyFigures

#: The field of each table that keeps a file; a setting's value may be one (the mark).
FILE_FIELDS = {
    "design": "file",
    "sample": "survey_file",
    "trial": "report_file",
    "setting": "value",
}


def values_with_file(
    book: Ledger, kind: str, values: Mapping[str, str], file: Path
) -> dict[str, str]:
    """Values of a record that keeps a file: the file's hash, and what is read from a design."""
    if kind not in FILE_FIELDS:
        raise LedgerError(
            say("a record of '{kind}' keeps no file", kind=kind),
            place=str(file),
            remedy=say("Leave the file out, or keep it with a design, sample or trial."),
        )
    content, read = read_file(file), {}
    if kind == "design":
        from borewright.model import load

        instrument = load(file)
        read = {
            "name": instrument.name,
            "file_name": file.name,
            "parts": "; ".join(part.name for part in instrument.parts),
            "sealed_parts": "; ".join(part.name for part in instrument.parts if part.holes),
        }
    return {**read, **values, FILE_FIELDS[kind]: book.keep_file(file.name, content)}


def instrument_of(book: Ledger, design: str) -> Instrument:
    """The instrument of a design, from exactly the file that was kept."""
    from borewright.ledger.kinds.making import Design
    from borewright.model import load

    _, content = book.kept_file(book.one(Design, design).file)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "design.toml"
        path.write_bytes(content)
        return load(path)


def key_figures_of(book: Ledger, sample: str, instrument: Instrument) -> list[KeyFigures]:
    """What the mechanism says of a sample's keys on a body; empty where no key survey is kept.

    Raises LedgerError where the survey kept with the sample does not fit the body.
    """
    from borewright.errors import BorewrightError
    from borewright.keywork import Body, Mechanism, key_figures

    keys = kept_keys(book, sample)
    if keys is None:
        return []
    try:
        keys.check_against(instrument)
    except BorewrightError as error:
        name = (kept_survey(book, sample) or ("", b""))[0]
        raise LedgerError(
            error.cause,
            place=(say("sample"), sample, name),
            remedy=error.remedy,
        ) from error
    return key_figures(Mechanism(keys, instrument), Body(instrument))


def surveyed_figures(book: Ledger, design: str, source: str | None = None) -> list[KeyFigures]:
    """Figures of the newest sample (of a source) whose key survey fits; empty without one."""
    from borewright.ledger.kinds.buying import Sample

    samples = book.every(Sample, {"source": source} if source else None)
    known = [each.code for each in samples if kept_survey(book, each.code)]
    if not known:
        return []
    instrument = instrument_of(book, design)
    for sample in reversed(known):
        try:
            return key_figures_of(book, sample, instrument)
        except LedgerError:
            continue  # a set for another body; its set-up card says so
    return []


def set_up_rows(
    book: Ledger, sample: str, design: str, sensitivity: SensitivityMap | None
) -> list[KeySetUp]:
    """The set-up sheet of a sample over the holes of a design."""
    from borewright.ledger import set_up_sheet

    instrument = instrument_of(book, design)
    diameters = {hole.name: hole.diameter_mm for _, hole, _ in instrument.placed_holes()}
    figures = key_figures_of(book, sample, instrument)
    return set_up_sheet(book, sample, diameters, sensitivity, figures)
