"""Hundreds of absurd labels: none is accepted, and every answer has place, cause and remedy.

The labels are drawn by hand in ``absurd``; what is right beside them comes from the invented
examples, so that nothing but the label itself is wrong.
"""

from __future__ import annotations

import csv
import io
import sys
import tomllib
from copy import deepcopy
from datetime import date
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
import tomlkit
from sqlalchemy import update

from borewright.errors import BorewrightError
from borewright.ledger import Ledger
from borewright.ledger.checking import judged_row
from borewright.ledger.schema import TABLES
from borewright.model import load
from borewright.playing.readings import check_names, read_readings
from borewright.printing import MATERIALS, PRINTERS, find_material, find_printer
from borewright.tasks.gate import unusual_findings
from borewright.tasks.inputs import keys_of, survey_of
from borewright.words import ENGLISH

sys.path.insert(0, str(Path(__file__).parent))
import absurd

EXAMPLES = Path(str(files("borewright") / "examples"))
CLARINET = EXAMPLES / "loan-clarinet"
DATA = tomllib.loads((CLARINET / "clarinet.toml").read_text(encoding="utf-8"))


def named(rows: list[Any]) -> list[Any]:
    """Labels as test parameters whose names tell them."""
    return [
        pytest.param(row, id=f"{number}-{str(row)[:60].encode('ascii', 'replace').decode()}")
        for number, row in enumerate(rows)
    ]


def whole(error: BorewrightError, place: str = "") -> None:
    """An answer that a craftsman can act on, in one line."""
    assert ENGLISH.place(error.place)
    assert place in ENGLISH.place(error.place)
    assert ENGLISH.tell(error.cause)
    assert ENGLISH.tell(error.remedy).endswith((".", "?")), str(error)
    assert "\n" not in str(error)
    assert len(str(error)) < 900


def test_there_are_enough_of_them():
    lists = (absurd.INSTRUMENT, absurd.SURVEY, absurd.KEYS, absurd.READINGS, absurd.PRINTER,
             absurd.MATERIAL, absurd.LEDGER)  # fmt: skip
    assert sum(len(each) for each in lists) >= 300


def altered(place: str, value: Any) -> dict[str, Any]:
    data = deepcopy(DATA)
    steps = place.split(".")
    node: Any = data
    if steps[0] == "part":
        node = next(part for part in data["part"] if part["name"] == steps[1])
        steps = steps[2:]
    elif steps[0] == "hole":
        holes = [hole for part in data["part"] for hole in part.get("hole", [])]
        node = next(hole for hole in holes if hole["name"] == steps[1])
        steps = steps[2:]
    for step in steps[:-1]:
        node = node.setdefault(step, {})
    node[steps[-1]] = value
    return data


def everything(file: Path) -> None:
    """What every door reads before it does anything."""
    instrument = load(file)
    keys_of(instrument, file)
    survey_of(instrument, file)


def tables_beside(folder: Path) -> None:
    for name in ("keywork.csv", "keys.csv", "fingerings.csv"):
        (folder / name).write_bytes((CLARINET / name).read_bytes())


def test_what_the_labels_are_written_into_is_sound(tmp_path):
    tables_beside(tmp_path)
    file = tmp_path / "clarinet.toml"
    file.write_text(tomlkit.dumps(DATA), encoding="utf-8")
    instrument = load(file)
    assert survey_of(instrument, file) is not None


@pytest.mark.parametrize("label", named(absurd.INSTRUMENT))
def test_absurd_instruments_are_refused(label, tmp_path):
    tables_beside(tmp_path)
    file = tmp_path / "clarinet.toml"
    file.write_text(tomlkit.dumps(altered(*label)), encoding="utf-8")
    with pytest.raises(BorewrightError) as caught:
        everything(file)
    whole(caught.value, str(tmp_path))


def changed_table(name: str, column: str, key: str, label: tuple[str, str, str]) -> str:
    lines = (CLARINET / name).read_text(encoding="utf-8").splitlines(keepends=True)
    head = [line for line in lines if line.startswith("#")]
    rows = list(csv.DictReader(line for line in lines if not line.startswith("#")))
    row = next(row for row in rows if row[key] == label[0])
    assert label[1] in row
    row[label[1]] = label[2]
    out = io.StringIO()
    writer = csv.DictWriter(out, list(rows[0]))
    writer.writeheader()
    writer.writerows(rows)
    return "".join(head) + out.getvalue()


@pytest.mark.parametrize("label", named(absurd.SURVEY))
def test_absurd_surveys_are_refused(label, tmp_path):
    file = tmp_path / "keywork.csv"
    file.write_text(changed_table("keywork.csv", label[1], "name", label), encoding="utf-8")
    instrument = load(CLARINET / "clarinet.toml").model_copy(update={"keys": ""})
    with pytest.raises(BorewrightError) as caught:
        survey_of(instrument, CLARINET / "clarinet.toml", file)
    whole(caught.value, "keywork.csv")


@pytest.mark.parametrize("label", named(absurd.KEYS))
def test_absurd_keys_are_refused(label, tmp_path):
    file = tmp_path / "keys.csv"
    file.write_text(changed_table("keys.csv", label[1], "id", label), encoding="utf-8")
    with pytest.raises(BorewrightError) as caught:
        keys_of(load(CLARINET / "clarinet.toml"), CLARINET / "clarinet.toml", file)
    whole(caught.value, "keys.csv")


