"""Bring the catalogues of other languages up to date, and list what is missing in them.

    python tools/catalogues.py            # extract, update every catalogue, list what is missing
    python tools/catalogues.py --check    # write nothing; exit code 1 where anything is missing

Sentences are found by Babel's own extractor; the command line's help, which stands in
docstrings and options, is read from the commands themselves.
"""

from __future__ import annotations

import argparse
import io
import sys
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.extract import extract_from_dir
from babel.messages.pofile import read_po, write_po

ROOT = Path(__file__).parents[1]
SOURCE = ROOT / "src" / "borewright"
FOLDER = SOURCE / "words" / "catalogues"
#: Functions that say something: which arguments are texts, plurals (1, 2), contexts ("1c").
SAYING = {
    "say": None,
    "_": None,
    "words": None,
    "say_many": (1, 2),
    "many": (1, 2),
    "say_as": ((1, "c"), 2),
}


def sentences() -> Catalog:
    """Every sentence of the sources and of the command line's help."""
    found = Catalog(fuzzy=False)
    for file, line, message, _comments, context in extract_from_dir(
        SOURCE, method_map=[("**.py", "python")], keywords=SAYING
    ):
        place = (str(Path("src/borewright") / file), line)
        found.add(message, locations=[place], context=context)
    for text in help_texts():
        found.add(text, locations=[("src/borewright/cli.py", 1)])
    return found


def help_texts() -> list[str]:
    """What ``--help`` shows: commands, their arguments and options."""
    from borewright.cli import app
    from borewright.doors.help import help_texts as texts

    return texts(app)


def updated(language: str, found: Catalog) -> tuple[Catalog, list[str]]:
    """A language's catalogue with the sentences of today, and those it lacks."""
    catalogue = read(language)
    catalogue.update(found, no_fuzzy_matching=True)
    catalogue.obsolete.clear()
    return catalogue, [text_of(each) for each in catalogue if each.id and not told(each)]


def read(language: str) -> Catalog:
    """The catalogue as it stands, whatever number of files it is in."""
    whole = Catalog(locale=language, fuzzy=False)
    for path in sorted(FOLDER.glob(f"{language}*.po")):
        for message in read_po(io.BytesIO(path.read_bytes()), locale=language):
            if message.id and told(message):
                whole.add(message.id, message.string, context=message.context)
    return whole


def told(message) -> bool:
    """Whether a message has its words in the language."""
    words = message.string if isinstance(message.string, tuple) else (message.string,)
    return all(words)


def text_of(message) -> str:
    """The English of a message."""
    return message.id if isinstance(message.id, str) else message.id[0]


def written(catalogue: Catalog) -> bytes:
    """A catalogue as its file holds it: by the alphabet, no places, no dates."""
    stream = io.BytesIO()
    write_po(stream, catalogue, no_location=True, omit_header=True, sort_output=True, width=99)
    head = (
        f'msgid ""\nmsgstr ""\n"Language: {catalogue.locale_identifier}\\n"\n'
        f'"X-Language-Name: {catalogue.locale.display_name}\\n"\n'
        '"Content-Type: text/plain; charset=utf-8\\n"\n'
        f'"Plural-Forms: {catalogue.plural_forms}\\n"\n\n'
    )
    return head.encode() + stream.getvalue()


def main() -> int:
    """Update or check; the exit code is 1 where a check finds something missing."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--check", action="store_true", help="write nothing")
    check = parser.parse_args().check
    found, missing = sentences(), 0
    for language in sorted({path.name[:2] for path in FOLDER.glob("*.po")}):
        catalogue, absent = updated(language, found)
        if not check:
            (FOLDER / f"{language}.po").write_bytes(written(catalogue))
        missing += len(absent)
        print(f"{language}: {len(found)} sentences, {len(absent)} of them missing")
        for text in absent:
            print(f"  {text}")
    return 1 if check and missing else 0


if __name__ == "__main__":
    sys.exit(main())
