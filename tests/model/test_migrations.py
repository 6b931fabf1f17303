"""Older formats are carried forward step by step; newer ones are refused."""

from __future__ import annotations

import pytest

from borewright.errors import ModelError
from borewright.model.files import migrations


def widths_to_diameters(data):
    """An artificial step: a key gets another name."""
    data["part"] = [
        {("diameter" if key == "width" else key): value for key, value in part.items()}
        for part in data["part"]
    ]
    return data


def number_in(data):
    """Another artificial step: a key is added."""
    return {**data, "count": len(data["part"])}


STEPS = {("thing", 1): widths_to_diameters, ("thing", 2): number_in, ("other", 1): number_in}


def test_steps_run_in_order_from_the_files_own_format():
    old = {"part": [{"width": 3}]}
    new = migrations.migrate(old, "thing", 1, newest=3, place="a.toml", steps=STEPS)
    assert new == {"part": [{"diameter": 3}], "count": 1}
    assert old == {"part": [{"width": 3}]}


def test_only_the_later_steps_run_for_a_later_file():
    data = {"part": [{"width": 3}]}
    new = migrations.migrate(data, "thing", 2, newest=3, place="a.toml", steps=STEPS)
    assert new == {"part": [{"width": 3}], "count": 1}
    assert migrations.migrate(data, "thing", 3, newest=3, place="a.toml", steps=STEPS) == data


@pytest.mark.parametrize("version", [0, -1, 4, True, "1", 1.0, None])
def test_a_version_that_cannot_be_read(version):
    with pytest.raises(ModelError) as caught:
        migrations.migrate({}, "thing", version, newest=3, place="a.toml", steps=STEPS)
    assert "a.toml" in str(caught.value)
    assert "format" in str(caught.value)
    assert caught.value.remedy


@pytest.mark.parametrize("kind", sorted(migrations.NEWEST))
def test_the_registry_has_every_step_to_the_newest_format(kind):
    have = {version for of, version in migrations.STEPS if of == kind}
    assert have == set(range(1, migrations.NEWEST[kind]))


def test_an_older_instrument_file_is_read_and_saved_in_the_newest_format(
    monkeypatch, clarinet_file, clarinet_text, clarinet
):
    from borewright.model import load, read_instrument, save_as

    def rename(data):
        for part in data["part"]:
            part["length_mm"] = part.pop("long_mm")
        return data

    newest = migrations.NEWEST["instrument"]
    monkeypatch.setitem(migrations.NEWEST, "instrument", newest + 1)
    monkeypatch.setitem(migrations.STEPS, ("instrument", newest), rename)
    old = clarinet_text.replace("length_mm = 65.0", "long_mm = 65.0")
    old = old.replace("length_mm = 180", "long_mm = 180")
    clarinet_file.write_text(old, encoding="utf-8")
    instrument, document = read_instrument(clarinet_file)
    assert instrument == clarinet
    save_as(instrument, clarinet_file, document)
    text = clarinet_file.read_text(encoding="utf-8")
    assert f"format = {newest + 1}" in text
    assert "long_mm" not in text
    assert "# Left first finger." in text
    assert load(clarinet_file) == clarinet


def test_an_older_table_is_read(monkeypatch, tmp_path):
    from borewright.model import read_fingerings

    def rename(data):
        rows = [{("written" if k == "note" else k): v for k, v in r.items()} for r in data["rows"]]
        return {"rows": rows}

    monkeypatch.setitem(migrations.NEWEST, "fingerings", 2)
    monkeypatch.setitem(migrations.STEPS, ("fingerings", 1), rename)
    path = tmp_path / "f.csv"
    path.write_text("note,register,open_holes\nE3,chalumeau,\n", encoding="utf-8")
    assert read_fingerings(path).fingerings[0].written == "E3"
    path.write_text("# format = 2\nwritten,register,open_holes\nE3,chalumeau,\n", encoding="utf-8")
    assert read_fingerings(path).fingerings[0].written == "E3"


@pytest.mark.parametrize(("old", "new"), [(0.3, 2.0), (0, 0.0), (0.6, 4.0)])
def test_format_1_weighed_what_format_2_prices(old, new):
    data = {"fit": {"free": ["hole.station"], "keep_close": old}, "part": []}
    moved = migrations.migrate(data, "instrument", 1, place="a.toml")
    assert moved["fit"]["keep_close"] == pytest.approx(new)
    assert migrations.migrate({"part": []}, "instrument", 1, place="a.toml") == {"part": []}
