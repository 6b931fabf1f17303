"""Charts of character, differences and bore curves, from invented tables."""

from __future__ import annotations

import xml.etree.ElementTree as ElementTree
from pathlib import Path

import pytest

from borewright.documents import (
    character_chart,
    differences_chart,
    note_chart,
    perturbation_chart,
    radiation_chart,
)
from borewright.errors import DocumentsError
from borewright.model import (
    BandFraction,
    BorePerturbation,
    BoreStation,
    CharacterTable,
    Differences,
    ImpedancePeak,
    LatticeCutoff,
    NoteCharacter,
    NoteDifference,
    Use,
)


def note(written: str, register: str, cutoff: float | None, kind: str = "row") -> NoteCharacter:
    return NoteCharacter(
        written=written,
        register=register,
        fingering=written,
        use=Use.STANDARD,
        target_hz=200.0,
        sounding_hz=201.0,
        cents=8.6,
        peaks=[
            ImpedancePeak(
                number=1, frequency_hz=201.0, height=31.6, height_db=30.0, width_hz=7.0,
                quality=28.7,
            ),
            ImpedancePeak(
                number=2, frequency_hz=600.0, height=20.0, height_db=26.0, width_hz=18.0,
                quality=33.0, harmonic=3, harmonic_cents=-8.6,
            ),
        ],
        sounding_peak=1,
        alignment_cents=-8.6,
        lattice=LatticeCutoff(
            cutoff_hz=cutoff, formula_hz=1500.0, kind=kind, first_hole="T", open_holes=4
        ),
        radiated_at_pitch=0.01,
        bell_share=0.2,
        bands=[
            BandFraction(centre_hz=500.0, radiated=0.07),
            BandFraction(centre_hz=1000.0, radiated=0.83),
        ],
        venting=None,
        words=["warm, round"],
        status="ok",
    )  # fmt: skip


def table(notes: list[NoteCharacter]) -> CharacterTable:
    return CharacterTable(
        instrument="An invented $clarinet_1",
        notes=notes,
        evenness=[],
        twelfths=[],
        measures=[],
        highest_hz=4000.0,
        balance_error=0.0,
        model_level="closed forms",
        climate="",
    )


NOTES = [
    note("G4", "throat", 1430.0),
    note("E3", "chalumeau", 1600.0, "bell"),
    note("F3", "chalumeau", None, "short row"),
    note("F#3", "chalumeau", 1420.0),
]


def text_of(path: Path) -> str:
    ElementTree.parse(path)
    return path.read_text(encoding="utf-8")


def test_the_character_chart_names_notes_in_order(tmp_path: Path) -> None:
    text = text_of(character_chart(table(NOTES), tmp_path / "c.svg"))
    places = [text.index(f"<!-- {name} -->") for name in ("E3", "F3", "F#3", "G4")]
    assert places == sorted(places)
    for words in ("chalumeau", "throat", "cut-off, Hz", "alignment, cents"):
        assert f"<!-- {words} -->" in text
    # A figure that no note has gets no panel.
    assert "vented 2nd" not in text


def test_the_radiation_chart_holds_the_shares(tmp_path: Path) -> None:
    text = text_of(radiation_chart(table(NOTES), tmp_path / "r.svg"))
    for words in ("7", "83", "500", "1000"):
        assert f"<!-- {words} -->" in text


@pytest.mark.parametrize("chart", [character_chart, radiation_chart])
def test_an_empty_table_says_so(tmp_path: Path, chart) -> None:
    assert "Nothing to show" in text_of(chart(table([]), tmp_path / "e.svg"))


def test_the_note_chart_marks_harmonics_and_distances(tmp_path: Path) -> None:
    hz = [100.0 * step for step in range(1, 11)]
    curve = [20.0 - step for step in range(10)]
    share = [0.05 * step for step in range(10)]
    path = note_chart(NOTES[0], hz, curve, share, share, tmp_path / "n.svg")
    text = text_of(path)
    for words in ("G4, throat", "1", "4", "−9", "lost to the walls"):
        assert f"<!-- {words} -->" in text


def test_the_differences_chart_has_a_panel_a_figure(tmp_path: Path) -> None:
    found = Differences(
        first="one",
        second="two",
        units={"pitch": "cents", "venting": "dB"},
        steps={"pitch": 5.0, "venting": 1.0},
        notes=[
            NoteDifference(
                fingering=name, register="chalumeau", use=Use.STANDARD,
                differences={"pitch": value}, size=1.0, words="",
            )
            for name, value in (("E3", 12.0), ("F3", -3.0))
        ],
        registers=[],
        twelfths=[],
        only_first=[],
        only_second=[],
        sentences=[],
        first_table=table([]),
        second_table=table([]),
    )  # fmt: skip
    text = text_of(differences_chart(found, tmp_path / "d.svg"))
    assert "<!-- pitch, cents -->" in text
    assert "venting" not in text
    nothing = found.model_copy(update={"notes": []})
    assert "No fingering in common" in text_of(differences_chart(nothing, tmp_path / "n.svg"))


def test_bore_curves_name_parts_and_fingerings(tmp_path: Path) -> None:
    curves = BorePerturbation(
        instrument="invented",
        fingerings=["E3", "B4"],
        registers=["chalumeau", "clarion"],
        stations=[
            BoreStation(part=part, station_mm=x, position_mm=x, diameter_mm=14.6, width_mm=width)
            for part, x, width in (("barrel", 0, 2.5), ("barrel", 5, 2.5), ("joint", 10, 5.0))
        ],
        widening_mm=0.05,
        step_mm=5.0,
        cents=[[-0.1, -0.05, 0.1], [0.1, -0.1, 0.1]],
        model_level="closed forms",
        climate="",
    )
    text = text_of(perturbation_chart(curves, tmp_path / "b.svg"))
    for words in ("barrel", "joint", "E3", "B4", "chalumeau, cents"):
        assert f"<!-- {words} -->" in text
    assert "0.05 mm wider" in text
    with pytest.raises(DocumentsError, match="not a picture format"):
        perturbation_chart(curves, tmp_path / "b.gif")
