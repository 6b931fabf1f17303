"""What the rooms really say, run on spoiled instruments and wrong input, comes out German."""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
import pytest

from borewright.acoustics.character import FIGURES
from borewright.acoustics.character.words import alignment_words, peak_words
from borewright.acoustics.status import AMBIGUOUS, FAINT, NOT_FOUND, NOT_SETTLED
from borewright.bench.words import _
from borewright.bench.words.rooms import said
from borewright.errors import LedgerError, ModelError, PlayingError
from borewright.fit import body_findings
from borewright.fit.freedom import freedoms
from borewright.fit.spacing import spacings
from borewright.ledger import RECORD_KINDS, Ledger, sign_off, waiting_for
from borewright.ledger.fields import Kind, read_value
from borewright.model import Instrument, KeyworkSurvey, dimensions, load, read_survey
from borewright.model.results.blowing import Speaking
from borewright.model.results.listening import HeardNote, SoundFile
from borewright.playing import Aim, compare
from borewright.playing.moves import moves, with_neutral_undercuts
from borewright.playing.readings import Item, reading
from borewright.playing.records import Record
from borewright.printing import (
    MATERIALS,
    PRINTERS,
    assembly_findings,
    hole_overhangs,
    joint_findings,
)
from borewright.printing.reaming import ReamingAllowance, reaming_sequence
from borewright.printing.standing import standings, support_advice
from borewright.tasks.examples import Example, copy_example
from borewright.tasks.sound.rendering import _notices

sys.path.insert(0, str(Path(__file__).parent))
from room_shown import english_left


@pytest.fixture(autouse=True)
def german():
    _.language = "de"
    yield
    _.language = "en"


def clarinet(tmp_path: Path) -> tuple[Instrument, KeyworkSurvey]:
    file = copy_example(Example.CLARINET, tmp_path)[0]
    return load(file), read_survey(file.with_name("keywork.csv"))


def spoiled(instrument: Instrument) -> Instrument:
    """Limits that hardly any hole keeps, turned holes, other covers and lifts."""
    data = instrument.model_dump()
    data["fit"] |= {
        "smallest_hole_mm": 4.6, "largest_finger_hole_mm": 6.0, "largest_vent_mm": 2.0,
        "wall_between_holes_mm": 9.0, "pad_overlap_mm": 2.6, "chimney_wall_mm": 2.2,
        "lowest_chimney_mm": 0.2, "highest_chimney_mm": 0.3,
    }  # fmt: skip
    holes = [hole for part in data["parts"] for hole in part["holes"]]
    for number, hole in enumerate(holes):
        hole["bearing_deg"] += -5.0 if hole["bearing_deg"] > 0 else 5.0
        hole["station_mm"] += (-1.5, 0.0, 1.5)[number % 3]
        if hole["pad"]:
            hole["pad"]["lift_mm"] = 1.0
            hole["pad"]["diameter_mm"] += 0.8
        elif number % 2:
            hole["cover"] = "finger" if hole["cover"] == "ring" else hole["cover"]
    return Instrument.model_validate(data)


def test_findings_of_a_spoiled_clarinet_are_german(tmp_path):
    instrument, survey = clarinet(tmp_path)
    names = [*instrument.hole_names(), *(part.name for part in instrument.parts)]
    rows = [row.name for row in survey.rows]
    findings = body_findings(spoiled(instrument), survey)
    assert len({finding.what.split(";")[0][-20:] for finding in findings}) > 20
    for finding in findings:
        for text in (finding.place, finding.what, finding.remedy):
            assert not english_left(text, *names, *rows)


WRONG = {
    "unknown key": ('name = "barrel"', 'name = "barrel"\nlenght_mm = 3'),
    "not a number": ("length_mm = ", "length_mm = 'long' #"),
    "negative": ("length_mm = ", "length_mm = -"),
    "inches": ("length_mm = ", "length_mm = 0.0"),
    "no toml": ("[[part]]", "[[part]"),
    "future format": ("format = ", "format = 9"),
    "no parts": ("[[part]]", "[[piece]]"),
    "a cover of another kind": ('cover = "ring"', 'cover = "lid"'),
    "backwards": ("bore = [[0", "bore = [[900"),
    "a key of no part": ("[instrument]", "[instrument]\nweight = 3"),
}


