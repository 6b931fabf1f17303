"""The ledger at the command line in German: answers and refusals, JSON stays English."""

from __future__ import annotations

import json

import pytest
from typer.testing import CliRunner
from workshop import check, fill, make

from borewright.cli import app
from borewright.ledger import Ledger, issue_certificate, sign_off


@pytest.fixture
def german(started_file, tmp_path):
    path = tmp_path / "workshop.ledger"
    path.write_bytes(started_file.read_bytes())
    book = fill(Ledger(path))
    make(book)
    sign_off(book, "007", who="Ada")
    issue_certificate(book, "007", who="Ada")
    check(book, "leak", feature="upper or lower", value=3)

    def run(*words: str) -> str:
        done = CliRunner().invoke(app, ["ledger", *words, "--ledger", str(path)],
                                  env={"BOREWRIGHT_LANGUAGE": "de"})  # fmt: skip
        return done.stdout + done.stderr

    return run


def test_an_instrument_with_its_void_certificate(german):
    told = german("show", "instrument", "007")
    assert "wartet auf nacharbeiten und neu prüfen: Dichtheit, upper or lower" in told
    assert "UNGÜLTIG, die Prüfung „check-8“ (Dichtheit, upper or lower) fiel danach durch" in told
    data = json.loads(german("show", "instrument", "007", "--json"))
    assert data["waiting_for"][0] == "repair and check again: leak, upper or lower"
    assert "failed afterwards" in data["certificates"][0]["void"]


def test_what_is_refused(german, tmp_path):
    refused = german("print", "certificate", "007", "--output", str(tmp_path / "papers"))
    assert "lässt sich nichts bescheinigen" in refused
    assert not (tmp_path / "papers").exists()
    assert "Instrument „8“ gibt es nicht" in german("show", "instrument", "8")
    assert "Eines schreiben von: bore, cork fit" in german("check", "007", "bell", "value=3")


def test_a_part_exchanged_since_undoes_certificate_and_sign_off(german, tmp_path):
    german("check", "007", "leak", "feature=upper or lower", "value=20")
    german("sign-off", "007")
    german("print", "certificate", "007", "--output", str(tmp_path / "first"))
    german("correct", "part", "bell", "outcome=rejected", "--reason", "cracked")
    german("add", "part", "code=bell-2", "name=bell", "design=D", "instrument=007", "outcome=good")
    told = german("show", "instrument", "007")
    assert "UNGÜLTIG, bell „bell“ wurde danach ausgebaut" in told
    assert "wartet auf Freigabe" in told
    refused = german("print", "certificate", "007", "--output", str(tmp_path / "papers"))
    assert "ist nicht mehr freigegeben" in refused
    german("sign-off", "007")
    german("print", "certificate", "007", "--output", str(tmp_path / "papers"))
    assert list((tmp_path / "papers").iterdir())
