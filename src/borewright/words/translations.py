"""Catalogues of other languages in gettext's format, read by Babel and kept compiled."""

from __future__ import annotations

import gettext
import hashlib
import io
import os
import re
from collections.abc import Mapping
from functools import cache
from pathlib import Path

FOLDER = Path(__file__).parent / "catalogues"
_NAME = re.compile(r'"X-Language-Name: ([^"\\]+)')


def _known() -> dict[str, str]:
    """Languages by code: English, and each that has a catalogue, by the name in its head."""
    found = {"en": "English"}
    for path in sorted(FOLDER.glob("*.po")):
        with path.open(encoding="utf-8") as stream:
            name = _NAME.search(stream.read(600))
        if name:
            found[path.stem] = name[1]
    return found


LANGUAGES = _known()
#: What the environment may hold, first come first served (gettext's own order, after ours).
_VARIABLES = ("BOREWRIGHT_LANGUAGE", "LANGUAGE", "LC_ALL", "LC_MESSAGES", "LANG")


def language_wished(environment: Mapping[str, str] | None = None) -> str:
    """The language that the environment wishes for and that there is; English otherwise."""
    known = os.environ if environment is None else environment
    for variable in _VARIABLES:
        for wish in known.get(variable, "").split(":"):
            language = wish.split("_")[0].split(".")[0].lower()
            if language in LANGUAGES:
                return language
            if language in ("c", "posix"):
                return "en"
    return "en"


@cache
def catalogue(language: str) -> gettext.NullTranslations:
    """The translations of a language; what is missing in them stays English."""
    if language == "en" or language not in LANGUAGES:
        return gettext.NullTranslations()
    sources = sorted(FOLDER.glob(f"{language}*.po"))
    texts = [source.read_bytes() for source in sources]
    kept = _kept(language, b"".join(texts))
    try:
        return gettext.GNUTranslations(io.BytesIO(kept.read_bytes()))
    except (OSError, UnicodeDecodeError, ValueError):
        compiled = _compiled(texts, language)
    _keep(kept, compiled)
    return gettext.GNUTranslations(io.BytesIO(compiled))


def _compiled(texts: list[bytes], language: str) -> bytes:
    from babel.messages.catalog import Catalog
    from babel.messages.mofile import write_mo
    from babel.messages.pofile import read_po

    whole = Catalog(locale=language, fuzzy=False)
    for text in texts:
        for message in read_po(io.BytesIO(text), locale=language):
            if message.id and message.string and not message.fuzzy:
                whole[message.id if isinstance(message.id, str) else message.id[0]] = message
    stream = io.BytesIO()
    write_mo(stream, whole)
    return stream.getvalue()


def _kept(language: str, source: bytes) -> Path:
    base = os.environ.get("BOREWRIGHT_CACHE") or os.environ.get("XDG_CACHE_HOME")
    folder = Path(base) if base else Path.home() / ".cache"
    digest = hashlib.sha256(source).hexdigest()[:16]
    return folder / "borewright" / "words" / f"{language}-{digest}.mo"


def _keep(path: Path, compiled: bytes) -> None:
    # An unwritable cache only costs half a second at every start.
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        aside = path.with_suffix(f".{os.getpid()}")
        aside.write_bytes(compiled)
        aside.replace(path)
    except OSError:
        pass