@pytest.mark.parametrize("kind", WRONG)
def test_errors_of_a_wrong_file_are_german(tmp_path, kind):
    instrument, _survey = clarinet(tmp_path)
    file = next(tmp_path.glob("*.toml"))
    before, after = WRONG[kind]
    text = file.read_text(encoding="utf-8")
    assert before in text
    file.write_text(text.replace(before, after), encoding="utf-8")
    with pytest.raises(ModelError) as caught:
        load(file)
    error = caught.value
    for part in (error.place, error.cause, error.remedy):
        assert not english_left(part, str(file), *(part.name for part in instrument.parts))


def test_what_a_serial_waits_for_is_german(tmp_path):
    ledger = Ledger(tmp_path / "ledger.db", create=True)
    kept = ledger.keep_file("x.toml", b"x")
    ledger.add(
        "design",
        {
            "code": "D1",
            "name": "x",
            "file": kept,
            "file_name": "x.toml",
            "parts": "Alpha; Beta",
            "sealed_parts": "Alpha",
        },
        who="Q",
    )
    ledger.add("instrument", {"code": "S1", "design": "D1"}, who="Q")
    needs = waiting_for(ledger)["S1"]
    assert len(needs) > 6
    for need in needs:
        assert not english_left(need, "Alpha", "Beta", "D1")
    with pytest.raises(LedgerError) as caught:
        sign_off(ledger, "S1", who="Q")
    assert not english_left(caught.value.cause, "Alpha", "Beta", "D1")
    assert not english_left(caught.value.remedy)


def test_limits_and_dimensions_are_german(tmp_path):
    """What holds a dimension, and how each is called in the fit's table."""
    instrument, survey = clarinet(tmp_path)
    names = [*instrument.hole_names(), *(part.name for part in instrument.parts)]
    names += [row.name for row in survey.rows]
    words = {dimension.label for dimension in dimensions(instrument)}
    words |= {side.words for each in freedoms(instrument, survey) for side in (each.low, each.high)}
    words |= {each.words for each in spacings(instrument, survey)}
    assert len(words) > 100
    assert {text: said(text) for text in words if english_left(text, *names)} == {}
    unchanged = {text for text in words if said(text) == text}
    assert not unchanged


def test_print_findings_and_advice_are_german(tmp_path):
    instrument, survey = clarinet(tmp_path)
    made = spoiled(instrument)
    names = [*instrument.hole_names(), *(part.name for part in instrument.parts)]
    printer = min(PRINTERS.values(), key=lambda each: each.build_mm[2])
    material = next(iter(MATERIALS.values()))
    material = material.model_copy(update={"least_wall_mm": 6.0, "least_tenon_wall_mm": 6.0})
    findings = assembly_findings(made, survey, material) + joint_findings(made)
    texts = [text for each in findings for text in (each.place, each.what, each.remedy)]
    for part in instrument.parts:
        texts += [
            text for each in hole_overhangs(part, printer) for text in (each.what, each.remedy)
        ]
        for standing in standings(instrument, part, printer):
            texts += [standing.reason, *support_advice(part, standing, printer)]
    texts += reaming_sequence(instrument, ReamingAllowance(bore_mm=0.4, hole_mm=0.2))
    assert len(texts) > 200
    assert {text: said(text) for text in texts if english_left(text, *names)} == {}
    assert {text for text in texts if len(text) > 40 and said(text) == text} == set()


@pytest.mark.parametrize("aim", list(Aim))
def test_corrections_are_german(tmp_path, aim):
    instrument, _survey = clarinet(tmp_path)
    names = [*instrument.hole_names(), *(part.name for part in instrument.parts)]
    found = moves(with_neutral_undercuts(instrument), [], aim, allow_building_up=True)
    words = {f"{way} by 0.25 mm" for move in found for way in (move.up, move.down) if way}
    assert len(words) > 40
    for text in words:
        assert not english_left(text, *names)
        assert said(text).endswith(", um 0,25 mm")


@pytest.mark.parametrize("shift", [0.0, 2.5, 30.0])
def test_the_comparison_is_german(shift):
    rng = np.random.default_rng(4)
    records = [
        Record(instrument=name, player="p", day="d", take=f"{pair}{name}", note=f"n{note}",
               cents=float(rng.normal(0, 3)) + (shift if name == "B" else 0.0),
               centroid_hz=float(900 + rng.normal(0, 9) + 20 * shift * (name == "B")))
        for pair in range(6) for name in "AB" for note in range(8)
    ]  # fmt: skip
    found = compare(records, "A", "B")
    for text in (found.sentence, found.verdict, *found.notices):
        assert not english_left(text)
        assert said(text) != text


