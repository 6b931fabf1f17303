"""Whatever stands in a file or record: it is read, or refused in one message; never a traceback.

Structure-aware: sound inputs (the invented examples) are taken apart into their keys, cells and
bytes, some of these are changed, and the whole is written again. 600 cases here;

    BOREWRIGHT_FUZZ=10000 pytest tests/fuzz

does ten thousand. Hypothesis finds the smallest case of whatever goes wrong.
"""

from __future__ import annotations

import csv
import io
import os
import time
import tomllib
from collections.abc import Callable
from copy import deepcopy
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
import tomlkit
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from borewright.errors import BorewrightError
from borewright.ledger import RECORD_KINDS, Ledger, import_csv
from borewright.ledger.checking import judged_row
from borewright.model import load, read_fingerings, read_keys, read_survey
from borewright.model.files.bores import read_bore
from borewright.playing import read_records
from borewright.playing.readings import check_names, read_readings
from borewright.printing import MATERIALS, PRINTERS, find_material, find_printer
from borewright.tasks.gate import unusual_findings
from borewright.words import ENGLISH

CASES = int(os.environ.get("BOREWRIGHT_FUZZ", "600"))
SLOWEST_S = 10.0
EXAMPLES = Path(str(files("borewright") / "examples"))
CLARINET = EXAMPLES / "loan-clarinet"
BATCH = EXAMPLES / "batch-of-twelve"
INSTRUMENT = load(CLARINET / "clarinet.toml")

#: What slips into a cell or behind a key.
ODD = st.one_of(
    st.sampled_from(
        [
            "", " ", "0", "-0", "-1", "1e309", "-1e309", "nan", "inf", "1,5", "1.5.2", "1,000.5",
            "12 mm", "½", "١٢", "=1+1", "@x", "'", '"', '""', "#", ";", ",", "\t", "\0", "\x1b[2J",
            "\u202e", "\ufeff", "\ud7ff", "é", "e\u0301", "yes", "true", "None", "null", "{}", "[]",
            "../x", "/etc/x", "a\nb", "a\r\nb", "x" * 300, "2031-02-30", "0000-00-00", "9" * 40,
        ]
    ),
    st.text(max_size=12),
    st.integers(-(10**20), 10**20).map(str),
    st.floats().map(repr),
)  # fmt: skip
VALUES = st.one_of(
    ODD,
    st.floats(),
    st.integers(-(2**62), 2**62),
    st.booleans(),
    # Made anew each time: what is put into a document is changed there.
    st.builds(list),
    st.builds(dict),
    st.lists(st.floats(), max_size=3),
    st.builds(lambda: [[0, 1], [1, 1]]),
    st.builds(lambda: {"x": {"y": [1, {}]}}),
    st.dates(),
)


