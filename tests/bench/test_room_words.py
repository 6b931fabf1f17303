"""The rooms' texts are shown in the page's language: all of them, and nothing half."""

from __future__ import annotations

import errno
import importlib.util
import inspect
import os
import re
import tomllib._parser as toml_parser
from pathlib import Path
from types import ModuleType

import pytest
from pydantic_core._pydantic_core import list_all_errors

import borewright
from borewright.bench.words import LANGUAGES, _
from borewright.bench.words.rooms import (
    Catalogue,
    Template,
    clauses,
    error_said,
    number_said,
    room_messages,
    said,
    sentences,
)
from borewright.documents import CAUTIONS
from borewright.doors.examples import Example, copy_example
from borewright.errors import LedgerError, ModelError
from borewright.fit import body_findings
from borewright.ledger import RECORD_KINDS, Ledger, sign_off, waiting_for
from borewright.ledger.kinds.proving import NEEDED_CHECKS, SIGN_OFF
from borewright.model import Instrument, KeyworkSurvey, load, read_survey

SOURCE = Path(borewright.__file__).parent
OTHERS = [each for each in LANGUAGES if each != "en"]


def _reader() -> ModuleType:
    spec = importlib.util.spec_from_file_location(
        "room_texts", Path(__file__).with_name("room_texts.py")
    )
    assert spec
    assert spec.loader
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


READER = _reader()

#: Rooms whose texts reach the page, each with what of it does not, because no view asks for it.
ROOMS: dict[str, tuple[str, ...]] = {
    "model": (
        "model/files/blocks.py",
        "model/files/bores.py",
        "model/bores/measured.py",
        "model/bores/placing.py",
        "model/files/migrations",
    ),
    "fit": (
        "fit/families",
        "fit/bores/smoothing.py",
        "fit/bores/_shapes.py",
    ),
    "ledger": (
        "ledger/migrations",
        "ledger/migrating.py",
        "ledger/backup.py",
        "ledger/restoring.py",
        "ledger/verifying.py",
        "ledger/planning.py",
        "ledger/pitch_scatter.py",
        "ledger/schema.py",
    ),
    "solids": (
        "solids/measure.py",
        "solids/_file_names.py",
    ),
    "printing": (
        "printing/simulated.py",
        "printing/coupon.py",
    ),
    "playing": ("playing/calibration.py",),
    "acoustics": (
        "acoustics/solved",
        "acoustics/impedance.py",
        "acoustics/structure.py",
        "acoustics/parameters.py",
    ),
    "documents": (),
    "doors": (
        "doors/own_folder.py",
        "doors/reference.py",
        "doors/bores/families.py",
        "doors/bores/measuring.py",
        "doors/playing/revising.py",
        "doors/ledger/options.py",
    ),
    "bench": (),
}
#: Rooms that write for paper and the shell, or have a catalogue: only their errors count here.
ERRORS_ONLY = ("bench", "documents", "doors")

#: Texts the reader finds that no person sees: SQL, names of attributes and keys, patterns.
INTERNAL = frozenset(
    {
        "(found {shown_2}…)",
        "BEGIN",
        "BEGIN IMMEDIATE",
        "Benade 1960 and 1976; irregular rows: Moers and Kergomard 2011; both from memory",
        "Benade, Fundamentals of Musical Acoustics (1976), from memory",
        "Cannot",
        "Invented demonstration data",
        "Nominal dimensions, no print compensation",
        "PRAGMA foreign_keys=ON",
        "PRAGMA journal_mode=WAL",
        "PRAGMA synchronous=FULL",
        "REPEATABLE READ",
        "Value error",
        "[S17], middle of 1.22 to 1.26",
        "[S17], middle of 55 to 65",
        "[instrument] fingerings",
        "\\(at (line \\d+, column \\d+|end of document)\\)$",
        "add",
        "at its",
        "binary STL, mm: {title}",
        "borewright {words}",
        "cause",
        "code",
        "common practice",
        "currency",
        "dB, Hz",
        "dB, cents",
        "disk is full",
        "displaced mm3",
        "ends open",
        "energy balance, thirds of an octave of IEC 61260-1",
        "every",
        "export",
        "flow through the slit over what the bore can carry",
        "format",
        "fuse",
        "high",
        "inner closed",
        "instrument",
        "key",
        "kind",
        "line {splitlines}",
        "low",
        "memory, 1.10 to 1.25; falls as wood rises [S18]",
        "memory: chimneys",
        "memory; falls with wood [S18]",
        "missing",
        "modified z-score beyond 3.5 (Iglewicz and Hoaglin, 1993)",
        "module '{name}' has no attribute '{name_2}'",
        "mouth pressure over the pressure that closes the reed",
        "msg",
        "name",
        "our own definition",
        "part '{name}', {target}",
        "place",
        "plain PLA",
        "print keywork-order",
        "print set-up",
        "remedy",
        "screw of",
        "seat of hole",
        "series closed",
        "series open",
        "small cube",
        "subject",
        "tall frame",
        "textbook definitions; Fletcher and Rossing, The Physics of Musical Instruments",
        "the column '{unknown}' is",
        "the {key}",
        "there twice",
        "title",
        "unable to open",
        "unchanged by wood [S18], range of [S17] and [S19]",
        "unknown",
        "volume closed",
        "whole-{name}",
        "wood-filled PLA",
        "{benade}; Debut, Kergomard and Laloë, arXiv physics/0309051",
        "{hole_name} diameter",
        "{hole} lift",
        "{pad_name} and {post_name}",
        "{part_name} length",
        "{path}, line {line}",
        "{path}, line {line}, column 'measured_mm'",
        "{place}, [instrument]",
        "{remedy} {others} more finding(s) after this one",
        "{remedy} {others} more part(s) or row(s) look the same",
    }
)

