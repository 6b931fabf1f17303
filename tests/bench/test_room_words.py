"""The rooms' texts are shown in the page's language: all of them, and nothing half."""

from __future__ import annotations

import re
import sys
from pathlib import Path

import pytest

from borewright.bench.words import LANGUAGES, _
from borewright.bench.words.room_catalogue import Catalogue, Template, room_messages
from borewright.bench.words.rooms import error_said, number_said, said, sentences
from borewright.errors import ModelError

sys.path.insert(0, str(Path(__file__).parent))
import room_texts
from room_shown import english_left, needed

OTHERS = [each for each in LANGUAGES if each != "en"]


def places(text: str) -> list[str]:
    return sorted(re.findall(r"\{([a-z_0-9]+)(?::n)?\}", text))


@pytest.mark.parametrize("language", OTHERS)
def test_every_text_of_the_rooms_is_translated(language):
    known = {room_texts.shape(text) for text in room_messages(language)}
    missing = {
        text: place for text, place in needed().items() if room_texts.shape(text) not in known
    }
    assert not missing


@pytest.mark.parametrize("language", OTHERS)
def test_no_translation_is_left_over(language):
    wanted = {room_texts.shape(text) for text in needed()}
    assert [text for text in room_messages(language) if room_texts.shape(text) not in wanted] == []


@pytest.mark.parametrize("language", OTHERS)
def test_translations_keep_their_places(language):
    messages = room_messages(language)
    assert [text for text in messages if places(text) != places(messages[text])] == []
    assert [text for text, other in messages.items() if not other or ":n}" in other] == []


@pytest.fixture
def german():
    _.language = "de"
    yield
    _.language = "en"


def test_english_stays_as_it_is():
    assert (
        said("the hole is 3.20 mm wide; nobody knows") == "the hole is 3.20 mm wide; nobody knows"
    )
    assert number_said("3.20") == "3.20"


def test_an_unknown_text_stays_as_it_is(german):
    assert said("Quux frobs 3.5") == "Quux frobs 3.5"
    assert said("rent and tools") == "rent and tools"


@pytest.mark.parametrize(
    ("english", "german_words"),
    [
        (
            "the hole is 3.20 mm wide; the smallest that can be made is 4 mm",
            "das Loch ist 3,20 mm weit; das kleinste, das sich machen lässt, misst 4 mm",
        ),
        # A limit within the advice, its own number within that; the part's name stays.
        (
            "Relaxing 'bell bore diameter 3: window of bore diameter' by 1 mm helps: "
            "-3.2 cents after a new fit.",
            "„bell Bohrungsdurchmesser 3: Spielraum Bohrungsdurchmesser“ um 1 mm zu lockern "
            "hilft: -3,2 Cent nach neuem Einstimmen.",
        ),
        # Where it stands: the file, the part's name and the key stay as the file has them.
        (
            "my horn.toml, part 'barrel', bore, line 3",
            "my horn.toml, Teil „barrel“, bore, Zeile 3",
        ),
        # Features that a room names itself are its words, not names.
        (
            "between the pad A and the post x there is 0.40 mm of air; 0.5 mm is needed for the "
            "key to move",
            "Polster A und Säule x: dazwischen 0,40 mm Luft; 0,5 mm braucht die Klappe, um sich "
            "zu bewegen",
        ),
        # What is to be typed into a file keeps its point.
        ("Set bearing_deg = 12.5.", "bearing_deg = 12.5 setzen."),
        ("check: leak, upper joint", "Prüfung: Dichtheit, upper joint"),
        (
            "Input should be 'finger', 'ring' or 'pad' (found 'lid')",
            "sollte 'finger', 'ring' oder 'pad' sein (gefunden: 'lid')",
        ),
        (
            "Write a number such as 12.5. 2 more finding(s) after this one.",
            "Eine Zahl schreiben, etwa 12.5. Danach noch 2 weitere Befunde.",
        ),
    ],
)
def test_a_text_is_recognised_by_its_shape(german, english, german_words):
    assert said(english) == german_words


def test_an_error_is_one_line(german):
    error = ModelError("is missing", place="a.toml, part 'bell', length_mm", remedy="Add it.")
    assert error_said(error) == "a.toml, Teil „bell“, length_mm: fehlt. Ergänzen."


def test_names_that_look_like_words_stay(german):
    assert said("upper joint, hole top") == "upper joint, Loch top"
    assert said("there is already a order 'the bore'") == "Auftrag „the bore“ gibt es schon"


def test_a_sentence_is_told_from_a_decimal_point():
    assert sentences("Set it to 1.5 mm. Then 2 more.") == ["Set it to 1.5 mm.", "Then 2 more."]


def test_a_template_knows_numbers_and_names():
    made = Template("hole '{name}' is {size:n} mm; {what}", "")
    assert [place.stays for place in made.places] == [True, False, False]
    assert [place.number for place in made.places] == [False, True, False]


def test_of_two_readings_the_one_that_leaves_less_is_taken(german):
    """A name may hold anything; that it holds a sentence is the worse reading."""
    assert said("face the rim of A by 0.25 mm") == "den Rand von A abfräsen, um 0,25 mm"
    assert said("Give what of it, such as station.").startswith("Bitte angeben: ")


@pytest.mark.parametrize("language", OTHERS)
def test_every_sentence_comes_out_as_its_own_translation(german, language):
    """Each sentence, filled as a room would fill it, comes out as its own translation."""
    wrong = []
    for english, other in room_messages(language).items():
        template = Template(english, other)
        values, shown = {}, {}
        for index, (name, number, stays, _quoted) in enumerate(template.places):
            values[name] = "3.5" if number else f"Zq{index}"
            shown[name] = "3,5" if number and not stays else values[name]
        filled = written(english, values)
        if said(filled) != written(other, shown):
            wrong.append((filled, said(filled)))
        elif english_left(filled):
            wrong.append((filled, english_left(filled)))
    assert wrong == []


def written(text: str, values: dict[str, str]) -> str:
    """A text with its places filled."""
    return re.sub(r"\{([a-z_0-9]+)(?::n)?\}", lambda place: values[place[1]], text)


def test_a_long_list_is_quick_enough(german):
    """Two hundred findings compare against few templates each: the index holds."""
    catalogue = Catalogue("de")
    tried = [
        len(catalogue.fitting(f"the hole is {n}.20 mm wide; a finger covers 9 mm at most"))
        for n in range(5)
    ]
    assert max(tried) < 0.1 * len(room_messages("de"))
