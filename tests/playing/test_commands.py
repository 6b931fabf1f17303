"""takes, as-built, correct and compare, as a user types them."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest
import soundfile
import typer
from typer.testing import CliRunner

from borewright.cli import app
from borewright.model import load, read_fingerings
from borewright.playing import read_records, write_records
from borewright.playing.records import Record
from borewright.tasks.examples import Example, copy_example

COMMANDS = ("takes", "as-built", "diagnose", "correct", "compare")


@pytest.fixture
def type_in():
    def type_it(*words: object, **more):
        return CliRunner().invoke(
            app, [str(word) for word in words], catch_exceptions=False, **more
        )

    return type_it


@pytest.fixture
def figures(type_in):
    def read(*words: object, **more):
        result = type_in(*words, "--json", **more)
        assert result.exit_code == 0, result.output
        return json.loads(result.stdout)

    return read


@pytest.fixture
def folder(tmp_path):
    copy_example(Example.CHALUMEAU, tmp_path)
    return tmp_path


@pytest.fixture
def recording(folder, synthesis):
    """The example's first four notes, seven cents sharp."""
    instrument = load(folder / "chalumeau.toml")
    table = read_fingerings(folder / "fingerings.csv")
    rng = np.random.default_rng(0)
    pieces = []
    for fingering in table.fingerings[:4]:
        hz = instrument.pitch.target_hz(fingering.written) * 2 ** (7 / 1200)
        pieces += [synthesis.tone(hz, 0.9, rng), synthesis.room(0.2, rng, 0.0003)]
    path = folder / "take1.wav"
    soundfile.write(path, np.concatenate(pieces), synthesis.RATE)
    return path


def test_all_commands_are_there_and_explain_themselves(type_in):
    assert set(COMMANDS) <= set(typer.main.get_command(app).commands)
    for command in COMMANDS:
        assert type_in(command, "--help").stdout.startswith("Usage: ")


def test_takes_are_measured_written_and_drawn(type_in, figures, folder, recording):
    words = ("takes", recording, "--instrument", folder / "chalumeau.toml", "--temperature", 21)
    data = figures(*words, "--output", folder / "notes.csv", "--plot", folder / "plots",
                   "--player", "P1", "--day", "monday")  # fmt: skip
    [take] = data["takes"]
    assert [round(note["cents"]) for note in take["notes"]] == [7] * 4
    assert Path(data["pictures"][0]).name == "take1.svg"
    records = read_records(folder / "notes.csv")
    assert {(record.player, record.day, record.temperature_c) for record in records} == {
        ("P1", "monday", 21.0)
    }
    # The same recording twice in one table would count twice.
    again = type_in(*words, "--output", folder / "notes.csv")
    assert again.exit_code == 2
    assert "already holds the take 'take1.wav'" in again.stderr
    text = type_in(*words, "--a4", 442).stdout
    assert "A = 442 Hz" in text
    assert "-0.8" in text  # 7 cents less 7.85


def test_an_order_is_checked_before_the_work(type_in, folder, recording):
    result = type_in("takes", recording, "--instrument", folder / "chalumeau.toml",
                     "--temperature", 21, "--order", "Q9")  # fmt: skip
    assert result.exit_code == 2
    assert "'Q9' is not in the fingering table" in result.stderr


def test_readings_from_the_keyboard_make_a_revision(figures, type_in, folder):
    instrument = load(folder / "chalumeau.toml")
    part, hole, _ = instrument.placed_holes()[0]
    typed = f"diameter {hole.name} {hole.diameter_mm + 0.2}\nleak {hole.name} 0.6\n\n"
    data = figures("as-built", folder / "chalumeau.toml", "--output", folder / "built.toml",
                   input=typed)  # fmt: skip
    assert data["applied"][0]["to_mm"] == pytest.approx(hole.diameter_mm + 0.2)
    assert data["leaks"][0]["part"] == part.name
    assert data["as_built"]["summary"] != data["design"]
    # The revision is a file like any other: predicting it gives the same figures.
    again = figures("tune", folder / "built.toml")
    assert again["summary"] == pytest.approx(data["as_built"]["summary"], abs=1e-6)


def test_corrections_of_notes_typed_in_by_hand(figures, type_in, folder):
    table = read_fingerings(folder / "fingerings.csv")
    rng = np.random.default_rng(1)
    records = [
        Record(instrument="no 3", take=str(take), note=fingering.name, cents=rng.normal(-20, 2))
        for take in range(4)
        for fingering in table.fingerings
    ]
    write_records(records, folder / "notes.csv")
    words = ("correct", folder / "chalumeau.toml", folder / "notes.csv")
    data = figures(*words)
    assert data["steps"]
    assert data["rms_after_cents"] < data["rms_before_cents"]
    assert figures(*words, "--next-print")["aim"] == "next print"
    text = type_in(*words, "--picture", folder / "plan.svg").stdout
    lines = text.splitlines()
    asked = [line for line in lines if line.startswith("better first: ")]
    assert len(asked) == len(data["open_questions"])
    lines = [line for line in lines if line not in asked]
    assert lines[2].endswith("then record again:")
    assert lines[3].startswith("1. ")
    # The same takes once more as earlier ones: surer, and one clear word for a slip.
    both = figures(*words, "--earlier", f"{folder / 'chalumeau.toml'}={folder / 'notes.csv'}")
    assert both["rms_before_cents"] == pytest.approx(data["rms_before_cents"], abs=1.5)
    assert data["steps"][0]["words"] in (folder / "plan.svg").read_text(encoding="utf-8")
    # Where the player may be far off, less is known of the instrument itself.
    doubted = figures(*words, "--player-cents", 25)
    assert np.mean(doubted["believed_error_cents"]) > np.mean(data["believed_error_cents"]) + 1
    assert len(doubted["steps"]) < len(data["steps"])