#: What the reader cannot put together, because it is joined from words far apart.
JOINED = frozenset(
    {
        "a shoulder",
        "altissimo",
        "and",
        "attack ms",
        "base",
        "bore diameter",
        "bore length",
        "bore station",
        "boss",
        "bottom",
        "brighter",
        "centroid hz",
        "cents",
        "chalumeau",
        "chimney",
        "clarion",
        "climate",
        "cork",
        "cup",
        "cup '{row_name}'",
        "dB/octave",
        "darker",
        "down",
        "end",
        "finger",
        "flat",
        "flatter",
        "floor",
        "height",
        "hole across",
        "hole upright",
        "insert",
        "into bore",
        "keywork from '{source}'",
        "lattice cut-off {value:n} Hz",
        "leak_flow",
        "length",
        "lift",
        "line {line}",
        "material",
        "mouthpiece",
        "mouthpiece bore diameter",
        "mouthpiece bore length",
        "none",
        "nothing",
        "o-ring",
        "odd even db",
        "or",
        "out of alignment {value:n} cents",
        "outside",
        "pad",
        "pilot",
        "pitch",
        "pitch {value:n} cents",
        "post",
        "radiated at 1250 Hz {value:n} dB",
        "reed",
        "ring",
        "ring '{row_name}'",
        "screw of '{owner_name}'",
        "seat of hole '{owner_name}'",
        "set",
        "shank",
        "sharper",
        "shoulder",
        "slip",
        "slope db per octave",
        "socket",
        "socket at its bottom",
        "socket at its top",
        "sounding peak {value:n} dB",
        "station",
        "tenon",
        "tenon at its bottom",
        "tenon at its top",
        "the column '{unknown}' is there twice",
        "the cup '{row_name}'",
        "the diameter",
        "the ring '{row_name}'",
        "throat",
        "top",
        "undercut depth",
        "undercut diameter",
        "up",
        "venting",
        "venting {value:n} dB",
        "{others} more finding(s) after this one",
        "{others} more part(s) or row(s) look the same",
        "{owner_name} bore diameter {number}",
        "{owner_name} bore station {number}",
        "{owner_name} chimney",
        "{owner_name} diameter",
        "{owner_name} into bore",
        "{owner_name} length",
        "{owner_name} lift",
        "{owner_name} station",
        "{owner_name} undercut depth",
        "{owner_name} undercut diameter",
        "{plating} keywork from '{source}'",
    }
)

#: What pydantic says of a value that a file may hold.
PYDANTIC = (
    "greater_than", "greater_than_equal", "less_than", "less_than_equal", "finite_number",
    "float_type", "float_parsing", "int_type", "int_parsing", "int_from_float", "string_type",
    "string_too_short", "string_too_long", "string_pattern_mismatch", "bool_type",
    "bool_parsing", "enum", "list_type", "tuple_type", "dict_type", "model_type", "too_short",
    "too_long", "missing",
)  # fmt: skip


def pydantic_texts() -> set[str]:
    """Its sentences, one and many written out."""
    found = {e["type"]: e["message_template_python"] for e in list_all_errors()}
    texts = {found[kind] for kind in PYDANTIC}
    texts = {re.sub(r"\{([gl][te])\}", r"{\1:n}", text) for text in texts}
    return {text.replace("{expected_plural}", end) for text in texts for end in ("", "s")}


