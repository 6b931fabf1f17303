"""Every way in which TOML's reader refuses a text is a sentence of ours, in both languages."""

from __future__ import annotations

import tomllib

import pytest

from borewright.errors import ModelError
from borewright.model.files.toml import parsed_toml
from borewright.words import Reader

WRONG = {
    "%": "neither a key with its value nor a heading",
    "a.[b] = 1": "a key is missing",
    "a = nothing": "this is no value",
    "a = 2026-02-30": "no such day",
    'a = "\\uzzzz"': "backslash",
    'a = "\\q"': "backslash",
    'a = "\\ud800"': "backslash",
    'a = "open\n"': "the sign \\n cannot stand here",
    'a = "open': "quotes of a text",
    'a = """open': "quotes of a text",
    "a = 'open": "the sign ' is missing",
    "a = '''open": "the sign ''' is missing",
    "a = [1 2]": "a list is not closed",
    "a = {b = 1 c = 2}": "a table in braces",
    "a = 1 b = 2": "the line must end",
    "[a": "the sign ] is missing",
    "[[a": "the sign ]] is missing",
    "a 1": "the sign = is missing",
    "a = 1\na = 2": "a key or a table stands twice",
    "[part]\n[part]": "'part' stands twice",
    "[part]\n[[part]]": "a key or a table stands twice",
    "a = {b = 1}\n[a.c]": "stands twice",
    "a = {b = 1, b = 2}": "'b' stands twice",
    "a = 1 # \x00": "cannot stand here",
}


@pytest.mark.parametrize("text", WRONG)
def test_the_reason_is_told_in_the_readers_language(text):
    with pytest.raises(ModelError) as caught:
        parsed_toml(text, "bell.toml")
    english, german = str(caught.value), caught.value.told(Reader("de"))
    assert WRONG[text] in english
    assert english.startswith("bell.toml, line ")
    assert german.startswith("bell.toml, Zeile ")
    with pytest.raises(tomllib.TOMLDecodeError) as theirs:
        tomllib.loads(text)
    words = str(theirs.value).split(" (at ")[0]
    assert words not in english
    assert words not in german