def test_causes_of_notes_typed_in_by_hand(figures, type_in, folder):
    """Takes of a body whose R1 is 0.5 mm too small, as the engine sounds it."""
    drawn = load(folder / "chalumeau.toml")
    table = read_fingerings(folder / "fingerings.csv")
    hole = drawn.part("body").hole("R1")
    rows = [
        {"item": "diameter", "hole": "R1", "value": hole.diameter_mm - 0.5},
        {"item": "diameter", "hole": "R2", "value": drawn.part("body").hole("R2").diameter_mm},
    ]
    (folder / "r.csv").write_text(
        "item,hole,value\n" + "".join(f"{r['item']},{r['hole']},{r['value']}\n" for r in rows),
        encoding="utf-8",
    )
    figures("as-built", folder / "chalumeau.toml", folder / "r.csv", "--output",
            folder / "true.toml")  # fmt: skip
    rng = np.random.default_rng(1)
    records = [
        Record(instrument="no 3", take=str(take), note=note["fingering"], temperature_c=21.0,
               cents=note["cents"] + rng.normal(0, 2))
        for take in range(4)
        for note in figures("tune", folder / "true.toml")["notes"]
    ]  # fmt: skip
    write_records(records, folder / "notes.csv")
    words = ("diagnose", folder / "chalumeau.toml", folder / "notes.csv")
    data = figures(*words)
    assert (data["causes"][0]["kind"], data["causes"][0]["hole"]) == ("diameter", "R1")
    amount = data["causes"][0]["amount"]
    assert amount["low"] < -0.5 < amount["high"]
    assert data["notes"] == len(table.fingerings)
    read = figures(*words, "--readings", folder / "r.csv")
    assert read["readings"] == 2
    assert read["causes"][0]["probability"] >= data["causes"][0]["probability"]
    text = type_in(*words).stdout
    assert text.splitlines()[1].startswith("1. R1 too small: ")
    assert "What would decide most:" in text
    german = type_in(*words, env={"BOREWRIGHT_LANGUAGE": "de"}).stdout
    assert german.splitlines()[1].startswith("1. R1 zu klein: ")
    wrong = type_in(*words, "--player-cents", -1)
    assert wrong.exit_code == 2
    assert "--player-cents: the player's cents are below 0" in wrong.stderr
    other = type_in(*words, "--name", "no 4")
    assert other.exit_code == 2
    assert "no takes of 'no 4'" in other.stderr


def test_a_comparison_and_a_campaign(figures, type_in, tmp_path):
    rng = np.random.default_rng(0)
    records = [
        Record(instrument="AB"[take % 2], take=str(take), note=f"n{note}", player="P",
               cents=15.0 * (take % 2) + rng.normal(0, 3))
        for take in range(16)
        for note in range(6)
    ]  # fmt: skip
    write_records(records, tmp_path / "notes.csv")
    words = ("compare", tmp_path / "notes.csv")
    assert figures(*words, "--first", "A", "--second", "B")["verdict"] == "different"
    text = type_in(*words, "--first", "A", "--second", "B").stdout
    assert text.startswith("Different: 'B' is higher by 1")
    campaign = figures(*words)
    assert campaign["offsets"][1]["difference_cents"]["value"] == pytest.approx(15, abs=3)
    assert campaign["takes_advised"] >= 2
    assert "scatter, player: cannot be told" in type_in(*words).stdout


def test_blind_lists_keep_the_secret_in_the_key(figures, type_in, tmp_path):
    words = ("compare", "--blind", 4, "--first", "old", "--second", "new")
    data = figures(*words, "--output", tmp_path)
    sheet = Path(data["sheet"]).read_text(encoding="utf-8")
    assert "old" not in sheet
    assert Path(data["key"]).read_text(encoding="utf-8").count("old") == 4
    assert type_in(*words).exit_code == 2


@pytest.mark.parametrize("suffix", ["", "--json"])
def test_wrong_input_is_one_line_or_one_object(type_in, folder, suffix):
    text = folder / "text.wav"
    text.write_text("no sound\n" * 50, encoding="utf-8")
    words = ["takes", text, "--instrument", folder / "chalumeau.toml", "--temperature", 21]
    result = type_in(*words, *([suffix] if suffix else []))
    assert result.exit_code == 2
    said = result.stdout if suffix else result.stderr
    assert "is not a recording that can be read" in said
    if suffix:
        assert json.loads(said)["error"]["kind"] == "PlayingError"