def toml_texts() -> set[str]:
    """What the standard library says of a file that is no TOML."""
    source = inspect.getsource(toml_parser)
    found = re.findall(r'suffixed_err\(\s*\w+,\s*\w+,\s*f?"((?:[^"\\]|\\.)+)"', source)
    return {re.sub(r"\{.*?\}", "{value}", text).replace("\\\\", "\\") for text in found}


def system_texts() -> set[str]:
    """What the operating system says of files and addresses."""
    names = ("EACCES", "ENOSPC", "ENOENT", "EISDIR", "ENOTDIR", "EEXIST", "ENAMETOOLONG",
             "EROFS", "EIO", "EADDRINUSE", "EMFILE")  # fmt: skip
    return {os.strerror(getattr(errno, name)) for name in names}


def caution_texts() -> set[str]:
    """Sentences of the cautions that stand beside printed parts."""
    return {sentence for each in CAUTIONS for sentence in clauses(each.about) + clauses(each.text)}


def ledger_words() -> set[str]:
    """Words of the ledger's tables and fields, and the values that a field may have."""
    kinds = RECORD_KINDS.values()
    fields = [field for kind in kinds for field in kind.fields]
    return {
        *RECORD_KINDS,
        *NEEDED_CHECKS,
        SIGN_OFF,
        *(words for kind in kinds for words in (kind.words, kind.code_words)),
        *(field.words for field in fields),
        *(choice for field in fields for choice in field.choices),
    }


def needed() -> dict[str, str]:
    """Every text that the rooms may show, with the place where it stands."""
    found: dict[str, str] = {}
    internal = {READER.shape(text) for text in INTERNAL}
    shapes = set(internal)
    for room, left_out in ROOMS.items():
        texts = READER.texts_of_room(
            SOURCE / room, only_errors=room in ERRORS_ONLY, left_out=left_out
        )
        for text, place in texts.items():
            if READER.shape(text) not in shapes:
                shapes.add(READER.shape(text))
                found[text] = place
    assembled = {
        **dict.fromkeys(JOINED, "joined from words"),
        **dict.fromkeys(pydantic_texts(), "pydantic"),
        **dict.fromkeys(toml_texts(), "tomllib"),
        **dict.fromkeys(system_texts(), "the operating system"),
        **dict.fromkeys(caution_texts(), "documents/cautions"),
        **dict.fromkeys(ledger_words(), "ledger/kinds"),
    }
    for text, place in assembled.items():
        if READER.shape(text) not in shapes - internal:
            found[text] = place
    return found


def places(text: str) -> list[str]:
    return sorted(re.findall(r"\{([a-z_0-9]+)(?::n)?\}", text))


@pytest.mark.parametrize("language", OTHERS)
def test_every_text_of_the_rooms_is_translated(language):
    known = {READER.shape(text) for text in room_messages(language)}
    missing = {text: place for text, place in needed().items() if READER.shape(text) not in known}
    assert not missing


@pytest.mark.parametrize("language", OTHERS)
def test_no_translation_is_left_over(language):
    wanted = {READER.shape(text) for text in needed()}
    assert [text for text in room_messages(language) if READER.shape(text) not in wanted] == []


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
    assert made.places == [("name", False, True), ("size", True, False), ("what", False, False)]


#: Words that no German sentence of the page holds.
ENGLISH = re.compile(
    r"\b(the|is|are|and|of|or|with|to|not|its|hole|wall|needed|allowed|make|give|write|which)\b",
    re.IGNORECASE,
)


def english_left(text: str, *names: str) -> str:
    """The German of a text where an English word is left in it, else nothing.

    Quotes, names and what is to be typed do not count.
    """
    shown = said(text)
    for name in names:
        shown = shown.replace(name, "")
    shown = re.sub(r"„[^“]*“|'[^']*'|`[^`]*`|\S*_\S*|\w+\.\w+|\S+ = \S+|\[\S+\]|--\w+", "", shown)
    return shown if ENGLISH.search(shown) else ""


@pytest.mark.parametrize("language", OTHERS)
def test_every_sentence_comes_out_as_its_own_translation(german, language):
    """Each sentence, filled as a room would fill it, comes out as its own translation."""
    wrong = []
    for english, other in room_messages(language).items():
        template = Template(english, other)
        values, shown = {}, {}
        for index, (name, number, stays) in enumerate(template.places):
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


