"""Papers printed from a ledger: in the customer's language, names as people gave them.

The names are invented to be awkward: a part that reads like two, one that is a word of the
trade, a firm with letters beyond ASCII.
"""

from __future__ import annotations

import re
from html import unescape

import pytest
from workshop import check, fill, make

from borewright.errors import LedgerError
from borewright.ledger import sign_off
from borewright.tasks.ledger.papers import PaperKind, write_ledger_paper
from borewright.words import Reader

AWKWARD = ("Fuß & Söhne no. 3", "upper or lower", "bell")
#: What English leaves behind in a German page where a sentence was not translated.
ENGLISH = re.compile(r"\b(the|of|and|with|from|this|every|is|are|not|when|printed|check(?!-))\b")


@pytest.fixture
def book(ledger):
    """An instrument signed off, its quotation priced, some of everything a paper shows."""
    fill(ledger, language="de", unit_price="1234.50", tax_percent="19", shipping_price="12.25")
    make(ledger)
    sign_off(ledger, "007", who="Ada")
    return ledger


def printed(book, kind: PaperKind, code: str, folder, language: str = "en") -> str:
    made = write_ledger_paper(book, kind, code, folder, who="Ada", words=Reader(language))
    assert made.pdf.read_bytes().startswith(b"%PDF-")
    html = made.html.read_text(encoding="utf-8")
    assert f'<html lang="{language}">' in html or kind is not PaperKind.TRAVELLER
    return unescape(re.sub(r"<(style|svg).*?</\1>|<[^>]+>", " ", html, flags=re.DOTALL))


def without_names(text: str) -> str:
    for name in (*AWKWARD, "Fuß & Söhne"):
        text = text.replace(name, "")
    return text


def test_a_quotation_in_the_customers_language(book, tmp_path):
    german = printed(book, PaperKind.QUOTATION, "R", tmp_path)
    assert "Angebot an Fuß & Söhne" in german
    # 1234.50 and 12.25 are 1246.75; 19 % of it are 236.8825; together 1483.63.
    assert "1.246,75 EUR" in german
    assert "236,88 EUR" in german
    assert "1.483,63 EUR" in german
    assert ENGLISH.findall(without_names(german)) == []
    book.correct("order", "R", {"language": "en"}, who="Ada", reason="asked for")
    assert "1,483.63 EUR" in printed(book, PaperKind.QUOTATION, "R", tmp_path, "de")


def test_a_certificate_and_a_care_sheet_in_german(book, tmp_path):
    certificate = printed(book, PaperKind.CERTIFICATE, "007", tmp_path)
    for words in (*AWKWARD, "Prüfzeugnis 007", "Dichtheit", "20 s Unterdruck gehalten",
                  "mindestens 10", "Die Luft hatte 21,5 °C", "−0,05 bis 0,05"):  # fmt: skip
        assert words in certificate
    assert ENGLISH.findall(without_names(certificate)) == []
    care = printed(book, PaperKind.CARE, "007", tmp_path)
    assert "Pflege des Instruments 007" in care
    assert ENGLISH.findall(without_names(care)) == []


@pytest.mark.parametrize(("language", "void"), [("en", "VOID"), ("de", "UNGÜLTIG")])
def test_a_traveller_tells_a_void_certificate(book, tmp_path, language, void):
    printed(book, PaperKind.CERTIFICATE, "007", tmp_path)
    assert void not in printed(book, PaperKind.TRAVELLER, "007", tmp_path, language)
    check(book, "leak", feature="upper or lower", value=3)
    traveller = printed(book, PaperKind.TRAVELLER, "007", tmp_path, language)
    assert void in traveller
    for name in AWKWARD:
        assert name in traveller
    if language == "de":
        assert "upper or lower drucken" in traveller
        assert ENGLISH.findall(without_names(traveller)) == []


def test_no_certificate_paper_after_a_later_failure(book, tmp_path):
    check(book, "leak", feature="upper or lower", value=3)
    with pytest.raises(LedgerError) as refused:
        printed(book, PaperKind.CERTIFICATE, "007", tmp_path)
    german = refused.value.told(Reader("de"))
    assert german == (
        "Instrument 007: ist nicht mehr freigegeben, also lässt sich nichts bescheinigen: die "
        "Prüfung „check-8“ (Dichtheit, upper or lower) fiel danach durch. Erledigen, worauf es "
        "wartet, und es neu freigeben."
    )
    assert list(tmp_path.glob("certificate*")) == []


def test_papers_of_the_workshop_follow_the_setting_then_the_reader(book, tmp_path):
    assert "Laufzettel" in printed(book, PaperKind.TRAVELLER, "007", tmp_path, "de")
    book.add("setting", {"code": "language", "value": "en-GB"}, who="Ada")
    made = write_ledger_paper(
        book, PaperKind.TRAVELLER, "007", tmp_path, who="Ada", words=Reader("de")
    )
    assert "Job traveller 007" in made.html.read_text(encoding="utf-8")
    book.correct("setting", "language", {"value": "fr"}, who="Ada", reason="try")
    with pytest.raises(LedgerError, match="no papers in the language 'fr'"):
        printed(book, PaperKind.TRAVELLER, "007", tmp_path)