@pytest.mark.parametrize("label", named(absurd.READINGS))
def test_absurd_readings_are_refused(label, tmp_path):
    file = tmp_path / "readings.csv"
    columns = ("item", "part", "hole", "station_mm", "value", "pressure_hpa")
    row = ",".join(label.get(column, "") for column in columns)
    file.write_text(f"{','.join(columns)}\n{row}\n", encoding="utf-8")
    with pytest.raises(BorewrightError) as caught:
        check_names(load(CLARINET / "clarinet.toml"), read_readings(file))
    whole(caught.value, "readings.csv")


def test_three_thousand_readings_of_one_place_are_refused(tmp_path):
    file = tmp_path / "readings.csv"
    file.write_text("item,part,station_mm,value\n" + "bore,barrel,10,14.9\n" * 3000)
    with pytest.raises(BorewrightError, match="3000 times") as caught:
        check_names(load(CLARINET / "clarinet.toml"), read_readings(file))
    whole(caught.value, "readings.csv")


def profile_file(folder: Path, profile: Any, label: tuple[str, Any]) -> Path:
    data = profile.model_dump(mode="json", exclude={"sources"}, exclude_none=True)
    if "density_g_cm3" in data:
        data["sources"] = {"density_g_cm3": "invented"}
    file = folder / "own.toml"
    file.write_text(tomlkit.dumps(data | dict([label])), encoding="utf-8")
    return file


@pytest.mark.parametrize("label", named(absurd.PRINTER))
def test_absurd_printers_are_refused(label, tmp_path):
    with pytest.raises(BorewrightError) as caught:
        find_printer(str(profile_file(tmp_path, PRINTERS["tall frame"], label)))
    whole(caught.value, "own.toml")


@pytest.mark.parametrize("label", named(absurd.MATERIAL))
def test_absurd_materials_are_refused(label, tmp_path):
    with pytest.raises(BorewrightError) as caught:
        find_material(str(profile_file(tmp_path, MATERIALS["plain PLA"], label)))
    whole(caught.value, "own.toml")


@pytest.fixture(scope="module")
def book(tmp_path_factory) -> Ledger:
    """A ledger with what the absurd rows lead to, all of it invented."""
    ledger = Ledger(tmp_path_factory.mktemp("absurd") / "workshop.ledger", create=True)
    file = ledger.keep_file("d.toml", b"x")
    for kind, row in (
        ("design", {"code": "D", "name": "clarinet", "file": file, "file_name": "d",
                    "parts": "upper; bell"}),
        ("lot", {"code": "F", "stuff": "filament", "moisture_percent": 0.03, "dried_c": 55}),
        ("lot", {"code": "K", "stuff": "keywork"}),
        ("printer", {"code": "P", "height_mm": 300}),
        ("print_job", {"code": "bad", "printer": "P", "lot": "F", "design": "D", "part": "bell",
                       "outcome": "rejected", "height_mm": 110}),
        ("print_job", {"code": "of upper", "printer": "P", "lot": "F", "design": "D",
                       "part": "upper", "outcome": "good"}),
        ("instrument", {"code": "I", "design": "D"}),
        ("source", {"code": "S"}),
        ("sample", {"code": "A", "source": "S"}),
    ):  # fmt: skip
        ledger.add(kind, row, who="Ada")
    return ledger


@pytest.mark.parametrize("label", named(absurd.LEDGER))
def test_absurd_records_are_refused(label, book):
    kind, row = label
    before = book.count(kind)
    with pytest.raises(BorewrightError) as caught:
        book.add(kind, judged_row(kind, row), who="Ada")
    whole(caught.value)
    assert book.count(kind) == before


def test_a_correction_of_something_else_is_not_held_up_by_an_old_slip(book):
    """What a rule of today refuses may stand in an old record: its other fields stay open."""
    book.add("order", {"code": "R1", "customer": "Invented", "quantity": 1, "currency": "EUR",
                       "accepted": "2031-04-01", "delivered": "2031-05-01"}, who="Ada")  # fmt: skip
    table = TABLES["order"]
    with book.writing() as connection:
        connection.execute(
            update(table).where(table.c.code == "R1").values(delivered=date(2031, 3, 1))
        )
    assert book.correct("order", "R1", {"plating": "nickel"}, who="Ada", reason="asked")
    with pytest.raises(BorewrightError, match="comes before"):
        book.correct("order", "R1", {"accepted": "2031-04-02"}, who="Ada", reason="slip")


@pytest.mark.parametrize("file", sorted(EXAMPLES.glob("*/*.toml")), ids=lambda path: path.stem)
def test_nothing_in_the_examples_is_unusual(file):
    instrument = load(file)
    found = unusual_findings(instrument, survey_of(instrument, file), keys_of(instrument, file))
    assert [str(each.what) for each in found] == []


def test_the_unusual_is_asked_about_and_not_refused(tmp_path):
    """A mouthpiece of 20 mm can be, and no maker makes one: inches and a half, perhaps."""
    file = tmp_path / "clarinet.toml"
    data = altered("mouthpiece.shown_mm", 7.35)
    for key in ("keywork", "keys", "fingerings"):
        del data["instrument"][key]
    file.write_text(tomlkit.dumps(data), encoding="utf-8")
    found = unusual_findings(load(file), None, None)
    assert [each.severity.value for each in found] == ["notice"]
    assert "looks like centimetres" in ENGLISH.tell(found[0].remedy)
    assert "shown_mm" in ENGLISH.place(found[0].place)
