"""``borewright fit``: what it saves, what it says, what it never replaces, and Ctrl-C."""

from __future__ import annotations

import json
import os
import re
import threading
from contextlib import contextmanager

import pytest

import borewright
from borewright.model import load
from borewright.words import Message


def figures(result, code: int = 0) -> dict:
    assert result.exit_code == code, result.output
    return json.loads(result.stdout)


def comments(path) -> list[str]:
    return re.findall(r"#.*", path.read_text(encoding="utf-8"))


def test_json_shape_and_the_saved_file_agree(type_in, chalumeau):
    new = chalumeau.with_name("new.toml")
    data = figures(type_in("fit", chalumeau, "--output", new, "--json"))
    assert {"before", "after", "moved", "out_of_reach", "findings", "finished", "seconds"} <= set(
        data
    )
    assert data["finished"] is True
    assert data["after"]["rms_cents"] < data["before"]["rms_cents"]
    for move in data["moved"]:
        keys = {"part", "hole", "dimension", "measure", "from", "to", "drawn", "limit"}
        assert keys == set(move)
    # What the answer says of before and after is what the two files say when they are read.
    for state, file in (("before", chalumeau), ("after", new)):
        summary = borewright.tuning(file).summary
        assert data[state]["rms_cents"] == pytest.approx(summary.rms_cents, abs=1e-6)
    saved = load(new)
    stations = {
        move["hole"]: move["to"] for move in data["moved"] if move["dimension"] == "station"
    }
    assert stations
    for hole, station in stations.items():
        assert saved.part("body").hole(hole).station_mm == station


def test_the_owners_comments_stay(type_in, chalumeau):
    before = comments(chalumeau)
    new = chalumeau.with_name("new.toml")
    figures(type_in("fit", chalumeau, "--output", new, "--json"))
    assert len(before) > 10
    assert comments(new) == before
    assert comments(chalumeau) == before


def test_text_tells_before_after_moves_and_files(type_in, chalumeau):
    new = chalumeau.with_name("new.toml")
    result = type_in("fit", chalumeau, "--output", new)
    assert result.exit_code == 0
    for words in ("before  rms ", "after   rms ", "moved, in mm", "limit", f"saved   {new}"):
        assert words in result.stdout
    # A chalumeau without keys has no keywork to miss.
    assert "survey" not in result.stdout


def test_tables_are_still_found_from_another_folder(type_in, chalumeau, tmp_path):
    new = tmp_path / "far" / "away" / "new.toml"
    figures(type_in("fit", chalumeau, "--output", new, "--json"))
    assert load(new).fingerings == "../../chalumeau/fingerings.csv"
    assert figures(type_in("tune", new, "--json"))["notes"]


def test_the_saved_file_names_the_table_that_was_used(type_in, chalumeau, tmp_path):
    other = tmp_path / "other.csv"
    table = chalumeau.with_name("fingerings.csv").read_text(encoding="utf-8")
    other.write_text(table, encoding="utf-8")
    new = chalumeau.with_name("new.toml")
    figures(type_in("fit", chalumeau, "--output", new, "--fingerings", other, "--json"))
    assert load(new).fingerings == "../other.csv"


def test_the_input_is_only_replaced_by_force(type_in, refused, contents, chalumeau):
    before = contents()
    same = chalumeau.parent / ".." / "chalumeau" / "chalumeau.toml"
    for words in ([], ["--output", chalumeau], ["--output", same]):
        line = refused("fit", chalumeau, *words)
        assert "--output" in line
        assert "--force" in line
        assert contents() == before
    figures(type_in("fit", chalumeau, "--force", "--json"))
    assert set(contents()) == set(before)
    assert contents() != before


def test_a_link_to_the_input_is_the_input(refused, contents, chalumeau):
    link = chalumeau.with_name("link.toml")
    link.symlink_to(chalumeau)
    before = contents()
    assert "--force" in refused("fit", chalumeau, "--output", link)
    assert contents() == before


def test_a_table_is_never_replaced(refused, contents, chalumeau):
    before = contents()
    table = chalumeau.with_name("fingerings.csv")
    assert "is a table that this fit reads" in refused(
        "fit", chalumeau, "--output", table, "--force"
    )
    assert contents() == before


def test_a_fit_that_cannot_start_saves_nothing(refused, contents, chalumeau):
    text = chalumeau.read_text(encoding="utf-8")
    chalumeau.write_text(re.sub(r"free = \[.*\]", "free = []", text), encoding="utf-8")
    before = contents()
    refused("fit", chalumeau, "--output", chalumeau.with_name("new.toml"))
    assert contents() == before


