"""What of the rooms' texts a person sees on the page, as far as it is written somewhere."""

from __future__ import annotations

import errno
import inspect
import os
import re
import sys
import tomllib._parser as toml_parser
from pathlib import Path

from pydantic_core._pydantic_core import list_all_errors

import borewright
from borewright.bench.words.rooms import clauses, said
from borewright.documents import CAUTIONS
from borewright.ledger import RECORD_KINDS
from borewright.ledger.kinds.proving import NEEDED_CHECKS, SIGN_OFF

sys.path.insert(0, str(Path(__file__).parent))
import room_texts

SOURCE = Path(borewright.__file__).parent

#: Rooms whose texts reach the page, each with what of it does not, because no view asks for it.
ROOMS: dict[str, tuple[str, ...]] = {
    "model": (
        "model/files/blocks.py",
        "model/files/migrations",
    ),
    "fit": (
        "fit/families",
        "fit/bores/_shapes.py",
    ),
    "ledger": (
        "ledger/migrations",
        "ledger/migrating.py",
        "ledger/restoring.py",
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
        "print {index} on {number}",
        "start {index}",
        "{index} on {number}",
        "(found {shown_2}…)",
        "BEGIN",
        "BEGIN IMMEDIATE",
        "Benade 1960 and 1976; irregular rows: Moers and Kergomard 2011; both from memory",
        "Benade, Fundamentals of Musical Acoustics (1976), from memory",
        "Cannot",
        "Invented demonstration data",
        "Nominal dimensions, no print compensation",
        "PRAGMA foreign_key_check",
        "PRAGMA foreign_keys=ON",
        "PRAGMA integrity_check",
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
        "different",
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
        "{name} do not sound in their register, so what is heard is another note",
        "{name} do not speak",
        "{name} sound here with lower resonances weakened throughout, as a player's mouth may do",
        "{name} speak only when the player prepares the register",
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
    internal = {room_texts.shape(text) for text in INTERNAL}
    shapes = set(internal)
    for room, left_out in ROOMS.items():
        texts = room_texts.texts_of_room(
            SOURCE / room, only_errors=room in ERRORS_ONLY, left_out=left_out
        )
        for text, place in texts.items():
            if room_texts.shape(text) not in shapes:
                shapes.add(room_texts.shape(text))
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
        if room_texts.shape(text) not in shapes - internal:
            found[text] = place
    return found


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
