"""Key surveys kept with sets pool key by key and number by number; sources are told honestly."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest
from typer.testing import CliRunner

import borewright
from borewright.cli import app
from borewright.errors import LedgerError
from borewright.keywork.numbers import KeysApart, Number, numbers_of
from borewright.ledger import survey_statistics
from borewright.ledger.likeness import likeness, likeness_of
from borewright.model import KeySet, read_keys, write_keys
from borewright.model.keys import Cup, Hinge
from borewright.tasks.ledger.designs import values_with_file
from borewright.tasks.ledger.key_surveys import kept_survey, surveyed_numbers

EXAMPLE = Path(borewright.__file__).parent / "examples" / "loan-clarinet"


def one_set(random, scatter):
    """The invented set, as a maker with some scatter would have made it once."""
    keys = read_keys(EXAMPLE / "keys.csv")

    def off(element):
        if not isinstance(element, Cup | Hinge):
            return element
        by = float(random.normal(0, scatter))
        if isinstance(element, Hinge) and element.first.bearing_deg != element.second.bearing_deg:
            return element  # across the body: its length does not run down it
        # A tube comes out longer; a cup is soldered on further along, not askew.
        names = ("second",) if isinstance(element, Hinge) else ("first", "second")
        moved = {
            name: getattr(element, name).model_copy(
                update={"station_mm": getattr(element, name).station_mm + by}
            )
            for name in names
        }
        return element.model_copy(update=moved)

    return KeySet(elements=tuple(off(each) for each in keys.elements))


@pytest.fixture(scope="module")
def files(tmp_path_factory):
    """Files of sets: four that scatter by 0.02 mm, four by 0.15."""
    folder, random = tmp_path_factory.mktemp("sets"), np.random.default_rng(8)
    made = {}
    for source, scatter in (("close", 0.02), ("loose", 0.15)):
        made[source] = [folder / f"{source} {number}.csv" for number in range(4)]
        for path in made[source]:
            write_keys(path, one_set(random, scatter))
    return made


def filled(ledger, files, count):
    for source, paths in files.items():
        ledger.add("source", {"code": source}, who="Ada")
        for path in paths[:count]:
            values = {"code": path.stem, "source": source}
            ledger.add("sample", values_with_file(ledger, "sample", values, path), who="Ada")
    return ledger


def test_numbers_of_keys_apart_are_those_on_the_body():
    keys = KeysApart(read_keys(EXAMPLE / "keys.csv"))
    # The workshop's handbook of keywork, section 4: TP's m 17.25, h -7.03, tube 28.97.
    numbers = numbers_of(keys, "TP")
    assert numbers[Number.ARM].value == pytest.approx(17.25, abs=5e-3)
    assert numbers[Number.HEIGHT].value == pytest.approx(-7.03, abs=5e-3)
    assert numbers[Number.LENGTH].value == pytest.approx(28.97, abs=5e-3)


def test_sets_pool_number_by_number_with_intervals(ledger, files):
    book = filled(ledger, files, 4)
    # One number was read by hand as well: it counts with the survey's, not beside it.
    reading = {"sample": "loose 0", "feature": "FC", "measure": "tube length", "value_mm": 26.0}
    book.add("measurement", reading, who="Ada")
    found = {
        (one.feature, one.measure): one
        for one in survey_statistics(book, "loose", surveyed_numbers(book))
    }
    assert len({key for key, _ in found}) == 21
    fc = found["FC", "tube length"]
    assert fc.count == 4
    lengths = [
        numbers_of(KeysApart(read_keys(p)), "FC")[Number.LENGTH].value for p in files["loose"]
    ]
    lengths[0] = (lengths[0] + 26.0) / 2
    assert fc.mean_mm == pytest.approx(np.mean(lengths), abs=1e-6)
    # Student's t for 3 degrees of freedom at 0.975 is 3.182 (tables).
    half = 3.182 * np.std(lengths, ddof=1) / 2
    assert fc.interval_mm == pytest.approx((fc.mean_mm - half, fc.mean_mm + half), abs=1e-3)
    assert ("FC", "swing") not in found  # degrees do not pool with millimetres


def test_which_source_is_more_alike_is_told_as_surely_as_the_sets_allow(ledger, files):
    book = filled(ledger, files, 4)
    first, second = likeness_of(book, surveyed_numbers(book))
    assert (first.source, second.source) == ("close", "loose")
    assert second.told_apart
    assert first.typical_mm < 0.03 < second.typical_mm
    assert second.interval_mm[0] < second.typical_mm < second.interval_mm[1]
    # One set a source tells nothing, and says so.
    alone = likeness({"close": [], "loose": [0.1]})
    assert [one.interval_mm for one in alone] == [None, None]
    assert not any(one.told_apart for one in alone)
    # Two sets of a hair's difference are not told apart, and it is said how many would tell.
    close = likeness({"a": [0.100, 0.130], "b": [0.110, 0.150]})
    assert not close[1].told_apart
    assert close[1].sets_to_tell > 10


def test_the_command_tells_which_is_the_more_alike(ledger, files):
    book = filled(ledger, files, 3)
    url = book.engine.url
    sqlite = url.get_backend_name() == "sqlite"
    place = url.database if sqlite else url.render_as_string(hide_password=False)
    result = CliRunner().invoke(
        app, ["ledger", "survey", "loose", "--ledger", str(place), "--json"]
    )
    assert result.exit_code == 0, result.output
    data = json.loads(result.output)
    assert [one["source"] for one in data["likeness"]] == ["close", "loose"]
    assert {"feature", "interval_mm"} <= set(data["features"][0])
    text = CliRunner().invoke(app, ["ledger", "survey", "loose", "--ledger", str(place)])
    assert "Which source's sets are the more alike" in text.output


def test_points_only_and_rubbish_are_told_from_keys(ledger, tmp_path):
    ledger.add("source", {"code": "Q"}, who="Ada")
    points = tmp_path / "points.csv"
    points.write_text(
        "item,station_mm,comment\nFC,1.0,every element was measured\n", encoding="utf-8"
    )
    semicolons = tmp_path / "keys.csv"
    text = (EXAMPLE / "keys.csv").read_text(encoding="utf-8")
    broken = "\n".join(text.splitlines()[:20]).replace("closed", "ajar")
    semicolons.write_text(broken, encoding="utf-8")
    for code, path in (("P", points), ("K", semicolons)):
        values = values_with_file(ledger, "sample", {"code": code, "source": "Q"}, path)
        ledger.add("sample", values, who="Ada")
    assert kept_survey(ledger, "P") is None
    assert kept_survey(ledger, "K") is not None
    with pytest.raises(LedgerError) as refused:
        surveyed_numbers(ledger)
    assert "K" in str(refused.value)
