"""What is said is data: no sentence is put together where it arises.

A sentence joined from pieces, or filled before it reaches a reader, cannot be told in another
language. Read from the source, in every room.
"""

from __future__ import annotations

import ast
import builtins
import re
from pathlib import Path

import pytest

import borewright

SOURCE = Path(borewright.__file__).parent
#: Calls whose first argument is a template: it must stand there as it is.
SAYING = {"say": 1, "say_many": 2, "say_as": 2, "_": 1, "words": 1, "many": 2}
#: Calls that carry something said, besides every error: which arguments hold words or a place.
CARRYING = {"Finding", "Notice", "RefusedValue"}
SAID = ("cause", "what", "remedy", "advice")
#: Rooms whose sentences are not data yet.
PENDING: set[str] = set()
#: Texts that are filled on the spot and that no person reads as a sentence: markup and scripts,
#: statements of SQL, what ``str()`` shows in Python, and mistakes of who calls a function.
UNREAD = re.compile(
    r"[<>]|data-mark|document\.|history\.|aria-|CREATE |^check-bar|base64|SameSite"
    r"|^binary STL|\.csv$"
)
UNREAD_IN = {"listing.py", "acoustics/solved/result.py", "acoustics/solved/whole/result.py",
             "keywork/plane.py", "keywork/shapes.py"}  # fmt: skip
#: A filled text of so many words is a sentence.
WORDS = 3


def put_together(node: ast.expr | None) -> bool:
    """Whether an expression is text filled or joined on the spot."""
    if isinstance(node, ast.JoinedStr):
        return True
    if isinstance(node, ast.BinOp):
        return any(
            isinstance(each, ast.JoinedStr)
            or (isinstance(each, ast.Constant) and isinstance(each.value, str))
            for each in ast.walk(node)
        )
    if isinstance(node, ast.IfExp):
        return put_together(node.body) or put_together(node.orelse)
    if isinstance(node, ast.Tuple):
        return any(put_together(each) for each in node.elts)
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
        return node.func.attr in ("format", "join") and isinstance(node.func.value, ast.Constant)
    return False


def bare_words(node: ast.expr | None) -> bool:
    """Whether an expression is a text of several words that nobody said."""
    if isinstance(node, ast.IfExp):
        return bare_words(node.body) or bare_words(node.orelse)
    if isinstance(node, ast.Tuple):
        return any(bare_words(each) for each in node.elts)
    return isinstance(node, ast.Constant) and isinstance(node.value, str) and " " in node.value


def name_of(call: ast.Call) -> str:
    """The last name of what is called."""
    func = call.func
    return func.attr if isinstance(func, ast.Attribute) else getattr(func, "id", "")


def faults(path: Path) -> list[str]:
    """``line: why`` of every sentence that is not data."""
    found = []
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if not isinstance(node, ast.Call):
            continue
        name = name_of(node)
        if name in SAYING and node.args:
            templates = node.args[: SAYING[name]]
            if not all(isinstance(each, ast.Constant) for each in templates):
                found.append(f"{node.lineno}: the template of {name}() is not written out")
        ours = name.endswith("Error") and name[:1].isupper() and not hasattr(builtins, name)
        if not ours and name not in CARRYING:
            continue
        words = {key.arg: key.value for key in node.keywords if key.arg}
        if node.args:
            words["cause"] = node.args[0]
        for key, value in words.items():
            if key in (*SAID, "place") and (put_together(value) or bare_words(value)):
                found.append(f"{node.lineno}: {key} of {name} is no message")
    return found


def filled(path: Path) -> list[str]:
    """``line: text`` of every sentence filled by an f-string, wherever it goes."""
    found = []
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.JoinedStr):
            parts = [
                each.value if isinstance(each, ast.Constant) else " {} " for each in node.values
            ]
            text = "".join(map(str, parts))
            if len(re.findall(r"[A-Za-z]{2,}", text)) >= WORDS and not UNREAD.search(text):
                found.append(f"{node.lineno}: {text}")
    return found


def modules() -> list[Path]:
    return [
        path
        for path in sorted(SOURCE.rglob("*.py"))
        if path.relative_to(SOURCE).parts[0] not in {*PENDING, "words"}
    ]


@pytest.mark.parametrize("path", modules(), ids=lambda path: str(path.relative_to(SOURCE)))
def test_sentences_are_data(path):
    assert faults(path) == []


@pytest.mark.parametrize("path", modules(), ids=lambda path: str(path.relative_to(SOURCE)))
def test_no_sentence_is_filled_on_the_spot(path):
    if path.relative_to(SOURCE).as_posix() not in UNREAD_IN:
        assert filled(path) == []


def test_rooms_that_are_pending_exist():
    assert [room for room in PENDING if not (SOURCE / room).exists()] == []


@pytest.mark.parametrize(
    "text",
    [
        'raise ModelError(f"{x} is wrong")',
        'raise ModelError("x is " + y)',
        'raise ModelError(say("a"), remedy="Write a number")',
        'raise ModelError(say("a"), place=f"{file}, line {n}")',
        'raise ModelError(say("a"), place=(file, "line 3"))',
        'say(f"{x} is wrong")',
        'say("a" if b else "c")',
        'Finding(severity=s, place=p, what="{} is".format(x), remedy=say("a"))',
        'words("Hole " + name)',
        'LedgerError("; ".join(parts))',
    ],
)
def test_the_reader_notices(tmp_path, text):
    file = tmp_path / "a.py"
    file.write_text(text + "\n", encoding="utf-8")
    assert len(faults(file)) == 1


def test_the_reader_notices_a_sentence_that_is_filled(tmp_path):
    file = tmp_path / "a.py"
    file.write_text(
        """raise ValueError(f"the mesh holds {x} mm³ instead")\nf"{a}/{b}.csv"\n""",
        encoding="utf-8",
    )
    assert filled(file) == ["1: the mesh holds  {}  mm³ instead"]


def test_the_reader_lets_data_pass(tmp_path):
    file = tmp_path / "a.py"
    file.write_text(
        'raise ModelError(say("{x} is wrong", x=x), place=(file, say("line {n}", n=3), "key_mm"),'
        " remedy=advice) from error\n",
        encoding="utf-8",
    )
    assert faults(file) == []