def clarinet(tmp_path: Path) -> tuple[Instrument, KeyworkSurvey]:
    file = copy_example(Example.CLARINET, tmp_path)[0]
    return load(file), read_survey(file.with_name("keywork.csv"))


def spoiled(instrument: Instrument) -> Instrument:
    """Limits that hardly any hole keeps, turned holes, other covers and lifts."""
    data = instrument.model_dump()
    data["fit"] |= {
        "smallest_hole_mm": 4.6, "largest_finger_hole_mm": 6.0, "largest_vent_mm": 2.0,
        "wall_between_holes_mm": 9.0, "pad_overlap_mm": 2.6, "chimney_wall_mm": 2.2,
        "lowest_chimney_mm": 0.2, "highest_chimney_mm": 0.3,
    }  # fmt: skip
    holes = [hole for part in data["parts"] for hole in part["holes"]]
    for number, hole in enumerate(holes):
        hole["bearing_deg"] += -5.0 if hole["bearing_deg"] > 0 else 5.0
        hole["station_mm"] += (-1.5, 0.0, 1.5)[number % 3]
        if hole["pad"]:
            hole["pad"]["lift_mm"] = 1.0
            hole["pad"]["diameter_mm"] += 0.8
        elif number % 2:
            hole["cover"] = "finger" if hole["cover"] == "ring" else hole["cover"]
    return Instrument.model_validate(data)


def test_findings_of_a_spoiled_clarinet_are_german(german, tmp_path):
    instrument, survey = clarinet(tmp_path)
    names = [*instrument.hole_names(), *(part.name for part in instrument.parts)]
    rows = [row.name for row in survey.rows]
    findings = body_findings(spoiled(instrument), survey)
    assert len({finding.what.split(";")[0][-20:] for finding in findings}) > 20
    for finding in findings:
        for text in (finding.place, finding.what, finding.remedy):
            assert not english_left(text, *names, *rows)


WRONG = {
    "unknown key": ('name = "barrel"', 'name = "barrel"\nlenght_mm = 3'),
    "not a number": ("length_mm = ", "length_mm = 'long' #"),
    "negative": ("length_mm = ", "length_mm = -"),
    "inches": ("length_mm = ", "length_mm = 0.0"),
    "no toml": ("[[part]]", "[[part]"),
    "future format": ("format = ", "format = 9"),
    "no parts": ("[[part]]", "[[piece]]"),
    "a cover of another kind": ('cover = "ring"', 'cover = "lid"'),
    "backwards": ("bore = [[0", "bore = [[900"),
    "a key of no part": ("[instrument]", "[instrument]\nweight = 3"),
}


@pytest.mark.parametrize("kind", WRONG)
def test_errors_of_a_wrong_file_are_german(german, tmp_path, kind):
    instrument, _survey = clarinet(tmp_path)
    file = next(tmp_path.glob("*.toml"))
    before, after = WRONG[kind]
    text = file.read_text(encoding="utf-8")
    assert before in text
    file.write_text(text.replace(before, after), encoding="utf-8")
    with pytest.raises(ModelError) as caught:
        load(file)
    error = caught.value
    for part in (error.place, error.cause, error.remedy):
        assert not english_left(part, str(file), *(part.name for part in instrument.parts))


def test_what_a_serial_waits_for_is_german(german, tmp_path):
    ledger = Ledger(tmp_path / "ledger.db", create=True)
    kept = ledger.keep_file("x.toml", b"x")
    ledger.add(
        "design",
        {
            "code": "D1",
            "name": "x",
            "file": kept,
            "file_name": "x.toml",
            "parts": "Alpha; Beta",
            "sealed_parts": "Alpha",
        },
        who="Q",
    )
    ledger.add("instrument", {"code": "S1", "design": "D1"}, who="Q")
    needs = waiting_for(ledger)["S1"]
    assert len(needs) > 6
    for need in needs:
        assert not english_left(need, "Alpha", "Beta", "D1")
    with pytest.raises(LedgerError) as caught:
        sign_off(ledger, "S1", who="Q")
    assert not english_left(caught.value.cause, "Alpha", "Beta", "D1")
    assert not english_left(caught.value.remedy)


def test_a_long_list_is_quick_enough(german):
    """Two hundred findings compare against few templates each: the index holds."""
    catalogue = Catalogue("de")
    tried = [
        len(catalogue.fitting(f"the hole is {n}.20 mm wide; a finger covers 9 mm at most"))
        for n in range(5)
    ]
    assert max(tried) < 0.1 * len(room_messages("de"))