def leaves(node: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """Ways to everything in a document, tables and lists among it."""
    found = [path] if path else []
    if isinstance(node, dict):
        for key, value in node.items():
            found += leaves(value, (*path, key))
    elif isinstance(node, list):
        for index, value in enumerate(node[:6]):
            found += leaves(value, (*path, index))
    return found


@st.composite
def documents(draw: st.DrawFn, base: dict[str, Any]) -> bytes:
    """A TOML document with some of its keys changed, lost, doubled under another name or torn."""
    data = deepcopy(base)
    for _ in range(draw(st.integers(1, 3))):
        path = draw(st.sampled_from(leaves(data)))
        node: Any = data
        for step in path[:-1]:
            node = node[step]
        deed = draw(st.sampled_from(["change", "change", "lose", "rename", "repeat"]))
        if deed == "change":
            node[path[-1]] = draw(VALUES)
        elif deed == "lose":
            del node[path[-1]]
        elif deed == "rename" and isinstance(node, dict):
            node[draw(st.text(min_size=1, max_size=8))] = node.pop(path[-1])
        elif deed == "repeat" and isinstance(node, list):
            node.append(deepcopy(node[path[-1]]))
    try:
        text = tomlkit.dumps(data).encode("utf-8", "surrogatepass")
    except Exception:  # the writer knows no such value: then it cannot stand in a file
        text = tomlkit.dumps(base).encode()
    return draw(torn(text))


@st.composite
def tables(draw: st.DrawFn, text: str) -> bytes:
    """A CSV table with cells, rows, columns or its delimiter changed, or torn."""
    plain = [line for line in text.splitlines() if not line.startswith("#")]
    rows = [list(row) for row in csv.reader(plain)][: draw(st.integers(1, 14))]
    for _ in range(draw(st.integers(1, 3))):
        row = draw(st.integers(0, len(rows) - 1))
        column = draw(st.integers(0, len(rows[0]) - 1))
        deed = draw(st.sampled_from(["cell", "cell", "cell", "row", "again", "column", "longer"]))
        if deed == "cell" and column < len(rows[row]):
            rows[row][column] = draw(ODD)
        elif deed == "row" and len(rows) > 1:
            del rows[row]
        elif deed == "again":
            rows.append(list(rows[row]))
        elif deed == "column":
            for each in rows:
                del each[column : column + 1]
        elif deed == "longer":
            rows[row].append(draw(ODD))
        if not rows or not rows[0]:
            break
    out = io.StringIO()
    try:
        csv.writer(out, delimiter=draw(st.sampled_from(",,,;\t"))).writerows(rows)
    except csv.Error:
        out = io.StringIO("x")
    return draw(torn(out.getvalue().encode("utf-8", "surrogatepass")))


@st.composite
def torn(draw: st.DrawFn, data: bytes) -> bytes:
    """Mostly as it is; sometimes cut, or with bytes changed."""
    deed = draw(st.integers(0, 9))
    if deed == 0 and data:
        return data[: draw(st.integers(0, len(data)))]
    if deed == 1 and data:
        at = draw(st.integers(0, len(data) - 1))
        return data[:at] + draw(st.binary(max_size=6)) + data[at + 1 :]
    return data


def read_instrument(path: Path) -> None:
    unusual_findings(load(path), None, None)


def read_survey_of(path: Path) -> None:
    survey = read_survey(path)
    survey.check_against(INSTRUMENT)
    survey.check_covers(INSTRUMENT)


def read_keys_of(path: Path) -> None:
    read_keys(path).check_against(INSTRUMENT)


def read_fingerings_of(path: Path) -> None:
    read_fingerings(path).check_against(INSTRUMENT)


def read_readings_of(path: Path) -> None:
    check_names(INSTRUMENT, read_readings(path))


def profile(made: Any) -> dict[str, Any]:
    data = made.model_dump(mode="json", exclude={"sources"}, exclude_none=True)
    return data | ({"sources": {"density_g_cm3": "invented"}} if "modulus_gpa" in data else {})


READINGS = (
    "item,part,hole,station_mm,value,pressure_hpa,comment\nbore,barrel,,10,14.9,,x\n"
    "diameter,,L1,,6.1,,\nleak_flow,upper joint,,,20,30,\nchamber,,,,2900,,\nplayer,,,,-3,,\n"
)
BORE = "part,station_mm,diameter_mm\nbarrel,0,14.95\nbarrel,30,14.9\nbarrel,65,14.85\n"
NOTES = (
    "take,instrument,player,mouthpiece,day,temperature_c,a4_hz,note,number,hz,cents,steady_s\n"
    "a.wav#1,x,p,m,2031-01-01,21,440,F4,1,311.1,3.2,1.5\n"
)
KINDS: dict[str, tuple[st.SearchStrategy[bytes], str, Callable[[Path], object]]] = {
    "instrument": (
        documents(tomllib.loads((CLARINET / "clarinet.toml").read_text(encoding="utf-8"))),
        "i.toml", read_instrument,
    ),
    "survey": (
        tables((CLARINET / "keywork.csv").read_text(encoding="utf-8")), "s.csv", read_survey_of,
    ),
    "keys": (tables((CLARINET / "keys.csv").read_text(encoding="utf-8")), "k.csv", read_keys_of),
    "fingerings": (
        tables((CLARINET / "fingerings.csv").read_text(encoding="utf-8")), "f.csv",
        read_fingerings_of,
    ),
    "readings": (tables(READINGS), "r.csv", read_readings_of),
    "bore": (tables(BORE), "b.csv", read_bore),
    "notes": (tables(NOTES), "n.csv", read_records),
    "printer": (documents(profile(PRINTERS["tall frame"])), "p.toml",
                lambda path: find_printer(str(path))),
    "material": (documents(profile(MATERIALS["plain PLA"])), "m.toml",
                 lambda path: find_material(str(path))),
}  # fmt: skip
SLOW = settings(
    max_examples=max(CASES // 3, 1),
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.function_scoped_fixture,
                           HealthCheck.data_too_large, HealthCheck.filter_too_much],
)  # fmt: skip


def whole(error: BorewrightError) -> None:
    """Place, cause and remedy, in one line that a terminal can bear."""
    assert ENGLISH.place(error.place), repr(error)
    assert ENGLISH.tell(error.cause), repr(error)
    assert ENGLISH.tell(error.remedy), repr(error)
    assert len(str(error)) < 2000


def answered(act: Callable[[], object]) -> None:
    """Done, or refused in one whole message, within the bound."""
    started = time.monotonic()
    try:
        act()
    except BorewrightError as error:
        whole(error)
    assert time.monotonic() - started < SLOWEST_S


@SLOW
@given(st.sampled_from(sorted(KINDS)).flatmap(lambda k: st.tuples(st.just(k), KINDS[k][0])))
def test_files_are_read_or_refused(tmp_path_factory, case):
    kind, content = case
    path = tmp_path_factory.getbasetemp() / KINDS[kind][1]
    path.write_bytes(content)
    answered(lambda: KINDS[kind][2](path))


def test_a_table_where_a_sentence_belongs_is_refused(tmp_path):
    """Found by ten thousand cases."""
    path = tmp_path / "m.toml"
    path.write_text(tomlkit.dumps(profile(MATERIALS["plain PLA"]) | {"sources": {"x": {"y": 1}}}))
    with pytest.raises(BorewrightError, match=r"m\.toml"):
        find_material(str(path))


@pytest.fixture(scope="module")
def book(tmp_path_factory) -> Ledger:
    """A ledger with the invented batch's first tables, for rows to lead to."""
    ledger = Ledger(tmp_path_factory.mktemp("fuzz") / "workshop.ledger", create=True)
    for kind in ("setting", "source", "quote", "sample", "lot", "printer", "order"):
        text = (BATCH / f"{kind}.csv").read_text(encoding="utf-8")
        import_csv(ledger, kind, text, who="Ada", place=f"{kind}.csv")
    return ledger


ROWS = {
    kind: list(csv.DictReader((BATCH / f"{kind}.csv").read_text(encoding="utf-8").splitlines()))
    for kind in RECORD_KINDS
    if (BATCH / f"{kind}.csv").exists()
}


@st.composite
def records(draw: st.DrawFn) -> tuple[str, dict[str, Any]]:
    """A row of the invented batch with some fields changed."""
    kind = draw(st.sampled_from(sorted(ROWS)))
    row: dict[str, Any] = dict(draw(st.sampled_from(ROWS[kind][:8])))
    names = ["code", *[field.name for field in RECORD_KINDS[kind].fields], "colour"]
    for _ in range(draw(st.integers(1, 3))):
        row[draw(st.sampled_from(names))] = draw(st.one_of(ODD, VALUES))
    return kind, row


@SLOW
@given(records())
def test_records_are_kept_or_refused(book, case):
    kind, row = case
    answered(lambda: book.add(kind, judged_row(kind, row), who="Ada"))


@SLOW
@given(st.sampled_from(sorted(ROWS)).flatmap(
    lambda k: st.tuples(st.just(k), tables((BATCH / f"{k}.csv").read_text(encoding="utf-8")))
))  # fmt: skip
def test_tables_for_the_ledger_are_kept_or_refused(book, case):
    kind, content = case
    text = content.decode("utf-8", "replace")
    answered(lambda: import_csv(book, kind, text, who="Ada", place="rows.csv"))