def stop_in_round(number: int):
    """A stand-in for work at a terminal, where the person presses Ctrl-C."""

    @contextmanager
    def at_work(*_: object):
        cancel = threading.Event()

        def progress(share: float | None, said: Message) -> None:
            if said.value("number") == number:
                cancel.set()

        yield progress, cancel

    return at_work


def test_ctrl_c_saves_the_best_so_far(type_in, chalumeau, monkeypatch):
    monkeypatch.setattr("borewright.doors.fitting.at_work", stop_in_round(3))
    new = chalumeau.with_name("new.toml")
    report = chalumeau.with_name("report")
    words = ("fit", chalumeau, "--output", new, "--report", report)
    data = figures(type_in(*words, "--json"), code=130)
    assert data["finished"] is False
    assert data["report"] == []
    assert not report.exists()
    assert data["after"]["rms_cents"] < data["before"]["rms_cents"]
    summary = borewright.tuning(new).summary
    assert data["after"]["rms_cents"] == pytest.approx(summary.rms_cents, abs=1e-6)
    result = type_in(*words)
    assert result.exit_code == 130
    assert "STOPPED after 3 rounds: the best so far was saved" in result.stdout


def test_ctrl_c_before_the_search_saves_nothing(type_in, contents, chalumeau, monkeypatch):
    def pressed(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("borewright.fit.fitting.fit", pressed)
    before = contents()
    result = type_in("fit", chalumeau, "--output", chalumeau.with_name("new.toml"))
    assert result.exit_code == 130
    assert result.stderr == "borewright: stopped.\n"
    assert contents() == before


@pytest.mark.slow
def test_a_real_signal_does_the_same(in_shell, chalumeau):
    # A terminal's Ctrl-C is the same signal; a shell may have started this test without it.
    trap = (
        "import os, signal, borewright.tasks.fitting as task\n"
        "signal.signal(signal.SIGINT, signal.default_int_handler)\n"
        "told = task.rounds_told\n"
        "task.rounds_told = lambda progress, cancel, most: told("
        "lambda share, said: said.value('number') == 2 and os.kill(os.getpid(), signal.SIGINT), "
        "cancel, most)"
    )
    new = chalumeau.with_name("new.toml")
    done = in_shell("fit", chalumeau, "--output", new, "--json", code=trap)
    assert done.returncode == 130, done.stderr
    assert json.loads(done.stdout)["finished"] is False
    assert load(new).name == load(chalumeau).name


def test_the_report_goes_where_it_is_wanted(type_in, chalumeau, tmp_path):
    folder = tmp_path / "paper"
    new = chalumeau.with_name("new.toml")
    data = figures(type_in("fit", chalumeau, "--output", new, "--report", folder, "--json"))
    names = sorted(os.path.basename(path) for path in data["report"])
    assert names == sorted(path.name for path in folder.iterdir())
    assert {"report.html", "report.pdf"} < set(names)
    assert (folder / "report.pdf").read_bytes().startswith(b"%PDF-")
    page = (folder / "report.html").read_text(encoding="utf-8")
    assert page.count("<svg") >= 4
    assert "new.toml" in page


def test_a_report_that_cannot_be_written_is_told_before_the_fit(refused, contents, chalumeau):
    before = contents()
    new = chalumeau.with_name("new.toml")
    refused("fit", chalumeau, "--output", new, "--report", chalumeau / "report")
    assert contents() == before


@pytest.mark.slow
def test_the_clarinet_within_its_keywork(type_in, clarinet):
    new = clarinet.parent / "fitted" / "clarinet.toml"
    data = figures(type_in("fit", clarinet, "--output", new, "--json"))
    assert data["finished"] is True
    assert data["after"]["rms_cents"] < data["before"]["rms_cents"] / 2
    assert any(move["limit"] for move in data["moved"])
    assert load(new).keywork == "../keywork.csv"
    check = type_in("check", new, "--json")
    assert json.loads(check.stdout)["faults"] == 0, check.stdout
    assert check.exit_code == 0


def test_seated_into_another_folder_the_tables_come_along(type_in, clarinet):
    new = clarinet.parent / "seated" / "clarinet.toml"
    new.parent.mkdir()
    assert type_in("seat", clarinet, "--output", new).exit_code == 0
    seated = load(new)
    assert (seated.keywork, seated.keys, seated.fingerings) == (
        "../keywork.csv",
        "../keys.csv",
        "../fingerings.csv",
    )
    assert type_in("check", new, "--json").exit_code in (0, 1)
