"""Holes that cannot be, in a file: every command that reads it refuses, with exit code 2."""

from __future__ import annotations

import pytest

#: What is replaced in the example, by what, and what the one line must say.
IMPOSSIBLE = {
    "pad smaller than its hole": (
        'diameter_mm = 9.5, lift_mm = 2.3, rest = "closed"',
        'diameter_mm = 4.0, lift_mm = 2.3, rest = "closed"',
        "the pad (4 mm) does not cover the hole",
        "A pad is 3 to 5 mm larger than its hole.",
    ),
    "pad that never lifts": (
        "lift_mm = 2.3",
        "lift_mm = 0",
        "the pad's lift is 0, so the hole could never open",
        "about a third of the hole's diameter or more.",
    ),
    "undercut deeper than the tube": (
        'cover = "pad"',
        'undercut = { diameter_mm = 5.5, depth_mm = 30.0 }\ncover = "pad"',
        "the undercut is 30 mm deep but the tube is only",
        "Make the undercut shallower.",
    ),
}
COMMANDS = {
    "tune": [],
    "tune, holes solved": ["--solved-holes"],
    "sensitivity": [],
    "climates": [],
    "check": [],
    "fit": ["--output", "new.toml"],
}


@pytest.mark.parametrize("command", COMMANDS)
@pytest.mark.parametrize("kind", IMPOSSIBLE)
def test_it_is_refused_with_place_cause_and_remedy(refused, contents, clarinet, kind, command):
    old, new, cause, remedy = IMPOSSIBLE[kind]
    text = clarinet.read_text(encoding="utf-8")
    assert old in text
    clarinet.write_text(text.replace(old, new, 1), encoding="utf-8")
    before = contents()
    line = refused(command.split(",")[0], clarinet, *COMMANDS[command])
    assert "clarinet.toml, line " in line
    assert "hole '" in line
    assert cause in line
    assert line.rstrip().endswith(remedy)
    assert contents() == before
