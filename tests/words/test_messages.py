"""Messages are data: names stay, numbers and words are told in the reader's language."""

from __future__ import annotations

import pickle
from decimal import Decimal

import numpy as np
import pytest
from hypothesis import given as generated
from hypothesis import strategies as st
from pydantic import BaseModel

from borewright.errors import ModelError
from borewright.words import (
    ENGLISH,
    Message,
    Reader,
    Said,
    catalogue,
    language_wished,
    listed,
    say,
    say_as,
    say_many,
)

GERMAN = Reader("de")
AWKWARD = ["upper or lower", "bell", "Fuß & Söhne", "{0}", "a, b; c.", "1.5"]


class Noted(BaseModel):
    what: Said


@pytest.fixture
def german(tmp_path, monkeypatch):
    """A reader with a small German catalogue of the test's own."""
    (tmp_path / "de.po").write_text(
        'msgid ""\nmsgstr ""\n"Content-Type: text/plain; charset=utf-8\\n"\n'
        '"Plural-Forms: nplurals=2; plural=(n != 1);\\n"\n\n'
        "msgid \"part '{part}' is {x_mm:.1f} mm long\"\n"
        'msgstr "{x_mm:.1f} mm lang ist Teil „{part}“"\n\n'
        'msgid "{count} hole"\nmsgid_plural "{count} holes"\n'
        'msgstr[0] "{count} Loch"\nmsgstr[1] "{count} Löcher"\n\n'
        'msgctxt "pad"\nmsgid "open"\nmsgstr "offen"\n\n'
        'msgctxt "button"\nmsgid "open"\nmsgstr "öffnen"\n\n'
        'msgid "{items} or {last}"\nmsgstr "{items} oder {last}"\n',
        encoding="utf-8",
    )
    monkeypatch.setattr("borewright.words.translations.FOLDER", tmp_path)
    monkeypatch.setenv("BOREWRIGHT_CACHE", str(tmp_path / "cache"))
    catalogue.cache_clear()
    yield GERMAN
    catalogue.cache_clear()


@pytest.mark.parametrize("name", AWKWARD)
def test_names_that_people_gave_are_never_translated(german, name):
    said = say("part '{part}' is {x_mm:.1f} mm long", part=name, x_mm=1234.56)
    assert ENGLISH.tell(said) == f"part '{name}' is 1234.6 mm long"
    assert german.tell(said) == f"1234,6 mm lang ist Teil „{name}“"


@pytest.mark.parametrize(("count", "words"), [(0, "0 Löcher"), (1, "1 Loch"), (2, "2 Löcher")])
def test_counts_have_their_plural(german, count, words):
    assert german.tell(say_many("{count} hole", "{count} holes", count)) == words


def test_a_word_with_two_meanings_has_its_context(german):
    assert german.tell(say_as("pad", "open")) == "offen"
    assert german.tell(say_as("button", "open")) == "öffnen"


def test_lists_are_joined_in_the_language(german):
    assert str(listed(["a", "b", "c"], "or")) == "a, b or c"
    assert german.tell(listed(["a", "b", "c"], "or")) == "a, b oder c"
    assert german.tell(listed(["a"], "or")) == "a"
    assert german.tell(listed([], "or")) == ""


def test_the_catalogue_is_kept_compiled_and_read_again(german, tmp_path):
    german.tell(say_as("pad", "open"))
    assert len(list((tmp_path / "cache").rglob("de-*.mo"))) == 1
    catalogue.cache_clear()
    assert german.tell(say_as("pad", "open")) == "offen"


@pytest.mark.parametrize(
    ("value", "spec", "english", "other"),
    [
        (1234567.891, ",.2f", "1,234,567.89", "1.234.567,89"),
        (-0.5, "+.1f", "-0.5", "-0,5"),
        (0.256, ".0%", "26%", "26\xa0%"),
        (np.float64(2.5), "g", "2.5", "2,5"),
        (np.int64(3), "", "3", "3"),
        (Decimal("12.50"), "f", "12.50", "12,50"),
    ],
)
def test_numbers(value, spec, english, other):
    assert ENGLISH.number(value, spec) == english
    assert GERMAN.number(value, spec) == other


@generated(st.text(), st.floats(allow_nan=False, allow_infinity=False))
def test_data_tell_the_same_again(name, number):
    said = say("'{name}' at {number:.3f}", name=name, number=number)
    noted = Noted(what=say("{inner} so", inner=said))
    data = noted.model_dump(mode="json", context={"messages": "data"})
    again = Noted.model_validate(data)
    assert again.what.value("inner").values == said.values
    assert str(again.what) == str(noted.what)
    assert noted.model_dump(mode="json") == {"what": str(noted.what)}


def test_values_are_those_of_the_places():
    with pytest.raises(TypeError, match="places"):
        say("'{name}' is long", nmae="bell")
    with pytest.raises(TypeError, match="cannot be told"):
        say("{what} is long", what=object())


def test_an_error_crosses_processes_whole():
    error = ModelError(
        say("'{x}' is not a number", x="abc"), place="a.toml", remedy=say("Write a number")
    ).at("folder")
    again = pickle.loads(pickle.dumps(error))
    assert str(again) == str(error) == "folder, a.toml: 'abc' is not a number. Write a number"
    assert isinstance(again.cause, Message)


@pytest.mark.parametrize(
    ("environment", "language"),
    [
        ({}, "en"),
        ({"LANG": "de_DE.UTF-8"}, "de"),
        ({"LANG": "de_DE.UTF-8", "LC_ALL": "C.UTF-8"}, "en"),
        ({"LANGUAGE": "fr:de", "LANG": "en_GB"}, "de"),
        ({"LANG": "de_DE", "BOREWRIGHT_LANGUAGE": "en"}, "en"),
        ({"LANG": "xx"}, "en"),
    ],
)
def test_the_environment_wishes(environment, language):
    assert language_wished(environment) == language