def test_what_a_note_sounds_like_is_german():
    texts = {word for row in FIGURES.values() for word in (row[3], row[4])} | set(FIGURES)
    texts |= {alignment_words(cents) for cents in (None, 3.0, 30.0, 90.0)} | {peak_words(None)}
    texts |= {NOT_FOUND, NOT_SETTLED, AMBIGUOUS, FAINT}
    for name, (unit, _step, _read, more, _less) in FIGURES.items():
        texts.add(f"{more} ({name} +12.5 {unit}); {more} ({name} -3.0 {unit})")
    assert {text: said(text) for text in texts if english_left(text) or said(text) == text} == {}


WRONG_VALUES = {
    Kind.WHOLE: ("many", "3.5"), Kind.FIGURE: ("long",), Kind.MONEY: ("dear",),
    Kind.DAY: ("tomorrow",), Kind.YES_NO: ("perhaps",), Kind.CHOICE: ("none of these",),
    Kind.TEXT: ("x" * 300,), Kind.FILE: ("none",),
}  # fmt: skip


@pytest.mark.parametrize("kind", RECORD_KINDS)
def test_refusals_of_the_ledger_are_german(kind):
    fields = RECORD_KINDS[kind].fields
    keys = [*RECORD_KINDS, *(field.name for field in fields)]
    refused = []
    for field in fields:
        for raw in ("", *WRONG_VALUES.get(field.kind, ())):
            try:
                read_value(kind, field, raw)
            except LedgerError as error:
                refused.append((error, (*field.choices, raw, *keys)))
    assert refused
    for error, names in refused:
        assert english_left(error.cause, *names) == ""
        assert english_left(error.remedy, *names) == ""


@pytest.mark.parametrize("value", [None, 3.0])
@pytest.mark.parametrize("item", [Item.BORE, Item.DIAMETER, Item.LEAK_FLOW, "girth"])
def test_refused_readings_are_german(item, value):
    with pytest.raises(PlayingError) as caught:
        reading(item, value)
    assert english_left(caught.value.cause) == ""
    assert english_left(caught.value.remedy, *Item) == ""


def test_what_a_rendering_remarks_is_german():
    heard = [
        HeardNote.model_construct(fingering=f"E{number}", speaking=way)
        for number, way in enumerate(Speaking)
    ]
    file = SoundFile.model_construct(instrument="Class chalumeau", notes=heard)
    remarks = _notices([file])
    assert len(remarks) == 4
    assert [text for text in remarks if english_left(text) or said(text) == text] == []


WRONG_ROWS = {
    "a wrong heading": ("station_mm,", "station,"),
    "a column twice": ("rest,lift_mm", "rest,rest"),
    "no number": (",12.3,180", ",far,180"),
    "a bearing beyond": (",12.3,180", ",12.3,270"),
    "a name twice": ("side/trill 3", "side/trill 4"),
    "another item": ("cup,register vent", "lid,register vent"),
    "an unknown hole": ("180,RV,", "180,XY,"),
    "an unknown part": ("register vent,upper joint", "register vent,middle joint"),
    "another part's hole": ("180,RV,", "180,R1,"),
    "beyond the part": (",12.3,180", ",999,180"),
    "an open quote": ("cup,register vent", 'cup,"register vent'),
    "a cell too many": ("closed,1.5,,,", "closed,1.5,,,,,,"),
    "no lift": ("closed,1.5,,,", "closed,,,,"),
    "a future format": ("# format = 1", "# format = 7"),
}


@pytest.mark.parametrize("kind", WRONG_ROWS)
def test_errors_of_a_wrong_survey_are_german(tmp_path, kind):
    instrument, survey = clarinet(tmp_path)
    names = [*instrument.hole_names(), *(part.name for part in instrument.parts)]
    names += [*(row.name for row in survey.rows), ", hole"]  # a column is called so
    file = tmp_path / "keywork.csv"
    before, after = WRONG_ROWS[kind]
    text = file.read_text(encoding="utf-8")
    assert before in text
    file.write_text(text.replace(before, after, 1), encoding="utf-8")

    def read() -> None:
        read_survey(file).check_against(instrument)

    with pytest.raises(ModelError) as caught:
        read()
    error = caught.value
    told = {part: said(part) for part in (error.place, error.cause, error.remedy) if part}
    assert {p: t for p, t in told.items() if english_left(p, str(file), *names)} == {}
    assert said(error.cause) != error.cause
