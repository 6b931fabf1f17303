"""The command line tells the same in either language; names that people gave stay as they are."""

from __future__ import annotations

import json

import pytest


@pytest.mark.parametrize("name", ["bell", "upper or lower", "Fuß & Söhne"])
def test_a_fault_reads_right_in_both_languages(type_in, chalumeau, name):
    words = ("sensitivity", chalumeau, "--note", name)
    english, german = (type_in(*words, "--language", each) for each in ("en", "de"))
    assert (english.exit_code, german.exit_code) == (2, 2)
    assert f"there is no note '{name}'. Notes are: " in english.stderr
    assert f"den Ton „{name}“ gibt es nicht. " in german.stderr
    as_json = [
        json.loads(type_in(*words, "--json", "--language", each).stdout) for each in ("en", "de")
    ]
    assert as_json[0] == as_json[1]  # JSON is read by programs, and stays English


@pytest.mark.parametrize("words", [("--language", "de", "check"), ("check", "--language=de")])
def test_the_language_stands_before_or_after_the_command(type_in, chalumeau, words):
    assert "keine Fehler, keine Hinweise" in type_in(*words, chalumeau).stdout


def test_the_environment_wishes_and_the_option_decides(type_in, chalumeau, monkeypatch):
    monkeypatch.setenv("BOREWRIGHT_LANGUAGE", "de")
    assert "keine Fehler" in type_in("check", chalumeau).stdout
    assert "no faults" in type_in("check", chalumeau, "--language", "en").stdout


def test_help_and_wrong_use_are_told_in_german(type_in):
    shown = type_in("solids", "--help", "--language", "de").stdout
    assert shown.startswith("Aufruf: ")
    assert "Ordner für die Dateien.  [nötig]" in shown
    refused = type_in("solids", "--language", "de")
    assert refused.exit_code == 2
    assert "Fehler: FILE fehlt" in refused.stderr


def test_figures_have_a_decimal_comma(type_in, chalumeau):
    line = "A4 = 440 Hz"
    german = type_in("tune", chalumeau, "--language", "de").stdout
    assert line in german
    assert "target Hz" not in german
    assert ".00 " not in german
